"""What a value and its uncertainty say about limits."""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    INSIDE,
    OUTSIDE,
    TOO_CLOSE,
    guarded,
    guarded_limits,
    margin,
    probability_within,
    simple,
    worse,
)


@pytest.mark.parametrize(
    ("value", "lower", "upper", "statement"),
    [
        (1.0, 0.0, 2.0, INSIDE),
        (2.0, 0.0, 2.0, INSIDE),
        (0.0, 0.0, 2.0, INSIDE),
        (math.nextafter(2.0, 3.0), 0.0, 2.0, OUTSIDE),
        (-0.1, 0.0, 2.0, OUTSIDE),
        (-1e9, None, 2.0, INSIDE),
        (1e9, 0.0, None, INSIDE),
        (-1.0, 0.0, None, OUTSIDE),
        (-1.5, -2.0, -1.0, INSIDE),
        (0.0, 0.0, 0.0, INSIDE),
        (5.0, None, None, None),
    ],
)
def test_simple(value: float, lower: float | None, upper: float | None, statement: str | None) -> None:
    """The value itself against the limits: on the limit is inside, the next float beyond is outside."""
    assert simple(value, lower, upper) == statement


@pytest.mark.parametrize(
    ("value", "expanded", "lower", "upper", "statement"),
    [
        (1.0, 0.5, 0.0, 2.0, INSIDE),
        (1.5, 0.5, 0.0, 2.0, TOO_CLOSE),  # touches from within
        (1.75, 0.5, 0.0, 2.0, TOO_CLOSE),
        (2.25, 0.5, 0.0, 2.0, TOO_CLOSE),
        (2.5, 0.5, 0.0, 2.0, TOO_CLOSE),  # touches from without
        (2.75, 0.5, 0.0, 2.0, OUTSIDE),
        (-0.75, 0.5, 0.0, 2.0, OUTSIDE),
        (1.0, 1.0, 0.0, 2.0, TOO_CLOSE),  # the guarded band is empty
        (1.0, 9.0, 0.0, 2.0, TOO_CLOSE),
        (1.0, 0.5, None, 2.0, INSIDE),
        (1.0, 0.5, 0.75, None, TOO_CLOSE),
        (2.0, 0.0, 0.0, 2.0, TOO_CLOSE),
        (1.0, None, 0.0, 2.0, None),
        (1.0, 0.5, None, None, None),
    ],
)
def test_guarded(
    value: float, expanded: float | None, lower: float | None, upper: float | None, statement: str | None
) -> None:
    """All of value ± U strictly within, all of it beyond one limit, or too close to tell."""
    assert guarded(value, expanded, lower, upper) == statement


def test_guarded_limits() -> None:
    """Each limit is drawn in by U; a band without room is empty; one limit alone never is."""
    assert guarded_limits(0.5, 0.0, 2.0) == (0.5, 1.5, False)
    assert guarded_limits(1.0, 0.0, 2.0) == (1.0, 1.0, True)
    assert guarded_limits(1.5, 0.0, 2.0) == (1.5, 0.5, True)
    assert guarded_limits(1.5, None, 2.0) == (None, 0.5, False)
    assert guarded_limits(1.5, None, None) == (None, None, False)


def test_probability_at_the_limit_is_one_half() -> None:
    """A value on its limit conforms with a probability of one half."""
    assert probability_within(2.0, 0.1, None, 2.0) == 0.5
    assert probability_within(2.0, 0.1, 2.0, None) == 0.5


def test_probability_of_one_standard_uncertainty_each_side() -> None:
    """Limits at one standard uncertainty on both sides hold 68.27 %."""
    assert probability_within(1.0, 0.5, 0.5, 1.5) == pytest.approx(0.6826894921370859, rel=1e-14)


def test_a_small_probability_keeps_its_digits() -> None:
    """Ten standard uncertainties beyond either limit the probability is small, not zero, and the same."""
    above, below = probability_within(12.0, 1.0, 0.0, 2.0), probability_within(-10.0, 1.0, 0.0, 2.0)
    assert above == below == pytest.approx(7.6198530241605e-24, rel=1e-10)


def test_probability_without_uncertainty_is_the_simple_statement() -> None:
    """With u = 0 it is 1 on the limit and within, else 0."""
    assert [probability_within(x, 0.0, 0.0, 2.0) for x in (0.0, 1.0, 2.0, 2.1)] == [1.0, 1.0, 1.0, 0.0]


def test_probability_of_nothing() -> None:
    """Without a limit, or without an uncertainty, there is no probability."""
    assert probability_within(1.0, 0.1, None, None) is None
    assert probability_within(1.0, None, 0.0, 2.0) is None


def test_margin() -> None:
    """To the nearest limit: positive inside, negative outside, nothing without a limit."""
    assert [margin(x, 0.0, 2.0) for x in (0.5, 1.75, 2.5, -1.0, 2.0)] == [0.5, 0.25, -0.5, -1.0, 0.0]
    assert margin(1.75, None, 2.0) == margin(-1.75, -2.0, None) == 0.25
    assert margin(1.0, None, None) is None


def test_worse() -> None:
    """Outside leads, then too close, then inside; what was not stated is passed over."""
    assert worse(INSIDE, TOO_CLOSE, OUTSIDE) == OUTSIDE
    assert worse(INSIDE, None, TOO_CLOSE) == TOO_CLOSE
    assert worse(INSIDE, None) == INSIDE
    assert worse(None) is worse() is None


CALLS: list[Callable[[float, float | None, float | None], Any]] = [
    simple,
    margin,
    lambda value, lower, upper: guarded(value, 0.1, lower, upper),
    lambda value, lower, upper: probability_within(value, 0.1, lower, upper),
]


@pytest.mark.parametrize("call", CALLS)
def test_limits_the_wrong_way_round_are_refused(call: Callable[..., Any]) -> None:
    """A lower limit above the upper one is refused, with the remedy."""
    with pytest.raises(InputRefused, match=r"lower: .* at most the upper limit, 1\.0\. Exchange the limits"):
        call(1.5, 2.0, 1.0)


@pytest.mark.parametrize("call", CALLS)
@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
def test_no_statement_on_what_is_no_number(call: Callable[..., Any], wrong: float) -> None:
    """NaN and infinity get no statement, as value or as limit."""
    for arguments, field in [
        ((wrong, 0.0, 2.0), "value"),
        ((1.0, wrong, None), "lower"),
        ((1.0, None, wrong), "upper"),
    ]:
        with pytest.raises(InputRefused, match=f"{field}: .*finite number"):
            call(*arguments)


@pytest.mark.parametrize("wrong", [-0.1, math.nan, math.inf])
def test_uncertainties_that_cannot_be_get_no_statement(wrong: float) -> None:
    """A negative, infinite or undefined uncertainty is refused."""
    for call in (
        lambda: guarded(1.0, wrong, 0.0, 2.0),
        lambda: guarded_limits(wrong, 0.0, 2.0),
        lambda: probability_within(1.0, wrong, 0.0, 2.0),
    ):
        with pytest.raises(InputRefused, match=r"(expanded|standard_uncertainty): "):
            call()
