"""Laws of budgets and decision rules that hold whatever the numbers."""

from __future__ import annotations

import math
from fractions import Fraction

import numpy as np
import pytest
from hypothesis import assume, example, given
from hypothesis import strategies as st

from hingeline.uncertainty import (
    INSIDE,
    OUTSIDE,
    TOO_CLOSE,
    Contribution,
    Statement,
    combine,
    combine_decimal,
    coverage_factor,
    decimal_contribution,
    guarded,
    guarded_limits,
    margin,
    probability_within,
    simple,
    student_cumulative,
    student_quantile,
    type_a,
)

VALUE = st.floats(-1e6, 1e6)
WIDTH = st.floats(0, 1e6)
SIZE = st.floats(1e-6, 1e6)
DEGREES = st.none() | st.floats(1.0, 1e7) | st.integers(1, 400).map(float)
CAUSES = st.lists(st.tuples(SIZE, DEGREES), min_size=1, max_size=12)
LIMITS = st.tuples(VALUE | st.none(), VALUE | st.none()).filter(
    lambda pair: pair != (None, None) and (None in pair or pair[0] <= pair[1])  # type: ignore[operator]
)
RULES = st.sampled_from([simple, lambda y, a, b: guarded(y, 0.0, a, b), lambda y, a, b: guarded(y, 2.5, a, b)])

Limits = tuple[float | None, float | None]


@given(VALUE, WIDTH, WIDTH, LIMITS)
def test_larger_uncertainty_never_helps(value: float, expanded: float, more: float, limits: Limits) -> None:
    """A larger U never turns too close to tell into inside or outside, nor outside into inside."""
    before = guarded(value, expanded, *limits)
    after = guarded(value, expanded + more, *limits)
    allowed: dict[Statement | None, set[Statement | None]] = {
        TOO_CLOSE: {TOO_CLOSE},
        OUTSIDE: {OUTSIDE, TOO_CLOSE},
        INSIDE: {INSIDE, TOO_CLOSE},
    }
    assert after in allowed[before]


@given(VALUE, LIMITS, WIDTH, WIDTH, RULES)
def test_tighter_limits_never_help(value: float, limits: Limits, low: float, high: float, rule) -> None:
    """Limits drawn in, or a limit added where there was none, leave outside what was outside."""
    lower, upper = limits
    tighter = (
        -low if lower is None else lower + low,
        high if upper is None else upper - high,
    )
    assume(tighter[0] <= tighter[1])
    order = {OUTSIDE: 0, TOO_CLOSE: 1, INSIDE: 2}
    assert order[rule(value, *tighter)] <= order[rule(value, *limits)]


@given(VALUE, WIDTH, LIMITS)
@example(2.0, 0.0, (0.0, 2.0))
def test_the_guarded_band_lies_in_the_simple_one(value: float, expanded: float, limits: Limits) -> None:
    """What is inside by the guarded rule is inside by the simple one, and likewise for outside."""
    statement = guarded(value, expanded, *limits)
    if statement != TOO_CLOSE:
        assert simple(value, *limits) == statement
    lower, upper, empty = guarded_limits(expanded, *limits)
    if lower is not None and limits[0] is not None:
        assert lower >= limits[0]
    if upper is not None and limits[1] is not None:
        assert upper <= limits[1]
    if empty and expanded > 1e-9 * max(1.0, abs(value)):
        assert statement != INSIDE


@given(VALUE, SIZE, LIMITS)
def test_probability_and_simple_statement_agree(value: float, u: float, limits: Limits) -> None:
    """Outside is at most as likely as not; with one limit, inside is at least as likely as not."""
    within = probability_within(value, u, *limits)
    assert within is not None
    assert 0 <= within <= 1
    if simple(value, *limits) == OUTSIDE:
        assert within <= 0.5
    elif None in limits:
        assert within >= 0.5


