"""The strip's air forces, entry by entry, by three routes; and the limits that anybody can work out."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import fields, replace

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import quad

from hingeline.errors import InputRefused
from hingeline.flutter import strip_air
from hingeline.flutter.pressure_series import strip_forces_by_series
from hingeline.flutter.strip_air import HingeConstants, hinge_constants, strip_forces, whole_chord_forces
from tests.hingeline.flutter.air_by_pressure import differences, forces, integrated_pressures, worst

PAIRS = [(-0.4, 0.6), (0.2, 0.1), (-0.5, 0.5), (0.0, -0.3), (-0.3, -0.8), (0.1, 0.85)]
CONSTANTS = [field.name for field in fields(HingeConstants)]


@pytest.mark.parametrize(("a", "c"), PAIRS)
def test_every_entry_by_the_pressure_series(a: float, c: float) -> None:
    """Each entry of each matrix is that of the pressure series, which knows no T constant, to ten digits."""
    found = differences(strip_forces(0.7, a, c, 1.1), strip_forces_by_series(0.7, a, [c], 1.1, terms=200_000))

    stiffness = found.pop("air_stiffness")  # its terms fall as 1/n³ only
    assert stiffness < 1e-9
    assert max(found.values()) < 1e-12


@pytest.mark.parametrize(("a", "c"), PAIRS)
@pytest.mark.parametrize("root", [0.05j, 0.5j, 2j, 0.3 + 0.4j, -0.1 + 0.6j])
def test_every_entry_by_integrated_pressures(a: float, c: float, root: complex) -> None:
    """Pressures summed along the chord and integrated point by point give the same forces to 2e-5, moving as they may.

    The tolerance is what 1,200 terms and 4,000 points leave at the leading edge and the kink.
    """
    b, density, speed = 0.5, 1.2, 3.0
    p = root * speed / b
    ours = forces(strip_forces(b, a, c, density), p, speed)
    theirs = integrated_pressures(b, a, [c], density, p, speed)
    scale = np.sqrt(np.outer(np.abs(np.diag(ours)), np.abs(np.diag(ours))))

    assert np.max(np.abs(ours - theirs) / np.maximum(scale, np.abs(ours).max() / 50)) < 2e-5


def mutated(name: str) -> Callable[[float], HingeConstants]:
    """Give T constants of which one has the other sign."""

    def constants(hinge: float) -> HingeConstants:
        right = hinge_constants(hinge)
        return replace(right, **{name: -getattr(right, name)})

    return constants


@pytest.mark.parametrize("name", CONSTANTS)
@pytest.mark.parametrize(("a", "c"), PAIRS)
def test_a_wrong_sign_of_any_constant_is_caught(name: str, a: float, c: float, monkeypatch: pytest.MonkeyPatch) -> None:
    """The comparison of matrices sees a wrong sign in each T constant, which flutter speeds often hide below 0.1 %."""
    right = strip_forces_by_series(0.7, a, [c], 1.1, terms=20_000)
    assert worst(strip_forces(0.7, a, c, 1.1), right) < 1e-6

    monkeypatch.setattr(strip_air, "hinge_constants", mutated(name))
    assert worst(strip_forces(0.7, a, c, 1.1), right) > 1e-3


@pytest.mark.parametrize("name", CONSTANTS)
def test_one_per_cent_of_any_constant_is_caught(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """The comparison of matrices sees one per cent in each T constant."""
    right = strip_forces_by_series(0.7, -0.4, [0.5], 1.1)
    exact = hinge_constants(0.5)
    monkeypatch.setattr(strip_air, "hinge_constants", lambda _: replace(exact, **{name: 1.01 * getattr(exact, name)}))

    assert worst(strip_forces(0.7, -0.4, 0.5, 1.1), right) > 1e-5


def nine(a: float, c: float) -> float:
    """Give T9, from memory of NACA Report 496: half of (1-c²)^(3/2)/3 + a T4."""
    return ((1 - c * c) ** 1.5 / 3 + a * float(hinge_constants(c).t4)) / 2


@pytest.mark.parametrize(
    ("mistake", "row", "column", "off"),
    [
        ("T9 with the other sign", 2, 1, lambda a, c: 4 * nine(a, c)),
        ("T9 without its axis", 2, 1, lambda a, c: a * float(hinge_constants(c).t4)),
        ("T11 with the other sign", 1, 2, lambda a, c: -float(hinge_constants(c).t11)),
        ("c - a left out before T4", 1, 2, lambda a, c: (c - a) * float(hinge_constants(c).t4)),
        ("a + 1/2 for 1/2 - a", 1, 1, lambda a, c: 2 * a * math.pi),
    ],
)
def test_mistakes_in_the_damping_are_caught(mistake: str, row: int, column: int, off: Callable[..., float]) -> None:
    """A mistake made while a row of Bn is copied out shows in the comparison of matrices."""
    right = strip_forces_by_series(1.0, -0.4, [0.5], 1.0)
    air = strip_forces(1.0, -0.4, 0.5, 1.0)
    assert worst(air, right) < 1e-6

    air.air_damping[row, column] += off(-0.4, 0.5)
    assert worst(air, right) > 1e-3, mistake


@pytest.mark.parametrize("matrix", ["apparent_mass", "air_damping", "air_stiffness"])
def test_a_matrix_left_out_is_caught(matrix: str) -> None:
    """Apparent mass dropped, or any other part that is not delayed, shows at once."""
    air = strip_forces(1.0, -0.4, 0.5, 1.0)
    left_out = replace(air, **{matrix: np.zeros((3, 3))})

    assert differences(left_out, air)[matrix] > 0.1


def test_steady_lift_slope() -> None:
    """A steady angle lifts 2 π per radian at quarter chord: L = 2 π ρ b U² α, no moment about X = -1/2."""
    air = strip_forces(0.4, -0.5, 0.5, 1.225)
    steady = air.air_stiffness + air.delayed_stiffness

    assert steady[0, 1] == pytest.approx(2 * math.pi * 1.225 * 0.4)
    assert steady[1, 1] == pytest.approx(0.0, abs=1e-15)


def test_steady_moment_about_any_axis() -> None:
    """Nose-up moment of the steady lift about X = a is L b (1/2 + a), on the left with a minus."""
    air = strip_forces(0.4, -0.1, 0.5, 1.225)
    steady = air.air_stiffness + air.delayed_stiffness

    assert steady[1, 1] == pytest.approx(-2 * math.pi * 1.225 * 0.4 * 0.4 * (0.5 - 0.1))


def test_steady_plunge_is_an_angle() -> None:
    """Plunging steadily downward at h' is the angle h'/U: with C = 1 the same lift and moments."""
    air = strip_forces(0.4, -0.1, 0.5, 1.225)

    assert (air.air_damping + air.delayed_damping)[:, 0] == pytest.approx(
        (air.air_stiffness + air.delayed_stiffness)[:, 1]
    )


@pytest.mark.parametrize("c", [-0.6, 0.0, 0.5, 0.9])
def test_flap_effectiveness(c: float) -> None:
    """A steady flap lifts T10/π = (t + sin t)/π as much as the whole chord (thin-aerofoil theory, Glauert)."""
    air = strip_forces(0.4, -0.1, c, 1.225)
    steady = air.air_stiffness + air.delayed_stiffness
    t = math.acos(c)

    assert steady[0, 2] / steady[0, 1] == pytest.approx((t + math.sin(t)) / math.pi)


@pytest.mark.parametrize("c", [-0.6, 0.0, 0.5, 0.9])
def test_flap_moment_at_quarter_chord(c: float) -> None:
    """A steady flap makes c_m = -(1/2) sin t (1 + cos t) a radian at quarter chord (thin-aerofoil theory, Glauert)."""
    air = strip_forces(0.4, -0.5, c, 1.225)
    steady = air.air_stiffness + air.delayed_stiffness
    t = math.acos(c)
    moment = -steady[1, 2] / (0.5 * 1.225 * 0.8**2)

    assert moment == pytest.approx(-0.5 * math.sin(t) * (1 + c))


def test_apparent_mass() -> None:
    """The air carried in plunge is a cylinder on the chord, π ρ b², centred at mid-chord."""
    air = strip_forces(0.4, -0.3, 0.5, 1.225)
    cylinder = math.pi * 1.225 * 0.4**2

    assert air.apparent_mass[0, 0] == pytest.approx(cylinder)
    assert air.apparent_mass[0, 1] == pytest.approx(cylinder * 0.3 * 0.4)
    assert air.apparent_mass[1, 1] - cylinder * (0.3 * 0.4) ** 2 == pytest.approx(cylinder * 0.4**2 / 8)


@pytest.mark.parametrize(("a", "c"), PAIRS)
def test_apparent_mass_is_a_mass(a: float, c: float) -> None:
    """The apparent mass is symmetric and no motion carries a negative one."""
    mass = strip_forces(1.0, a, c, 1.0).apparent_mass

    assert mass == pytest.approx(mass.T)
    assert np.linalg.eigvalsh(mass).min() > 0


@pytest.mark.parametrize("a", [-0.5, 0.0, 0.4])
def test_a_flap_of_the_whole_chord_is_pitch(a: float) -> None:
    """With its hinge at the leading edge the control is the whole plate: column β turns into pitch about X = -1."""
    c = -1 + 1e-9
    air = strip_forces(1.0, a, c, 1.0)
    pitch_about_hinge = np.array([-(c - a), 1.0, 0.0])  # h of the axis for a unit turn about the hinge

    for name in ("apparent_mass", "air_damping", "air_stiffness"):
        matrix = getattr(air, name)
        assert matrix[:2, 2] == pytest.approx((matrix @ pitch_about_hinge)[:2], abs=1e-4)
    assert air.downwash_of_rates[2] == pytest.approx(air.downwash_of_rates @ pitch_about_hinge, abs=1e-4)
    assert air.circulation_force[2] == pytest.approx(air.circulation_force @ pitch_about_hinge, abs=1e-4)


def test_a_vanishing_flap_feels_nothing() -> None:
    """With its hinge at the trailing edge the control has no force."""
    air = strip_forces(1.0, 0.0, 1 - 1e-12, 1.0)

    for name in ("apparent_mass", "air_damping", "air_stiffness"):
        assert np.abs(getattr(air, name)[2]).max() < 1e-11
        assert np.abs(getattr(air, name)[:, 2]).max() < 1e-5


def lever(c: float) -> Callable[[float], float]:
    """Give (X - c) √((1-X)/(1+X)): arm times the circulation's pressure."""
    return lambda x: (x - c) * math.sqrt((1 - x) / (1 + x))


