"""The air forces of control and tab together, and the pressure series that stands behind them."""

from __future__ import annotations

import math

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline.errors import InputRefused
from hingeline.flutter.pressure_series import (
    flap_camber,
    pitch_camber,
    plunge_camber,
    series_forces,
    strip_forces_by_series,
)
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.tab_air import cross_forces, strip_forces_with_tab
from tests.hingeline.flutter.air_by_pressure import MATRICES, differences, forces, integrated_pressures, worst

PLACES = [(-0.4, 0.4, 0.8), (-0.5, 0.2, 0.6), (-0.3, 0.3, 0.75), (0.1, -0.9, 0.95), (0.0, 0.3, 0.3001)]


@pytest.mark.parametrize(("a", "c", "d"), PLACES)
def test_every_entry_by_the_pressure_series(a: float, c: float, d: float) -> None:
    """Each of the sixteen entries of each matrix is that of the pressure series, which knows no potential."""
    found = differences(
        strip_forces_with_tab(0.7, a, c, d, 1.1), strip_forces_by_series(0.7, a, [c, d], 1.1, terms=200_000)
    )

    stiffness = found.pop("air_stiffness")  # its terms fall as 1/n³ only
    assert stiffness < 2e-8
    assert max(found.values()) < 1e-12


@pytest.mark.parametrize(("a", "c", "d"), PLACES[:3])
@pytest.mark.parametrize("root", [0.1j, 1.5j, 0.2 + 0.4j])
def test_every_entry_by_integrated_pressures(a: float, c: float, d: float, root: complex) -> None:
    """Pressures integrated point by point over the drawn shapes give the same forces to 2e-5 of the larger ones."""
    b, density, speed = 0.5, 1.2, 3.0
    p = root * speed / b
    ours = forces(strip_forces_with_tab(b, a, c, d, density), p, speed)
    theirs = integrated_pressures(b, a, [c, d], density, p, speed)
    row = np.abs(ours).max(axis=1, keepdims=True)

    assert np.max(np.abs(ours - theirs) / np.maximum(row, np.abs(ours).max() / 100)) < 2e-5


@pytest.mark.parametrize("c", [-0.95, -0.3, 0.0, 0.6, 0.9])
def test_one_flap_on_itself(c: float) -> None:
    """The integrals that make the cross terms give, for one flap on itself, T3, T4, T5, T10 and T11 of report 496."""
    strip, own = strip_forces(1.0, 0.0, c, 1.0), cross_forces(c, c)

    assert own.mass == pytest.approx(strip.apparent_mass[2, 2], rel=1e-12, abs=1e-16)
    assert own.damping == pytest.approx(strip.air_damping[2, 2], rel=1e-12, abs=1e-16)
    assert own.stiffness == pytest.approx(strip.air_stiffness[2, 2], rel=1e-12, abs=1e-16)


def test_the_trap_of_the_wake_without_c() -> None:
    """Of Kn(β, δ) at (0.4, 0.8) the wake's part without C is 0.3138 of 0.2107: left out, the sign turns."""
    t, c = math.acos(0.4), 0.4
    wake = 2 * (t / 2 + math.sin(2 * t) / 4 - c * math.sin(t)) * (math.acos(0.8) + 0.6) / math.pi
    whole = cross_forces(0.4, 0.8).stiffness

    assert whole == pytest.approx(0.2107, abs=5e-5)
    assert wake == pytest.approx(0.3138, abs=5e-5)
    assert whole - wake < 0


@pytest.mark.parametrize("matrix", ["air_damping", "air_stiffness"])
@pytest.mark.parametrize(("row", "column"), [(2, 3), (3, 2)])
def test_a_cross_term_left_out_is_caught(matrix: str, row: int, column: int) -> None:
    """The comparison of matrices sees a missing force between control and tab."""
    air = strip_forces_with_tab(1.0, -0.4, 0.4, 0.8, 1.0)
    right = strip_forces_by_series(1.0, -0.4, [0.4, 0.8], 1.0)
    assert worst(air, right) < 1e-4

    getattr(air, matrix)[row, column] = 0.0
    assert worst(air, right) > 3e-3