@given(VALUE, SIZE, LIMITS)
def test_everything_mirrors(value: float, u: float, limits: Limits) -> None:
    """Tail-heavy and nose-heavy exchanged, every statement, margin and probability is the same."""
    turned = tuple(None if limit is None else -limit for limit in reversed(limits))
    assert simple(value, *limits) == simple(-value, *turned)
    assert guarded(value, u, *limits) == guarded(-value, u, *turned)
    assert margin(value, *limits) == margin(-value, *turned)
    assert probability_within(value, u, *limits) == pytest.approx(
        probability_within(-value, u, *turned), rel=1e-12, abs=1e-15
    )


@given(VALUE, LIMITS)
def test_margin_has_the_sign_of_the_statement(value: float, limits: Limits) -> None:
    """The margin is negative exactly where the simple statement is outside."""
    distance = margin(value, *limits)
    assert distance is not None
    assert (distance < 0) == (simple(value, *limits) == OUTSIDE)


def contributions(causes: list[tuple[float, float | None]]) -> list[Contribution]:
    """Name each cause by its place."""
    return [Contribution(f"{place:02}", size, "g", 1.0, nu) for place, (size, nu) in enumerate(causes)]


@given(CAUSES, st.randoms(use_true_random=False))
def test_order_does_not_matter(causes: list[tuple[float, float | None]], random) -> None:
    """Contributions in any order give the same budget, to the last digit."""
    listed = contributions(causes)
    shuffled = list(listed)
    random.shuffle(shuffled)
    assert combine(shuffled) == combine(listed)


@given(st.lists(VALUE, min_size=2, max_size=30), st.randoms(use_true_random=False))
def test_order_of_readings_does_not_matter(readings: list[float], random) -> None:
    """Readings in any order give the same mean and scatter, to the last digit."""
    shuffled = list(readings)
    random.shuffle(shuffled)
    assert type_a(shuffled) == type_a(readings)


@given(CAUSES, st.integers(-60, 60))
def test_scale_invariance(causes: list[tuple[float, float | None]], power: int) -> None:
    """In a unit 2^n times as small u and U are 2^n times as large; ν, k and shares are the same."""
    scale = 2.0**power
    before = combine(contributions(causes))
    after = combine(contributions([(size * scale, nu) for size, nu in causes]))
    assert after.standard_uncertainty == before.standard_uncertainty * scale
    assert after.expanded_uncertainty == before.expanded_uncertainty * scale
    assert after.effective_degrees_of_freedom == before.effective_degrees_of_freedom
    assert [row.share for row in after.rows] == [row.share for row in before.rows]


@given(CAUSES, st.tuples(SIZE, DEGREES))
def test_one_more_cause_never_lessens_u(causes, another) -> None:
    """U never falls by a cause more, and shares add up to 1."""
    before, after = combine(contributions(causes)), combine(contributions([*causes, another]))
    assert after.standard_uncertainty >= before.standard_uncertainty
    assert math.fsum(row.share for row in after.rows) == pytest.approx(1.0, rel=1e-12)


@given(CAUSES)
def test_degrees_lie_between_the_least_and_the_sum(causes: list[tuple[float, float | None]]) -> None:
    """ν_eff is at least the least of the causes', and at most their sum: JCGM 100:2008 G.4.1."""
    degrees = combine(contributions(causes)).effective_degrees_of_freedom
    given_degrees = [nu for _, nu in causes]
    if degrees is not None:
        assert degrees >= min(nu for nu in given_degrees if nu is not None) * (1 - 1e-12)
        if None not in given_degrees:
            assert degrees <= math.fsum(given_degrees) * (1 + 1e-12)  # type: ignore[arg-type]


