"""Laws of the weighing's statics, that hold whatever the numbers.

Where numbers are only turned round, doubled or put in another order, results
must be the same to the last digit. Where they are multiplied and divided back,
to 1e-12 of the sum of terms.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from hingeline.balance import (
    HungMass,
    Limits,
    MomentBand,
    Part,
    ReadingLimits,
    Stated,
    Support,
    Surface,
    Weighing,
    weigh,
)
from hingeline.balance.recheck import recheck
from hingeline.units import express, read, write
from tests.strategies import ARMS, sizes, supports, weighings

LAW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
Numbers = Callable[[tuple[float, ...]], tuple[float, ...]]


def sum_of_terms(weighing: Weighing) -> float:
    """What rounding grows with [N m]."""
    return float(recheck(weighing, None, None).sum_of_terms)


def same_moment(one: Weighing, other: Weighing) -> None:
    """The static moment does not change, within 1e-12 of the sum of terms."""
    allowed = 1e-12 * max(sum_of_terms(one), sum_of_terms(other))
    assert abs(weigh(one).static_moment.value - weigh(other).static_moment.value) <= allowed


def same_number(one: float | None, other: float | None, times: float = 1.0) -> None:
    """One is the other, ``times`` over, within 1e-12 of it; or neither is there."""
    assert one == (None if other is None else pytest.approx(times * other, rel=1e-12))


def without_limits(weighing: Weighing) -> Weighing:
    """The same, where what is changed would change what the limits ask."""
    return replace(weighing, limits=Limits())


def reread(support: Support, change: Numbers) -> Support:
    """The same support with every series of readings changed."""
    return replace(
        support,
        readings=change(support.readings),
        rising=change(support.rising),
        falling=change(support.falling),
    )


def without_depth(weighing: Weighing) -> Weighing:
    """No trailing edge is given, so that a support may go anywhere."""
    return replace(weighing, surface=replace(weighing.surface, hinge_to_trailing_edge=None))


def with_one(support: Support) -> Weighing:
    """Nothing but one support, and of the surface nothing but its name."""
    return Weighing(Surface("rudder"), (support,))


# ------------------------------------------------------------------ the scale


@pytest.mark.slow
@LAW
@given(weighings(), ARMS)
def test_moving_the_scale_does_not_change_the_moment(weighing: Weighing, arm: float) -> None:
    """At another arm, the net reading is as much smaller as the arm is longer."""
    weighing = without_depth(without_limits(weighing))
    first, *others = weighing.supports

    def moved(readings: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(first.tare + (reading - first.tare) * first.arm / arm for reading in readings)

    support = replace(reread(first, moved), arm=arm)
    assume(max((*support.readings, *support.rising, *support.falling)) < 900.0)
    same_moment(weighing, replace(weighing, supports=(support, *others)))


@pytest.mark.slow
@LAW
@given(weighings(), st.floats(0.0, 1.0), ARMS)
def test_two_supports_that_share_the_load_give_the_same_sum(weighing: Weighing, part: float, arm: float) -> None:
    """A part of the moment is carried at another arm, and the rest where it was."""
    weighing = without_depth(without_limits(weighing))
    first, *others = weighing.supports
    here = reread(first, lambda shown: tuple(first.tare + part * (each - first.tare) for each in shown))
    there = reread(
        replace(first, arm=arm),
        lambda shown: tuple(first.tare + (1.0 - part) * (each - first.tare) * first.arm / arm for each in shown),
    )
    assume(max((*there.readings, *there.rising, *there.falling)) < 900.0)
    same_moment(weighing, replace(weighing, supports=(here, there, *others)))


@pytest.mark.slow
@LAW
@given(weighings(), sizes(0.0, 50.0))
def test_tare_and_readings_shift_together(weighing: Weighing, shift: float) -> None:
    """What lies on the scale besides the surface, and is taken off as tare, changes nothing."""
    weighing = without_limits(weighing)
    shifted = tuple(
        replace(reread(each, lambda shown: tuple(one + shift for one in shown)), tare=each.tare + shift)
        for each in weighing.supports
    )
    same_moment(weighing, replace(weighing, supports=shifted))


@pytest.mark.slow
@LAW
@given(weighings(), st.randoms(use_true_random=False))
def test_the_order_of_readings_does_not_matter(weighing: Weighing, order) -> None:
    """Readings written down in another order give the same result to the last digit."""

    def mixed(readings: tuple[float, ...]) -> tuple[float, ...]:
        return tuple(order.sample(readings, len(readings)))

    result = weigh(weighing)
    other = weigh(replace(weighing, supports=tuple(reread(each, mixed) for each in weighing.supports)))
    assert other.static_moment.value == result.static_moment.value
    assert other.statements == result.statements


@pytest.mark.slow
@LAW
@given(weighings())
def test_the_order_of_supports_does_not_matter(weighing: Weighing) -> None:
    """Supports, hung masses and parts in another order give the same moment, u and statements."""
    turned = replace(weighing, supports=weighing.supports[::-1], hung=weighing.hung[::-1], parts=weighing.parts[::-1])
    one, other = weigh(weighing), weigh(turned)
    assert other.static_moment.value == one.static_moment.value
    same_number(other.static_moment.standard_uncertainty, one.static_moment.standard_uncertainty)
    assert other.statement_simple == one.statement_simple


@pytest.mark.slow
@LAW
@given(supports(pairs=False), sizes(0.0, 0.5))
def test_equal_and_opposite_friction_cancels(support: Support, friction: float) -> None:
    """Rising readings that friction makes larger, and falling ones as much smaller, have the same middle."""
    assume(min(support.readings) >= friction)
    up = tuple(reading + friction for reading in support.readings)
    down = tuple(reading - friction for reading in support.readings)
    assume(any(reading >= support.tare for reading in down))
    across = replace(support, readings=(), rising=up, falling=down)
    plain = with_one(support)
    same_moment(plain, with_one(across))
    shown = weigh(with_one(across)).friction_moment
    assert shown is not None
    force = friction * (plain.local_gravity if support.reading_unit == "kg" else 1.0)
    assert shown.value == pytest.approx(force * support.arm, abs=1e-12 * max(sum_of_terms(plain), 1e-3))


# ------------------------------------------------------------------ hung masses and parts


@pytest.mark.slow
@LAW
@given(weighings(), sizes(0.001, 20.0), ARMS, st.sampled_from(["aft", "forward"]))
def test_a_hung_mass_and_its_part_cancel(weighing: Weighing, mass: float, arm: float, side) -> None:
    """A mass hung on while weighing, and counted as a part that belongs there, changes nothing."""
    weighing = without_depth(without_limits(weighing))
    both = replace(
        weighing,
        hung=(*weighing.hung, HungMass(mass, arm, side)),
        parts=(*weighing.parts, Part("the same", "not fitted", mass, arm, side)),
    )
    same_moment(weighing, both)


@pytest.mark.slow
@LAW
@given(weighings(), sizes(0.001, 20.0), ARMS, st.sampled_from(["aft", "forward"]))
def test_a_hung_mass_is_a_part_that_must_not_count(weighing: Weighing, mass: float, arm: float, side) -> None:
    """To hang a mass on the surface is to fit a part that is then taken away."""
    weighing = without_depth(without_limits(weighing))
    hung = replace(weighing, hung=(*weighing.hung, HungMass(mass, arm, side)))
    fitted = Part("the same", "fitted, not counted", mass, arm, side)
    same_moment(hung, replace(weighing, parts=(*weighing.parts, fitted)))


@pytest.mark.slow
@LAW
@given(weighings(), sizes(0.001, 20.0), st.sampled_from(["not fitted", "fitted, not counted"]))
def test_a_mass_on_the_hinge_line_changes_nothing(weighing: Weighing, mass: float, state) -> None:
    """Whatever sits on the hinge line itself has no moment, and where arms are exact, no uncertainty."""
    weighing = replace(weighing, uncertainty=replace(weighing.uncertainty, arm=None))
    one = weigh(weighing)
    other = weigh(replace(weighing, parts=(*weighing.parts, Part("hinge pin", state, mass, 0.0))))
    assert other.static_moment.value == one.static_moment.value
    same_number(other.static_moment.expanded_uncertainty, one.static_moment.expanded_uncertainty)
    assert other.statement_simple == one.statement_simple


@pytest.mark.slow
@LAW
@given(weighings(), sizes(0.001, 20.0), st.just(0.0) | ARMS)
def test_a_forward_part_never_makes_it_more_tail_heavy(weighing: Weighing, mass: float, arm: float) -> None:
    """To add a part forward of the hinge line, or to take one away aft of it, lowers the moment."""
    weighing = without_limits(weighing)
    before = weigh(weighing).static_moment.value
    added = Part("mass balance", "not fitted", mass, arm, "forward")
    taken = Part("tab", "fitted, not counted", mass, arm, "aft")
    for part in (added, taken):
        after = weigh(replace(weighing, parts=(*weighing.parts, part))).static_moment.value
        assert after <= before
        if mass * arm > 1e-3:
            assert after < before


# ------------------------------------------------------------------ signs


def other_side(item):
    """The same on the other side of the hinge line."""
    return replace(item, side="forward" if item.side == "aft" else "aft")


def other_way(support: Support) -> Support:
    """A hook that pulls instead of a support that pushes."""
    return replace(support, pushes="down" if support.pushes == "up" else "up")


def negated(limit: float | None) -> float | None:
    return None if limit is None else -limit


def mirrored_limits(limits: Limits) -> Limits:
    """Nose-heavy for tail-heavy: each limit with the other sign, and lower for upper."""
    reading = limits.reading
    return replace(
        limits,
        lower=negated(limits.upper),
        upper=negated(limits.lower),
        bands=tuple(
            MomentBand(band.lightest, band.heaviest, negated(band.upper), negated(band.lower)) for band in limits.bands
        ),
        reading=None
        if reading is None
        else ReadingLimits(negated(reading.upper), negated(reading.lower), reading.unit),
    )


@pytest.mark.slow
@LAW
@given(weighings(), st.booleans())
def test_a_mirrored_surface_gives_the_mirrored_result(weighing: Weighing, pull: bool) -> None:
    """With every side exchanged, or every support pulling instead, the moment changes its sign and nothing else."""
    turn = other_way if pull else other_side
    mirrored = without_depth(
        replace(
            weighing,
            supports=tuple(turn(each) for each in weighing.supports),
            hung=tuple(other_side(each) for each in weighing.hung),
            parts=tuple(other_side(each) for each in weighing.parts),
            limits=mirrored_limits(weighing.limits),
        )
    )
    one, other = weigh(without_depth(weighing)), weigh(mirrored)
    assert other.static_moment == replace(one.static_moment, value=-one.static_moment.value)
    assert (other.statement, other.statement_simple, other.statement_guarded) == (
        one.statement,
        one.statement_simple,
        one.statement_guarded,
    )
    assert other.margin == one.margin
    assert other.friction_moment == one.friction_moment
    if one.probability_within is not None:
        assert other.probability_within == pytest.approx(one.probability_within, abs=1e-15)
    if one.centre_of_gravity is not None:
        assert other.centre_of_gravity is not None
        assert other.centre_of_gravity.value == -one.centre_of_gravity.value


@pytest.mark.slow
@LAW
@given(supports(), st.booleans())
def test_side_and_direction_turn_the_sign(support: Support, pull: bool) -> None:
    """The same reading on the other side, or of a hook that pulls, means the opposite moment; both, the same one."""
    turned = other_way(support) if pull else other_side(support)
    one = weigh(with_one(support)).static_moment.value
    assert weigh(with_one(turned)).static_moment.value == -one
    assert weigh(with_one(other_way(other_side(support)))).static_moment.value == one
    aft_pushing = support.side == "aft" and support.pushes == "up"
    if aft_pushing and min((*support.readings, *support.rising, *support.falling)) > support.tare:
        assert one > 0.0


# ------------------------------------------------------------------ scale of masses, and units


def scaled_by(k: float, weighing: Weighing) -> Weighing:
    """Every mass and every force k times as large, and every stated uncertainty of them."""

    def times(value: float | None) -> float | None:
        return None if value is None else k * value

    def of(stated: Stated | None) -> Stated | None:
        return replace(stated, amount=k * stated.amount) if stated and stated.unit in ("kg", "N") else stated

    def known(item):
        return replace(item, mass=k * item.mass, mass_uncertainty=of(item.mass_uncertainty))

    u, limits, surface = weighing.uncertainty, weighing.limits, weighing.surface
    names = ("scale", "calibration", "friction", "air", "mass_uncertainty", "tare_uncertainty", "repeatability")
    return replace(
        weighing,
        surface=replace(surface, mass=times(surface.mass), mass_uncertainty=of(surface.mass_uncertainty)),
        supports=tuple(
            replace(
                reread(each, lambda shown: tuple(k * one for one in shown)),
                tare=k * each.tare,
                tare_uncertainty=of(each.tare_uncertainty),
            )
            for each in weighing.supports
        ),
        hung=tuple(known(each) for each in weighing.hung),
        parts=tuple(known(each) for each in weighing.parts),
        uncertainty=replace(u, **{name: of(getattr(u, name)) for name in names}),
        limits=replace(
            limits,
            lower=times(limits.lower),
            upper=times(limits.upper),
            bands=tuple(
                MomentBand(k * band.lightest, k * band.heaviest, times(band.lower), times(band.upper))
                for band in limits.bands
            ),
            mass=limits.mass and replace(limits.mass, lower=times(limits.mass.lower), upper=times(limits.mass.upper)),
            reading=limits.reading
            and replace(limits.reading, lower=times(limits.reading.lower), upper=times(limits.reading.upper)),
        ),
    )


@pytest.mark.slow
@LAW
@given(weighings(), st.sampled_from([0.125, 0.5, 2.0]))
def test_all_masses_scaled_scale_the_result(weighing: Weighing, k: float) -> None:
    """A surface k times as heavy, with limits k times as far, has k times the moment and U and the same statements."""
    one, other = weigh(weighing), weigh(scaled_by(k, weighing))
    for moment, larger in ((one.static_moment, other.static_moment), (one.mass_moment, other.mass_moment)):
        assert larger.value == k * moment.value
        same_number(larger.standard_uncertainty, moment.standard_uncertainty, k)
        same_number(larger.expanded_uncertainty, moment.expanded_uncertainty, k)
    assert other.statement_simple == one.statement_simple
    assert other.margin == (None if one.margin is None else k * one.margin)
    assert [row.share for row in other.budget] == pytest.approx([row.share for row in one.budget], abs=1e-12)
    if one.centre_of_gravity is not None:
        assert other.centre_of_gravity is not None
        assert other.centre_of_gravity.value == pytest.approx(one.centre_of_gravity.value, rel=1e-12, abs=1e-15)


@LAW
@given(
    sizes(0.02, 2.0), sizes(0.001, 20.0), st.sampled_from(["kg", "g", "lb", "oz"]), st.sampled_from(["m", "mm", "in"])
)
def test_units_round_trip_through_a_weighing(arm: float, mass: float, mass_unit: str, arm_unit: str) -> None:
    """Numbers written in another unit and read again give the same moment, and the window comes in that unit."""
    written = write(express(mass, mass_unit), mass_unit), write(express(arm, arm_unit), arm_unit)
    limits = Limits(upper=2.0 * mass * arm * 9.80665)
    typed = Support(arm=read(written[1], "length"), readings=(read(written[0], "mass"),))
    one = weigh(replace(with_one(Support(arm=arm, readings=(mass,))), limits=limits))
    other = weigh(replace(with_one(typed), limits=limits))
    assert other.static_moment.value == pytest.approx(one.static_moment.value, rel=1e-14)
    assert one.reading_window is not None
    assert other.reading_window is not None
    at_limit, shown = one.reading_window.at_upper, other.reading_window.at_upper
    assert at_limit is not None
    assert shown is not None
    assert shown.unit == mass_unit
    back = read(write(shown.value, shown.unit), "mass")
    assert math.isclose(back, at_limit.value, rel_tol=1e-14)
    assert Fraction(back) > 0
