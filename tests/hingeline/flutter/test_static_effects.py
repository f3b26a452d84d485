"""What an unbalanced surface does without flutter."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.static_effects import (
    STANDARD_GRAVITY,
    ControlAir,
    Manoeuvre,
    PointMass,
    SurfaceMass,
    deflected,
    mass_hinge_moment,
    stick_force,
    stick_force_per_g,
    surface_mass,
    weight_gone,
)

PIECES = (PointMass(2.1, 0.16), PointMass(0.9, 0.28, 0.01), PointMass(1.2, -0.22, -0.03))
AIR = ControlAir(1.225, 50.0, 2.1, 0.74, -0.35, -0.25)


def by_virtual_work(pieces: tuple[PointMass, ...], manoeuvre: Manoeuvre, lever: float) -> float:
    """Push each piece by its own inertial force, and turn the surface by a hair."""

    def places(deflection: float) -> list[tuple[float, float]]:
        c, s = math.cos(deflection), math.sin(deflection)
        return [(one.aft * c + one.above * s, one.above * c - one.aft * s) for one in pieces]

    hair = 1e-4
    more, less = places(manoeuvre.deflection + hair), places(manoeuvre.deflection - hair)
    now = places(manoeuvre.deflection)
    work = 0.0
    for one, (aft, above), up, down in zip(pieces, now, more, less, strict=True):
        # A nose-up pitch acceleration q' about the centre of gravity: aft goes down, above goes aft.
        q = manoeuvre.pitch_acceleration
        force_up = -one.mass * (STANDARD_GRAVITY * manoeuvre.load_factor - q * (lever + aft))
        force_aft = one.mass * (STANDARD_GRAVITY * manoeuvre.forward_specific_force - q * above)
        work += force_up * (up[1] - down[1]) + force_aft * (up[0] - down[0])
    return work / (2 * hair)


@pytest.mark.parametrize(
    "manoeuvre",
    [
        Manoeuvre(),
        Manoeuvre(3.0, 0.2, 0.0, -0.3),
        Manoeuvre(1.0, 0.0, 4.0, 0.0),
        Manoeuvre(-1.5, -0.1, -2.0, 0.4),
    ],
)
def test_hinge_moment_is_the_virtual_work_of_every_piece(manoeuvre: Manoeuvre) -> None:
    """The closed form is what the pieces' inertial forces do when the surface turns by a hair."""
    found = mass_hinge_moment(surface_mass(PIECES), manoeuvre, 4.1)

    assert found == pytest.approx(by_virtual_work(PIECES, manoeuvre, 4.1), rel=1e-7)


def test_a_tail_heavy_surface_pulls() -> None:
    """In level flight a tail-heavy surface turns trailing edge down, and the stick must be pulled."""
    moment = mass_hinge_moment(SurfaceMass(0.3, 0.0, 0.2), Manoeuvre())

    assert moment == pytest.approx(0.3 * STANDARD_GRAVITY, rel=1e-15)
    assert stick_force(moment, 1.9) > 0.0


def test_stick_force_per_g_is_the_slope_of_the_stick_force() -> None:
    """Two load factors apart by one differ by the stick force per g."""
    surface, low, high = surface_mass(PIECES), Manoeuvre(2.0, 0.1, 0.0, 0.2), Manoeuvre(3.0, 0.1, 0.0, 0.2)
    forces = [stick_force(mass_hinge_moment(surface, one, 4.1), 1.9) for one in (low, high)]

    assert forces[1] - forces[0] == pytest.approx(stick_force_per_g(surface, 0.2, 1.9), rel=1e-13)


def test_half_a_turn_takes_aft_for_ahead() -> None:
    """Turned by half a turn, what lay aft lies ahead, and what lay above lies below."""
    assert deflected(SurfaceMass(0.3, 0.1, 0.2), math.pi) == pytest.approx((-0.3, -0.1), abs=1e-15)


def test_a_lost_weight_is_felt_most_when_slow() -> None:
    """At half the speed the tab must go four times as far, by the same hinge moment."""
    whole, left = surface_mass(PIECES), surface_mass(PIECES[:2])
    fast, slow = (weight_gone(whole, left, Manoeuvre(), 1.4, replace(AIR, speed=speed)) for speed in (50.0, 25.0))

    assert fast.hinge_moment == slow.hinge_moment > 0.0
    assert slow.tab_angle == pytest.approx(4 * fast.tab_angle, rel=1e-14)
    assert slow.floating_angle / slow.tab_angle == pytest.approx(AIR.by_tab / AIR.by_deflection, rel=1e-14)


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("speed", 0.0, "above zero"),
        ("area", -1.0, "Without it the air does nothing."),
        ("by_tab", 0.0, "a hinge moment coefficient other than zero"),
        ("by_deflection", math.nan, "Without it no angle holds the moment."),
    ],
)
def test_air_that_holds_nothing_is_refused(name: str, value: float, sentence: str) -> None:
    """Where nothing answers the hinge moment no angle is given, and the refusal says why."""
    surface = surface_mass(PIECES)
    with pytest.raises(InputRefused, match=sentence) as refused:
        weight_gone(surface, surface, Manoeuvre(), 1.0, replace(AIR, **{name: value}))

    assert [one.field for one in refused.value.refusals] == [name]


def test_infinity_is_refused() -> None:
    """A load factor that is no number gives a refusal, never a number."""
    with pytest.raises(InputRefused, match=r"load_factor.*a finite number"):
        mass_hinge_moment(SurfaceMass(0.3, 0.0, 0.2), Manoeuvre(math.inf))
