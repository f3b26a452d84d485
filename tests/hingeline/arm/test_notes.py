"""What stands beside an arm's numbers stands there where it is true."""

from __future__ import annotations

import pytest

from hingeline.arm import ArmTask, ArmWeight, Bolts, Material, Root, Tube, examine

BOLTS = Bolts(spacing=0.04, diameter=4.763e-3, shear_strength=517e6, bearing_strength=1000e6)
STATED = Bolts(spacing=0.04, diameter=4.763e-3, shear_strength=517e6, bearing_strength=1000e6, fitting_factor=1.25)


@pytest.mark.parametrize(("bolts", "told"), [(None, False), (BOLTS, True), (STATED, False)])
def test_the_fitting_factor_from_memory_is_named_where_it_was_taken(bolts: Bolts | None, told: bool) -> None:
    """1.15 is from memory; another factor is the user's own."""
    steel, tube = Material(200e9, 7833.0, 517.1e6, 655e6), Tube(19.05e-3, 0.889e-3)
    notes = examine(ArmTask(steel, Root(0.260), ArmWeight(1.4), tube, bolts=bolts)).notes
    assert ("From memory: the fitting factor of 1.15 (14 CFR 23.625)." in notes) is told