@pytest.mark.parametrize("c", [-0.7, 0.0, 0.3, 0.8])
def test_constants_one_by_one(c: float) -> None:
    """T1, T4, T10, T11 and T12 are the integrals over the flap that they stand for.

    T4 = -2 ∫ √(1-X²), T1 = -2 ∫ (X-c) √(1-X²), T12 = 2 ∫ (X-c) √((1-X)/(1+X)), π downwash of a unit angle
    at three-quarter chord T10 = ∫ √((1+X)/(1-X)), and T11 = 2 ∫ (X-c) √((1+X)/(1-X)), from c to 1.
    """
    t = hinge_constants(c)

    def over(function: Callable[[float], float]) -> float:
        return float(quad(lambda angle: function(math.cos(angle)) * math.sin(angle), 0, math.acos(c), epsabs=1e-13)[0])

    assert t.t4 == pytest.approx(-2 * over(lambda x: math.sqrt(1 - x * x)), abs=1e-9)
    assert t.t1 == pytest.approx(-2 * over(lambda x: (x - c) * math.sqrt(1 - x * x)), abs=1e-9)
    assert t.t12 == pytest.approx(2 * over(lever(c)), abs=1e-9)
    assert t.t10 == pytest.approx(over(lambda x: (1 + x) / math.sqrt(1 - x * x)), abs=1e-9)
    assert t.t11 == pytest.approx(2 * over(lambda x: (x - c) * (1 + x) / math.sqrt(1 - x * x)), abs=1e-9)


