"""Laws of what is said of a weighing: more doubt or less room never makes a statement better."""

from __future__ import annotations

import json
from dataclasses import fields, replace

import pytest
from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st

from hingeline.balance import (
    Limits,
    MomentBand,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    WeighingResult,
    plan_weighing,
    weigh,
)
from hingeline.balance.terms import hung_terms, part_terms, support_terms
from hingeline.balance.window import reading_window
from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.uncertainty import INSIDE, OUTSIDE, TOO_CLOSE
from tests.strategies import typed_weighings, weighings

LAW = settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
WORST_FIRST = {OUTSIDE: 0, TOO_CLOSE: 1, INSIDE: 2}
GROWING = ("scale", "calibration", "arm", "friction", "air", "level", "gravity", "mass_uncertainty",
           "tare_uncertainty", "repeatability")  # fmt: skip


# ------------------------------------------------------------------ more doubt


def with_exact_degrees(weighing: Weighing, k: float | None) -> Weighing:
    """The same, with k given, or with nothing of limited degrees of freedom."""
    if k is not None:
        return replace(weighing, uncertainty=replace(weighing.uncertainty, k=k))

    def sure(item):
        stated = {
            field.name: replace(getattr(item, field.name), degrees_of_freedom=None)
            for field in fields(item)
            if isinstance(getattr(item, field.name), Stated)
        }
        return replace(item, **stated)

    return replace(
        weighing,
        surface=sure(weighing.surface),
        supports=tuple(_read_once(sure(each)) for each in weighing.supports),
        hung=tuple(sure(each) for each in weighing.hung),
        parts=tuple(sure(each) for each in weighing.parts),
        uncertainty=replace(sure(weighing.uncertainty), k=None),
    )


def _read_once(support: Support) -> Support:
    once = {name: getattr(support, name)[:1] for name in ("readings", "rising", "falling")}
    return replace(support, **once)


@pytest.mark.slow
@LAW
@given(
    weighings(), st.sampled_from([None, 1.0, 2.0]), st.sampled_from(GROWING), st.floats(1.0, 4.0), st.floats(1e-4, 1.0)
)
def test_more_doubt_never_helps(weighing: Weighing, k: float | None, cause: str, factor: float, first: float) -> None:
    """Any one cause made larger, or stated where none was: U grows, and what was too close is not inside.

    Holds with k given, and where no cause has limited degrees of freedom; for the rest see the next test.
    """
    weighing = with_exact_degrees(weighing, k)
    stated = getattr(weighing.uncertainty, cause)
    if stated is None:
        unit = {"arm": "m", "level": "rad", "gravity": "m/s^2"}.get(cause, "kg")
        stated, factor = Stated(0.01 * first, unit), 1.0
    if stated.relative:
        factor = min(factor, 0.99 / stated.amount)
    larger = replace(stated, amount=factor * stated.amount)
    doubtful = replace(weighing, uncertainty=replace(weighing.uncertainty, **{cause: larger}))
    try:
        one, other = weigh(weighing), weigh(doubtful)
    except InputRefused:
        assume(False)
        raise
    before, after = one.static_moment.expanded_uncertainty or 0.0, other.static_moment.expanded_uncertainty or 0.0
    assert after >= before * (1.0 - 1e-14)
    if one.statement_guarded is not None:
        assert other.statement_guarded is not None
        if one.statement_guarded != OUTSIDE:
            assert WORST_FIRST[other.statement_guarded] <= WORST_FIRST[one.statement_guarded]
    assert other.statement_simple == one.statement_simple