@settings(deadline=None, max_examples=60)
@given(st.floats(0.1, 2), st.floats(-0.9, 0.9), st.floats(-0.9, 0.8), st.floats(0.02, 0.9))
def test_anywhere(b: float, a: float, c: float, part: float) -> None:
    """Wherever the hinges lie, the apparent mass is symmetric and positive and the rest is the series'."""
    d = c + part * (0.95 - c)
    air = strip_forces_with_tab(b, a, c, d, 1.2)

    assert air.apparent_mass == pytest.approx(air.apparent_mass.T, rel=1e-11)
    assert np.linalg.eigvalsh(air.apparent_mass).min() > 0
    assert worst(air, strip_forces_by_series(b, a, [c, d], 1.2, terms=20_000)) < 1e-5


def test_a_tab_of_the_whole_control_is_the_control() -> None:
    """With its hinge at the control's, the tab's column is the control's."""
    air = strip_forces_with_tab(1.0, -0.4, 0.4, 0.4 + 1e-10, 1.0)

    for name in MATRICES:
        assert getattr(air, name)[:, 3] == pytest.approx(getattr(air, name)[:, 2], abs=1e-8)


def test_a_geared_tab_that_follows_makes_one_flap() -> None:
    """A control with a tab that turns back by its own angle is a bent plate: the aft part stays parallel to the strip.

    Its camber is the flap's at c less the flap's at d, and the forces are those of that camber.
    """
    back = np.array([[1, 0, 0], [0, 1, 0], [0, 0, 1], [0, 0, -1.0]])
    air = strip_forces_with_tab(0.6, -0.2, 0.3, 0.7, 1.1).in_freedoms(back)
    at_c, at_d = flap_camber(0.6, 0.3, 20_000), flap_camber(0.6, 0.7, 20_000)
    bent = type(at_c)(at_c.displacement - at_d.displacement, at_c.slope - at_d.slope)
    shapes = [plunge_camber(20_000), pitch_camber(0.6, -0.2, 20_000), bent]

    assert worst(air, series_forces(0.6, 1.1, shapes)) < 1e-8


@pytest.mark.parametrize("c", [-0.4, 0.5])
def test_the_flap_is_drawn_by_its_series(c: float) -> None:
    """The cosine series of a flap adds up to straight lines with a kink at the hinge, and its slope to a step."""
    camber, terms = flap_camber(0.8, c, 20_000), np.arange(20_002)
    for x in (-0.9, -0.1, 0.3, 0.95):
        waves = np.cos(terms * math.acos(x)) * np.where(terms == 0, 1, 2)
        assert waves @ camber.displacement == pytest.approx(max(0.0, 0.8 * (x - c)), abs=1e-7)
        assert waves @ camber.slope == pytest.approx(float(x > c), abs=1e-3)


def test_a_rigid_plate_needs_two_terms() -> None:
    """Plunge and pitch have series of two terms: no more changes nothing."""
    few = series_forces(0.5, 1.2, [plunge_camber(3), pitch_camber(0.5, -0.2, 3)])
    many = series_forces(0.5, 1.2, [plunge_camber(300), pitch_camber(0.5, -0.2, 300)])

    for name in MATRICES:
        assert getattr(few, name) == pytest.approx(getattr(many, name), rel=1e-14)


def test_how_fast_the_series_closes_in() -> None:
    """Ten times the terms bring the stiffness of a flap a hundred times closer, as terms of 1/n³ must."""
    exact = strip_forces(1.0, 0.0, 0.5, 1.0).air_stiffness[2, 2]
    off = [abs(strip_forces_by_series(1.0, 0.0, [0.5], 1.0, n).air_stiffness[2, 2] - exact) for n in (300, 3000)]

    assert 50 < off[0] / off[1] < 200


@pytest.mark.parametrize("tab", [0.4, 0.2, float("nan")])
def test_a_tab_ahead_of_the_control_is_refused(tab: float) -> None:
    """The tab lies on the control: its hinge is aft of the control's."""
    with pytest.raises(InputRefused, match=r"tab_hinge_line: .* a place aft of the hinge line at 0.4"):
        strip_forces_with_tab(1.0, 0.0, 0.4, tab, 1.0)


def test_a_tab_off_the_chord_is_refused() -> None:
    """A tab's hinge beyond the trailing edge is refused under the tab's own name."""
    with pytest.raises(InputRefused, match=r'tab_hinge_line: "1.2" is refused'):
        strip_forces_with_tab(1.0, 0.0, 0.4, 1.2, 1.0)
