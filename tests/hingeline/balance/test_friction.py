"""The friction moment, and what the approved data allows of it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import Limits, MomentBand, Stated, StatedUncertainty, Support, Surface, Weighing, weigh

# Rising 8.4 N, falling 8.0 N at 0.25 m: 0.25 x 0.4/2 = 0.05 N m; the moment itself is 0.25 x 8.2 = 2.05 N m.
ACROSS = Support(0.25, rising=(8.4,), falling=(8.0,), reading_unit="N")


def weighed(limits: Limits, *supports: Support) -> Weighing:
    surface = Surface("aileron", mass=4.0)
    return Weighing(surface, supports or (ACROSS,), limits=limits, uncertainty=StatedUncertainty(arm=Stated(1e-4, "m")))


def test_the_middle_of_both_is_the_moment() -> None:
    """2.05 N m, with a friction moment of 0.05 N m shown beside it and no allowance."""
    result = weigh(weighed(Limits()))
    assert result.static_moment.value == pytest.approx(2.05, rel=1e-14)
    assert result.friction_moment is not None
    assert result.friction_moment.value == pytest.approx(0.05, rel=1e-13)
    assert (result.friction_moment.allowed, result.friction_moment.within) == (None, None)


@pytest.mark.parametrize(
    ("lower", "upper", "fraction", "allowed", "within"),
    [
        (0.0, 2.1, 0.025, 0.0525, True),
        (-2.4, 2.1, 0.02, 0.048, False),
        (None, 2.5, 0.02, 0.05, True),
        (-2.1, None, 0.025, 0.0525, True),
        (0.0, 2.1, 0.01, 0.021, False),
    ],
)
def test_what_is_allowed(
    lower: float | None, upper: float | None, fraction: float, allowed: float, within: bool
) -> None:
    """A part of the larger limit without its sign: 2.5 % of 2.1 N m allows 0.0525 N m, 2 % of 2.4 only 0.048.

    0.05 N m of 0.05 N m is on the allowance, and so within it.
    """
    friction = weigh(weighed(Limits(lower, upper, friction_fraction=fraction))).friction_moment
    assert friction is not None
    assert friction.allowed == pytest.approx(allowed, rel=1e-13)
    assert friction.within is within


@pytest.mark.parametrize("grams", range(10, 200, 7))
def test_friction_on_its_allowance_is_within_and_beyond_it_is_not(grams: int) -> None:
    """Rising so many grams above falling, at 0.255 m: the allowance is half of them times the arm, and a hair less."""
    pair = Support(0.255, rising=((800 + grams) / 1000,), falling=(0.8,))
    moment = grams / 2000 * 9.80665 * 0.255
    for upper, within in ((moment, True), (moment * (1.0 - 1e-9), False)):
        friction = weigh(weighed(Limits(upper=upper, friction_fraction=1.0), pair)).friction_moment
        assert friction is not None
        assert friction.within is within, upper


def test_the_allowance_follows_the_band_that_holds() -> None:
    """4 kg lies in the second band: 2.5 % of its 3.0 N m."""
    bands = (MomentBand(3.0, 3.5, 0.0, 2.0), MomentBand(3.5, 4.5, 0.0, 3.0))
    friction = weigh(weighed(Limits(bands=bands, friction_fraction=0.025))).friction_moment
    assert friction is not None
    assert friction.allowed == pytest.approx(0.075, rel=1e-13)


def test_supports_add_up() -> None:
    """Two supports, one of them with a dial that shows mass: 0.05 + 0.1 x 0.02/2 x 9.80665 = 0.0598067 N m."""
    second = Support(0.1, "forward", rising=(1.02,), falling=(1.00,))
    friction = weigh(weighed(Limits(), ACROSS, second)).friction_moment
    assert friction is not None
    assert friction.value == pytest.approx(0.0598067, rel=1e-6)


def test_plain_readings_show_no_friction() -> None:
    """Without a rising and a falling series there is none to show."""
    plain = replace(ACROSS, rising=(), falling=(), readings=(8.2,))
    assert weigh(weighed(Limits(), plain)).friction_moment is None
