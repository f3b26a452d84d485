"""An arm that cannot be is refused, with field, expectation and remedy; several faults at once."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

from hingeline.arm import (
    ArmTask,
    ArmWeight,
    Bar,
    Bolts,
    Crack,
    CyclicLoad,
    Detection,
    LoadFactors,
    Loss,
    Material,
    Oscillation,
    Root,
    StressLife,
    Tube,
    WallLimit,
    examine,
    gap_under_load,
    swept_by,
)
from hingeline.arm.crack_geometry import through_crack_factor
from hingeline.arm.detection import chance_to_find
from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated

STEEL = Material(200e9, 7833.0, 517.1e6, 655e6)
TUBE = Tube(19.05e-3, 0.889e-3)
ARM = ArmTask(STEEL, Root(0.260), ArmWeight(1.4), TUBE)
CONSTANT = Crack("constant", 60e6, 75e6, 6.9e-12, 3.0, 40.0, geometry_factor=1.12, initial=1e-3)
THROUGH = Crack("tube through", 60e6, 75e6, 6.9e-12, 3.0, 40.0, half_angle=0.1)
SURFACE = Crack("surface", 60e6, 75e6, 6.9e-12, 3.0, 40.0, depth=0.3e-3, half_length=0.5e-3)
BOLTS = Bolts(0.04, 4.763e-3, 517e6, 1000e6)
LIFE = StressLife(1758e6, -0.0977, (CyclicLoad(320e6, 1.0),))
BAR = ArmTask(STEEL, Root(0.150), ArmWeight(0.9), bar=Bar(0.02, 0.014))
NAN, INFINITY = math.nan, math.inf


def crack(of: Crack, **changes: Any) -> ArmTask:
    """Give the arm with a crack that is changed."""
    return replace(ARM, crack=replace(of, **changes))


# what is refused: the task, the field, and words of expectation or remedy
CASES: dict[str, tuple[ArmTask, str, str]] = {
    "a life beyond all numbers": (
        replace(ARM, stress_life=StressLife(1758e6, -0.015, (CyclicLoad(1e3, 1.0),))),
        "stress_life.load[0].amplitude",
        "can be counted",
    ),
    "neither tube nor bar": (replace(ARM, tube=None), "tube", "either a tube or a bar"),
    "both": (replace(ARM, bar=Bar(0.02, 0.02)), "tube", "Give one of"),
    "no gravity": (replace(ARM, local_gravity=0.0), "local_gravity", "above 0"),
    "a coverage of percent": (replace(ARM, coverage=95.0), "coverage", "95 % is 0.95"),
    "a k of nothing": (replace(ARM, k=0.0), "k", "2 is usual"),
    "a negative modulus": (replace(ARM, material=replace(STEEL, modulus=-2e11)), "tube.modulus", "from 1e+08"),
    "a modulus that is none": (replace(ARM, material=replace(STEEL, modulus=NAN)), "tube.modulus", "from 1e+08"),
    "a density of lead bars": (replace(ARM, material=replace(STEEL, density=7.8e6)), "tube.density", "up to"),
    "yield above ultimate": (replace(ARM, material=replace(STEEL, yield_strength=7e8)), "tube.yield", "swapped"),
    "an ultimate of nothing": (replace(ARM, material=replace(STEEL, ultimate_strength=0.0)), "tube.ultimate", "1e+06"),
    "a yield in megapascals": (replace(ARM, material=replace(STEEL, yield_strength=435.0)), "tube.yield", "1e+06"),
    "a flow above ultimate": (replace(ARM, material=replace(STEEL, flow_stress=9e8)), "tube.flow_stress", "ultimate"),
    "no length": (replace(ARM, root=Root(0.0)), "tube.length", "from 1 mm to 10 m"),
    "a length of a millionth of a millimetre": (replace(ARM, root=Root(1e-9)), "tube.length", "from 1 mm to 10 m"),
    "an arm of infinity": (replace(ARM, root=Root(INFINITY)), "tube.length", "from 1 mm"),
    "a root softer than nothing": (replace(ARM, root=Root(0.26, stiffness=-1.0)), "tube.root_stiffness", "above 0"),
    "a hinge behind the root": (replace(ARM, root=Root(0.26, hinge_to_root=-0.01)), "tube.hinge_to_root", "from 0"),
    "a weight of nothing": (replace(ARM, weight=ArmWeight(0.0)), "weight.mass", "above 0"),
    "a weight beyond its arm": (replace(ARM, weight=ArmWeight(1.4, beyond_tip=0.3)), "weight.beyond_tip", "less than"),
    "a tip behind": (replace(ARM, weight=ArmWeight(1.4, beyond_tip=-0.01)), "weight.beyond_tip", "from 0"),
    "a wall of the radius": (replace(ARM, tube=Tube(0.019, 0.0095)), "tube.wall", "less than half"),
    "a wall of nothing": (replace(ARM, tube=Tube(0.019, 0.0)), "tube.wall", "from 0.01 mm"),
    "a wall of nine micrometres": (replace(ARM, tube=Tube(0.019, 9e-6)), "tube.wall", "from 0.01 mm to 1 m"),
    "a tube as thin as a thread": (
        replace(ARM, tube=Tube(0.9e-3, 0.2e-3)), "tube.outside_diameter", "from 1 mm to 1 m"
    ),
    "a bar as thin as foil": (replace(BAR, bar=Bar(0.02, 0.9e-3)), "bar.height", "from 1 mm to 1 m"),
    "bolts side by side": (replace(ARM, bolts=replace(BOLTS, spacing=0.9e-3)), "bolts.spacing", "from 1 mm to 10 m"),
    "a diameter in millimetres": (replace(ARM, tube=Tube(19.05, 0.889e-3)), "tube.outside_diameter", "to 1 m"),
    "a hole as wide as the tube": (replace(ARM, tube=replace(TUBE, hole=0.018)), "tube.hole", "inside diameter"),
    "a hole beside a local loss": (
        replace(ARM, tube=replace(TUBE, hole=0.004), loss=Loss("local", 1e-4, half_angle=0.3)), "tube.hole", "outside"),
    "a wall surer than nothing": (
        replace(ARM, tube=replace(TUBE, wall_uncertainty=Stated(-1e-5, "m"))), "tube.wall", "0 or more"),
    "a wall as unsure as it is thick": (
        replace(ARM, tube=replace(TUBE, wall_uncertainty=Stated(0.889e-3, "m", "standard"))), "tube.wall", "a third"),
    "a wall's uncertainty in kilograms": (
        replace(ARM, tube=replace(TUBE, wall_uncertainty=Stated(1e-5, "kg"))), "tube.wall", "in m"),
    "degrees of freedom below one": (
        replace(ARM, tube=replace(TUBE, wall_uncertainty=Stated(1e-5, "m", "standard", None, 0.0))),
        "tube.wall.degrees_of_freedom", "1 or more"),
    "a loss of the whole wall": (replace(ARM, loss=Loss("outside", 0.889e-3)), "loss.depth", "less than the wall"),
    "a loss below nothing": (replace(ARM, loss=Loss("inside", -1e-4)), "loss.depth", "above 0"),
    "a local loss without extent": (replace(ARM, loss=Loss("local", 1e-4)), "loss.half_angle", "it is the worse"),
    "an extent all round": (replace(ARM, loss=Loss("outside", 1e-4, half_angle=0.3)), "loss.half_angle", "nothing"),
    "an extent of more than all": (
        replace(ARM, loss=Loss("local", 1e-4, half_angle=2.7)), "loss.half_angle", "up to 150 deg"),
    "a limit above the wall": (replace(ARM, wall_limit=WallLimit(1e-3)), "limit.wall", "at most the wall"),
    "a limit of a bar's wall": (replace(BAR, wall_limit=WallLimit(1e-3)), "limit.wall", "a bar"),
    "a bar lost inside": (replace(BAR, loss=Loss("inside", 1e-3)), "loss.where", "solid"),
    "a bar lost by an angle": (replace(BAR, loss=Loss("local", 1e-3, half_angle=0.3)), "loss.half_angle", "whole face"),
    "a bar lost as a whole": (replace(BAR, loss=Loss("outside", 8e-3)), "loss.depth", "less than"),
    "a bar of no width": (replace(BAR, bar=Bar(0.0, 0.014)), "bar.width", "from 1 mm"),
    "no load factor": (replace(ARM, loads=LoadFactors(normal=0.0)), "loads.normal", "above 0"),
    "a load factor against": (replace(ARM, loads=LoadFactors(along_hinge=-12.0)), "loads.along_hinge", "above 0"),
    "a standing oscillation": (replace(ARM, oscillation=Oscillation(0.0)), "oscillation.frequency", "above 0"),
    "damping in percent": (replace(ARM, oscillation=Oscillation(9.0, 2.0)), "oscillation.damping_ratio", "0 to 1"),
    "an amplitude in degrees": (replace(ARM, oscillation=Oscillation(9.0, 0.0, 4.0)), "oscillation.amplitude", "up to"),
    "a surface that does not swing": (replace(ARM, surface_frequencies=(8.0, 0.0)), "surface_frequencies[1]", "above"),
    "three bolts": (replace(ARM, bolts=replace(BOLTS, shear_planes=3)), "bolts.shear_planes", "1 or 2"),
    "a fitting factor below one": (
        replace(ARM, bolts=replace(BOLTS, fitting_factor=0.9)), "bolts.fitting_factor", "1.15"),
    "bolts on top of each other": (replace(ARM, bolts=replace(BOLTS, spacing=0.0)), "bolts.spacing", "from 1 mm"),
    "a bar's bolts": (replace(BAR, bolts=BOLTS), "bolts", "not worked out"),
    "a fatigue exponent above nothing": (
        replace(ARM, stress_life=replace(LIFE, exponent=0.1)), "stress_life.exponent", "about -0.1"),
    "a stress life without loads": (replace(ARM, stress_life=replace(LIFE, loads=())), "stress_life.load", "Add"),
    "a mean above ultimate": (
        replace(ARM, stress_life=replace(LIFE, loads=(CyclicLoad(1e8, 1.0, 7e8),))), "stress_life.load[0].mean",
        "ultimate"),
    "an amplitude beyond the strength": (
        replace(ARM, stress_life=replace(LIFE, loads=(CyclicLoad(2e9, 1.0),))), "stress_life.load[0].amplitude", "up"),
    "another geometry": (crack(CONSTANT, geometry="corner"), "crack.geometry", "one of constant"),
    "no factor": (crack(CONSTANT, geometry_factor=None), "crack.geometry_factor", "1.12"),
    "no start": (crack(CONSTANT, initial=None), "crack.initial", "method of detection"),
    "a start of nothing": (crack(CONSTANT, initial=0.0), "crack.initial", "above 0"),
    "a crack that shrinks": (crack(CONSTANT, final=0.5e-3), "crack.final", "does not shrink"),
    "an angle of a constant factor": (crack(CONSTANT, half_angle=0.1), "crack.half_angle", "nothing here"),
    "no angle": (crack(THROUGH, half_angle=None), "crack.half_angle", "10 deg"),
    "an angle beyond the model": (crack(THROUGH, half_angle=2.0), "crack.half_angle", "below 99"),
    "a through crack that shrinks": (crack(THROUGH, final=0.5e-3), "crack.final", "does not shrink"),
    "no depth": (crack(SURFACE, depth=None), "crack.depth", "0.5 mm"),
    "deeper than half its length": (crack(SURFACE, depth=0.6e-3), "crack.depth", "half length"),
    "through already": (crack(SURFACE, depth=0.9e-3, half_length=2e-3), "crack.depth", "tube through"),
    "a final size of a surface crack": (crack(SURFACE, final=5e-3), "crack.final", "nothing here"),
    "a tube too thick for the factor": (
        replace(crack(THROUGH), tube=Tube(0.012, 0.0015)), "crack.geometry", "5 to 20 walls"),
    "a bar's through crack": (replace(BAR, crack=THROUGH), "crack.geometry", "the arm is a bar"),
    "no stress range": (crack(CONSTANT, stress_range=0.0), "crack.stress_range", "above 0"),
    "a toughness in megapascals": (crack(CONSTANT, toughness=75e12), "crack.toughness", "up to"),
    "a growth constant of units": (crack(CONSTANT, growth_constant=1.0), "crack.growth_constant", "up to 0.001"),
    "a growth exponent of nothing": (crack(CONSTANT, growth_exponent=0.0), "crack.growth_exponent", "2 to 4"),
    "no cycles": (crack(CONSTANT, cycles_per_hour=0.0), "crack.cycles_per_hour", "above 0"),
    "a factor that lengthens": (crack(CONSTANT, factor=0.5), "crack.factor", "from 1"),
    "an interval of nothing": (crack(CONSTANT, approved_interval=0.0), "crack.approved_interval", "above 0"),
    "a scatter below nothing": (crack(CONSTANT, growth_log_deviation=-0.1), "crack.growth_log_deviation", "0.35"),
    "another method": (replace(ARM, detection=Detection("tapping")), "detection.method", "penetrant"),
    "half a curve": (replace(ARM, detection=Detection(half_found=1e-3)), "detection.spread", "together"),
    "a curve of no width": (
        replace(ARM, detection=Detection(half_found=1e-3, spread=0.0)), "detection.spread", "above 0"),
}  # fmt: skip


@pytest.mark.parametrize("name", CASES)
def test_refused_with_field_and_remedy(name: str) -> None:
    """The fault is named by its field in the file, and what is said helps; nothing is computed."""
    task, field, words = CASES[name]
    with pytest.raises(InputRefused) as caught:
        examine(task)
    faults = {refusal.field: refusal for refusal in caught.value.refusals}
    assert field in faults
    said = faults[field]
    assert words in f"{said.expected} {said.remedy}"
    assert said.remedy.endswith((".", "?"))


@pytest.mark.parametrize("task", [ARM, BAR, crack(CONSTANT), crack(THROUGH), crack(SURFACE)])
def test_the_arms_that_are_spoilt_are_good(task: ArmTask) -> None:
    """Without a fault each is worked out."""
    assert examine(task).basis == "estimate"


def test_every_fault_is_told_at_once() -> None:
    """A wall, a weight, a load factor and a crack that cannot be: four refusals."""
    spoilt = replace(
        crack(CONSTANT, initial=-1.0), tube=Tube(0.019, 0.02), weight=ArmWeight(0.0), loads=LoadFactors(normal=NAN)
    )
    with pytest.raises(InputRefused) as caught:
        examine(spoilt)
    fields = {refusal.field for refusal in caught.value.refusals}
    assert {"tube.wall", "weight.mass", "loads.normal", "crack.initial"} <= fields


@pytest.mark.parametrize(("samples", "seed"), [(0, 0), (99, 0), (2_000_000, 0), (1000, -1)])
def test_draws_that_cannot_be_are_refused(samples: int, seed: int) -> None:
    """Too few, too many, a negative seed."""
    with pytest.raises(InputRefused, match=r"samples|seed"):
        examine(crack(CONSTANT), samples=samples, seed=seed)


def test_the_factor_of_a_through_crack_is_refused_out_of_its_range() -> None:
    """Thicker or thinner than 5 to 20, or longer than ± 99 degrees: refused, and what to do instead."""
    for ring in ((4.0e-3, 1e-3), (21.0e-3, 1e-3)):
        with pytest.raises(InputRefused, match=r"5 to 20 walls"):
            through_crack_factor(*ring, 0.1)
    with pytest.raises(InputRefused, match=r"0 to 99 deg"):
        through_crack_factor(10e-3, 1e-3, 1.8)


def test_far_below_a_steep_curve_of_detection_the_chance_is_none() -> None:
    """Half a millimetre on a curve of 5 mm and a spread of 0.005: nothing, where exp would overflow."""
    assert chance_to_find(0.5e-3, 5e-3, 0.005) == 0.0
    assert chance_to_find(50e-3, 5e-3, 0.005) == 1.0


def test_a_crack_at_the_end_that_was_given_is_not_called_critical() -> None:
    """1 mm to 1 mm, critical at 7.6 mm: no growth is left, and nothing is said to be critical."""
    said = examine(crack(CONSTANT, final=1e-3)).cautions
    assert any("has the size given for the end already" in each for each in said)
    assert not any("critical already" in each for each in said)


@pytest.mark.parametrize(
    ("asked", "named"),
    [
        (lambda: gap_under_load(0.012, 1.4, 235.0, 0.0), "stiffness"),
        (lambda: gap_under_load(math.nan, 1.4, 235.0, 7e4), "gap"),
        (lambda: gap_under_load(0.012, math.inf, 235.0, 7e4), "mass"),
        (lambda: swept_by(0.26, math.inf), "angle"),
        (lambda: swept_by(math.nan, 0.4), "arm"),
    ],
)
def test_a_gap_of_numbers_that_no_arm_can_have_is_refused_by_name(asked: Callable[[], float], named: str) -> None:
    with pytest.raises(InputRefused, match=named):
        asked()