def test_with_few_readings_a_stated_cause_can_make_the_interval_narrower() -> None:
    """A property of GUM G.4.1, kept and told: two readings alone have one degree of freedom and k = 12.7.

    Two readings 10 g apart have u = 5 g, U = 12.706 x 5 = 63.5 g. A friction of u = 5 g beside them makes
    u = 7.07 g and 4 degrees of freedom: ν = 7.07⁴/(5⁴/1) = 4, k = 2.776, U = 19.6 g. At an arm of 1 m
    more doubt would have turned "too close to tell" into "inside". So the law of the test before
    cannot be had by U = k u with Welch and Satterthwaite, only by more readings: with five, k = 2.776 at once.
    """
    support = Support(arm=1.0, readings=(1.0, 1.01))
    limits = Limits(upper=1.05 * 9.80665, rule="guarded")
    alone = Weighing(Surface("rudder"), (support,), limits=limits)
    friction = StatedUncertainty(friction=Stated(0.005, "kg", "standard"))
    one, other = weigh(alone), weigh(replace(alone, uncertainty=friction))
    assert one.static_moment.expanded_uncertainty == pytest.approx(12.706 * 0.005 * 9.80665, rel=1e-4)
    assert other.static_moment.expanded_uncertainty == pytest.approx(2.7764 * 0.0070711 * 9.80665, rel=1e-4)
    assert one.statement == TOO_CLOSE
    assert other.statement == INSIDE
    five = replace(support, readings=(1.0, 1.01, 1.0, 1.01, 1.005))
    assert weigh(replace(alone, supports=(five,))).statement == INSIDE


# ------------------------------------------------------------------ less room


def drawn_in(limits: Limits, low: float, high: float) -> Limits:
    """The same limits, tighter by so much at either end."""

    def up(bound: float | None) -> float | None:
        return None if bound is None else bound + low

    def down(bound: float | None) -> float | None:
        return None if bound is None else bound - high

    reading = limits.reading
    return replace(
        limits,
        lower=up(limits.lower),
        upper=down(limits.upper),
        bands=tuple(MomentBand(b.lightest, b.heaviest, up(b.lower), down(b.upper)) for b in limits.bands),
        mass=limits.mass and replace(limits.mass, lower=up(limits.mass.lower), upper=down(limits.mass.upper)),
        reading=reading and replace(reading, lower=up(reading.lower), upper=down(reading.upper)),
    )


@pytest.mark.slow
@LAW
@given(weighings(), st.floats(0.0, 3.0), st.floats(0.0, 3.0))
def test_tighter_limits_never_help(weighing: Weighing, low: float, high: float) -> None:
    """Moment, mass and reading limits drawn in leave outside what was outside, by either rule."""
    tighter = replace(weighing, limits=drawn_in(weighing.limits, low, high))
    try:
        one, other = weigh(weighing), weigh(tighter)
    except InputRefused:  # a lower limit above the upper one
        assume(False)
        raise
    for name in ("statement", "statement_simple", "statement_guarded"):
        before, after = getattr(one, name), getattr(other, name)
        if before is not None:
            assert WORST_FIRST[after] <= WORST_FIRST[before]


@pytest.mark.slow
@LAW
@given(weighings())
def test_a_limit_more_never_helps(weighing: Weighing) -> None:
    """A limit where there was none leaves outside what was outside."""
    assume(not weighing.limits.bands)
    value = weigh(weighing).static_moment.value
    limits = weighing.limits
    tighter = replace(
        limits,
        lower=min(value, limits.upper if limits.upper is not None else value) if limits.lower is None else limits.lower,
        upper=max(value, limits.lower if limits.lower is not None else value) if limits.upper is None else limits.upper,
    )
    one, other = weigh(weighing), weigh(replace(weighing, limits=tighter))
    assert not (one.statement_simple == OUTSIDE and other.statement_simple == INSIDE)
    assert not (one.statement_guarded in (OUTSIDE, TOO_CLOSE) and other.statement_guarded == INSIDE)


# ------------------------------------------------------------------ one rule beside the other


@pytest.mark.slow
@LAW
@given(weighings())
def test_the_guarded_rule_is_the_stricter_one(weighing: Weighing) -> None:
    """The guarded band lies in the simple one; guarded inside is simply inside, guarded outside simply outside."""
    result = weigh(weighing)
    limits = result.limits
    if limits.lower is not None and limits.guarded_lower is not None:
        assert limits.guarded_lower >= limits.lower
    if limits.upper is not None and limits.guarded_upper is not None:
        assert limits.guarded_upper <= limits.upper
    for made in (*result.statements, result):
        if made.statement_guarded in (INSIDE, OUTSIDE):
            assert made.statement_simple == made.statement_guarded
    assert result.statement == (result.statement_simple if result.rule == "simple" else result.statement_guarded)