@given(CAUSES, st.floats(0.5, 0.9999), st.none() | st.floats(0.1, 10))
def test_both_routes_agree(causes: list[tuple[float, float | None]], coverage: float, k: float | None) -> None:
    """Floats and fifty-digit decimals give u, ν, k and U that agree to 1e-12."""
    floats = combine(contributions(causes), coverage=coverage, k=k)
    decimals = combine_decimal([decimal_contribution(*cause) for cause in causes], coverage=coverage, k=k)
    assert floats.standard_uncertainty == pytest.approx(float(decimals.standard_uncertainty), rel=1e-12)
    assert floats.coverage_factor == pytest.approx(float(decimals.coverage_factor), rel=1e-12)
    assert floats.expanded_uncertainty == pytest.approx(float(decimals.expanded_uncertainty), rel=1e-12)
    nu = decimals.effective_degrees_of_freedom
    assert (floats.effective_degrees_of_freedom is None) == (nu is None)
    if nu is not None:
        assert floats.effective_degrees_of_freedom == pytest.approx(float(nu), rel=1e-12)


@given(st.lists(st.integers(1, 1000), min_size=1, max_size=6), st.integers(1, 60))
def test_both_routes_agree_on_whole_degrees(sizes: list[int], degrees: int) -> None:
    """Where ν_eff is likely to be a whole number, both routes cut it down alike."""
    causes = [(float(size), float(degrees)) for size in sizes]
    decimals = combine_decimal([decimal_contribution(Fraction(size), degrees) for size in sizes])
    assert combine(contributions(causes)).coverage_factor == pytest.approx(float(decimals.coverage_factor), rel=1e-12)


@given(st.floats(1, 1e6), st.floats(0.001, 0.999))
def test_quantile_and_cumulative_are_inverse(degrees: float, p: float) -> None:
    """The quantile of a probability has that probability."""
    assert student_cumulative(student_quantile(p, degrees), degrees) == pytest.approx(p, rel=1e-12)


@given(st.floats(1, 1e5), st.floats(1.001, 10), st.floats(0.51, 0.9999))
def test_more_degrees_mean_a_smaller_factor(degrees: float, times: float, coverage: float) -> None:
    """K never grows with the degrees of freedom, and is never below the normal one."""
    less, more = coverage_factor(coverage, degrees), coverage_factor(coverage, degrees * times)
    assert less >= more * (1 - 1e-14)
    assert more >= coverage_factor(coverage, None) * (1 - 1e-14)


@pytest.mark.slow
@pytest.mark.parametrize("count", [2, 3, 5, 10])
def test_stated_intervals_cover_what_they_state(count: int) -> None:
    """Intervals stated at 95 % hold the true value in 94 to 96 of a hundred, over 10,000 simulated."""
    readings = np.random.default_rng(count).normal(0.842, 0.003, size=(10_000, count)).tolist()
    covered = 0
    for one in readings:
        scatter = type_a(one)
        assert scatter.standard_uncertainty is not None
        cause = Contribution("scatter", scatter.standard_uncertainty, "kg", 1.0, scatter.degrees_of_freedom)
        covered += abs(scatter.value - 0.842) <= combine([cause]).expanded_uncertainty
    assert 9_400 <= covered <= 9_600


@pytest.mark.slow
@pytest.mark.parametrize("known", [0.5, 1.0, 2.0])
def test_intervals_with_a_known_cause_beside_the_scatter_cover_too(known: float) -> None:
    """With a calibration error as large as the scatter of the mean, the interval still covers 94 to 96 %."""
    generator = np.random.default_rng(17)
    readings = generator.normal(0.0, 1.0, size=(10_000, 5))
    shifts = generator.normal(0.0, known / math.sqrt(5), size=10_000)
    covered = 0
    for one, shift in zip(readings.tolist(), shifts.tolist(), strict=True):
        scatter = type_a([reading + shift for reading in one])
        assert scatter.standard_uncertainty is not None
        causes = [
            Contribution("scatter", scatter.standard_uncertainty, "g", 1.0, scatter.degrees_of_freedom),
            Contribution("calibration", known / math.sqrt(5), "g", 1.0),
        ]
        covered += abs(scatter.value) <= combine(causes).expanded_uncertainty
    assert 9_400 <= covered <= 9_600