@pytest.mark.parametrize("c", [-0.7, 0.0, 0.3, 0.8])
def test_relations_among_the_constants(c: float) -> None:
    """Four sums in which most terms cancel come out as algebra says, to the last digits."""
    t, turn, s = hinge_constants(c), math.acos(c), math.sqrt(1 - c * c)

    assert t.t1 - t.t8 == pytest.approx(-(s**3) / 3, rel=1e-13)
    assert t.t11 - t.t12 == pytest.approx(-2 * t.t4, rel=1e-13)
    assert t.t11 + t.t12 == pytest.approx(4 * (s - c * turn), rel=1e-13)
    assert t.t4 + t.t10 == pytest.approx(s * (1 + c), rel=1e-13)


@settings(deadline=None, max_examples=60)
@given(
    st.floats(0.05, 3),
    st.floats(-0.9, 0.9),
    st.floats(-0.95, 0.95),
    st.floats(0.1, 1.5),
)
def test_anywhere(b: float, a: float, c: float, density: float) -> None:
    """For any strip the two routes agree to what 2,000 terms of the series give."""
    assert worst(strip_forces(b, a, c, density), strip_forces_by_series(b, a, [c], density)) < 1e-4


@settings(deadline=None)
@given(st.floats(0.05, 3), st.floats(-0.9, 0.9), st.floats(-0.9, 0.9), st.floats(-0.9, 0.9))
def test_moving_the_axis_moves_no_air(b: float, a: float, other: float, c: float) -> None:
    """The same strip about another axis is the same air: Tᵀ A T with h' = h + b (a' - a) α, control unchanged."""
    shift = np.eye(3)
    shift[0, 1] = -b * (other - a)
    moved = strip_forces(b, a, c, 1.0).in_freedoms(shift)

    assert worst(moved, strip_forces(b, other, c, 1.0)) < 1e-11