@pytest.mark.slow
@LAW
@given(weighings())
def test_the_statement_is_never_better_than_any_single_one(weighing: Weighing) -> None:
    """Whatever is said of moment, mass and reading, the worst of it leads."""
    result = weigh(weighing)
    for single in result.statements:
        for rule in ("statement_simple", "statement_guarded"):
            leading, one = getattr(result, rule), getattr(single, rule)
            if leading is not None and one is not None:
                assert WORST_FIRST[leading] <= WORST_FIRST[one]
            if one is None:
                assert leading in (None, OUTSIDE)
    assert (result.statement is None) or result.statements


# ------------------------------------------------------------------ the reading window


@pytest.mark.slow
@LAW
@given(weighings(most_supports=1, limited=True))
def test_a_reading_of_the_window_put_back_gives_the_limit(weighing: Weighing) -> None:
    """What the scale would show at a limit, read instead, gives a moment on that limit."""
    result = weigh(weighing)
    window = result.reading_window
    if result.limits.lower is None and result.limits.upper is None:  # the mass lies in no band
        assert window is None
        return
    assert window is not None
    (support,) = weighing.supports
    others = (*hung_terms(weighing), *part_terms(weighing))
    pairs = {
        "at_lower": result.limits.lower,
        "at_upper": result.limits.upper,
        "at_guarded_lower": result.limits.guarded_lower,
        "at_guarded_upper": result.limits.guarded_upper,
    }
    for name, limit in pairs.items():
        shown = getattr(window, name)
        assert (shown is None) == (limit is None)
        if shown is None or limit is None:
            continue
        assert shown.unit == support.reading_unit
        put_back = replace(support, readings=(shown.value,), rising=(), falling=())
        (term,) = support_terms(replace(weighing, supports=(put_back,)))
        moment = term.moment + sum(each.moment for each in others)
        size = abs(limit) + abs(term.moment) + abs(support.tare * term.reading_moment)
        size += sum(abs(each.moment) for each in others)
        assert moment == pytest.approx(limit, rel=1e-13, abs=1e-13 * size)


@pytest.mark.slow
@LAW
@given(weighings(fewest_supports=2))
def test_several_supports_have_no_reading_window(weighing: Weighing) -> None:
    """With two or three supports no single reading stands for a limit."""
    assert weigh(weighing).reading_window is None
    assert reading_window(weighing, support_terms(weighing), weigh(weighing).limits) is None


# ------------------------------------------------------------------ documents


def through_json(record: object) -> object:
    """Write a record as JSON text, as it is stored, and read it back."""
    text = json.dumps(to_document(record), allow_nan=False, ensure_ascii=False)
    return from_document(json.loads(text), type(record))


@pytest.mark.slow
@LAW
@given(weighings())
def test_a_weighing_comes_back_from_its_document(weighing: Weighing) -> None:
    """Written and read again, a weighing and its result are what they were, to the last digit."""
    assert through_json(weighing) == weighing
    result = weigh(weighing)
    back = through_json(result)
    assert back == result
    assert isinstance(back, WeighingResult)
    assert json.dumps(to_document(back)) == json.dumps(to_document(result))


@pytest.mark.slow
@LAW
@given(typed_weighings())
def test_a_typed_weighing_replays_from_its_document(weighing: Weighing) -> None:
    """The document keeps every typed text: weighed again, it gives the same result and the same document."""
    back = through_json(weighing)
    assert back == weighing
    assert isinstance(back, Weighing)
    assert to_document(back) == to_document(weighing)
    assert weigh(back) == weigh(weighing)
    assert to_document(weigh(back)) == to_document(weigh(weighing))


@pytest.mark.slow
@LAW
@given(weighings(most_supports=1, limited=True))
def test_a_plan_comes_back_from_its_document(weighing: Weighing) -> None:
    """So does the plan of a weighing."""
    try:
        plan = plan_weighing(weighing)
    except InputRefused:  # a pair of readings, the mass in no band
        assume(False)
        raise
    assert through_json(plan) == plan