def test_width() -> None:
    """A strip of a width feels that width's force, and half of the downwash is not forgotten."""
    air = strip_forces(0.5, -0.2, 0.4, 1.2)
    wide = air.in_freedoms(np.eye(3), 0.25)

    assert forces(wide, 2j, 3.0) == pytest.approx(0.25 * forces(air, 2j, 3.0))


def test_units() -> None:
    """Twice the chord at the same reduced root: forces for plunge grow as ρ U², moments by one b more each."""
    small, large = strip_forces(0.5, -0.2, 0.4, 1.2), strip_forces(1.0, -0.2, 0.4, 1.2)
    lengths = np.array([1.0, 2.0, 2.0])

    assert forces(large, 1j, 4.0) == pytest.approx(forces(small, 2j, 4.0) * np.outer(lengths, lengths))


def test_stacks() -> None:
    """Arrays of strips give the matrices of each, one for each index."""
    b, c = np.array([0.3, 0.5, 0.8]), np.array([0.2, 0.5, 0.7])
    stack = strip_forces(b, -0.3, c, 1.2)

    for i in range(3):
        one = strip_forces(float(b[i]), -0.3, float(c[i]), 1.2)
        for name in ("apparent_mass", "air_damping", "air_stiffness", "delayed_damping", "delayed_stiffness"):
            assert getattr(stack, name)[i] == pytest.approx(getattr(one, name), rel=1e-14)


def test_whole_chord() -> None:
    """A strip without a control has the forces of plunge and pitch, wherever a hinge might have been."""
    plain, hinged = whole_chord_forces(0.4, -0.2, 1.2), strip_forces(0.4, -0.2, 0.7, 1.2)

    assert forces(plain, 0.3 + 2j, 5.0) == pytest.approx(forces(hinged, 0.3 + 2j, 5.0)[:2, :2])


@pytest.mark.parametrize("hinge", [1.0, -1.0, 1.7, float("nan")])
def test_hinge_off_the_chord(hinge: float) -> None:
    """A hinge line that is not on the chord is refused."""
    with pytest.raises(InputRefused, match=r"hinge_line: .* between -1 and 1 semichord aft of mid-chord"):
        strip_forces(0.5, 0.0, hinge, 1.2)


@pytest.mark.parametrize(
    ("semichord", "density", "field"), [(0.0, 1.2, "semichord"), (-1, 1.2, "semichord"), (1.0, math.inf, "density")]
)
def test_no_chord_no_air(semichord: float, density: float, field: str) -> None:
    """Without chord or air there is no force to speak of, and the field is named."""
    with pytest.raises(InputRefused, match=rf"{field}: .* is refused. Expected a finite number above zero"):
        strip_forces(semichord, 0.0, 0.5, density)
