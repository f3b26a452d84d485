"""The rate of use of an aircraft, and when a number of hours or landings will be reached, with its interval.

Use between two readings is taken as a walk: on the average r a day, with a scatter that grows as the root of
the time, s. Both come from the readings; so few make the rate itself uncertain, and Student's t allows for it.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date as Date
from datetime import timedelta
from decimal import Decimal
from functools import lru_cache
from typing import NamedTuple

from hingeline.due.results import Forecast
from hingeline.uncertainty.student import student_quantile

COVERAGE = 0.95
FEWEST_READINGS = 3
LONGEST_GAP = 60
FURTHEST = 36_500.0


@dataclass(frozen=True, slots=True)
class Rate:
    """How an aircraft is used.

    Parameters
    ----------
    per_day : float
        Mean, r [h/d, or landings a day].
    spread : float
        s, of one day [h/√d].
    observed : float
        Days between the first and the last reading [d].
    intervals : int
        Between the readings.
    """

    per_day: float
    spread: float
    observed: float
    intervals: int


@dataclass(frozen=True, slots=True)
class NoRate:
    """Why nothing can be forecast."""

    why: str = "there are no readings"


NO_RATE = NoRate()


class Span(NamedTuple):
    """Days until something is reached: early end, middle, late end (infinite where there is none)."""

    low: float
    mid: float
    high: float


def rate_of(days: Sequence[Date], totals: Sequence[Decimal], counted_on: Date) -> Rate | NoRate:
    """Find the rate of use from totals on days.

    Parameters
    ----------
    days : sequence of date
        Rising.
    totals : sequence of Decimal
        On these days [h, or landings].
    counted_on : date
        The last day.

    Returns
    -------
    Rate or NoRate
        None of the readings before the last gap of more than 60 days counts.

    Notes
    -----
    r = (last - first) / T and s² = Σ (Δ - r Δt)² / Δt / (n - 1): the estimates of greatest likelihood for a walk
    with normal steps, s² made unbiased (derived here). For even intervals they are mean and standard deviation.
    At least three readings and no longer gap than 60 days: common practice, no source.
    """
    run = _last_run(days)
    if len(run) < FEWEST_READINGS:
        return NoRate(_too_few(days, len(run), counted_on))
    first, last = run[0], run[-1]
    observed = float((days[last] - days[first]).days)
    mean = float(totals[last] - totals[first]) / observed
    if mean <= 0.0:
        return NoRate(f"nothing was flown since {days[first]}")
    squares = 0.0
    for one, other in itertools.pairwise(run):
        elapsed = float((days[other] - days[one]).days)
        squares += (float(totals[other] - totals[one]) - mean * elapsed) ** 2 / elapsed
    return Rate(mean, math.sqrt(squares / (len(run) - 2)), observed, len(run) - 1)


def _last_run(days: Sequence[Date]) -> range:
    """Give the places of the readings after the last long gap."""
    start = len(days) - 1
    while start > 0 and (days[start] - days[start - 1]).days <= LONGEST_GAP:
        start -= 1
    return range(max(start, 0), len(days))


def _too_few(days: Sequence[Date], run: int, counted_on: Date) -> str:
    if run == len(days):
        return f"a rate of use needs {FEWEST_READINGS} readings, and there {'is' if run == 1 else 'are'} {run}"
    gap = (days[len(days) - run] - days[len(days) - run - 1]).days
    return f"there was no reading for {gap} days up to {days[len(days) - run]}, and {run} since, of {FEWEST_READINGS}"


@lru_cache(maxsize=4096)
def _factor(freedom: int) -> float:
    return student_quantile((1.0 + COVERAGE) / 2.0, float(freedom))


def days_until(left: float, rate: Rate) -> Span:
    """Give the days until ``left`` is flown, with an interval that holds what comes 95 times of 100.

    Parameters
    ----------
    left : float
        Hours or landings that are left; at or below 0 nothing is [h].
    rate : Rate
        From past use.

    Returns
    -------
    Span
        [d]

    Examples
    --------
    >>> days_until(0.0, Rate(0.3, 0.5, 180.0, 6))
    Span(low=0.0, mid=0.0, high=0.0)
    """
    if left <= 0.0:
        return Span(0.0, 0.0, 0.0)
    low, high = reached_between(left, rate.per_day, _factor(rate.intervals - 1) * rate.spread, rate.observed)
    return Span(low, left / rate.per_day, high)


def reached_between(left: float, rate: float, band: float, observed: float = math.inf) -> tuple[float, float]:
    """Give the two times at which r t ± b √(t + t²/T) is what is left.

    Parameters
    ----------
    left : float
        What is left, H, above 0 [h].
    rate : float
        r, above 0 [h/d].
    band : float
        Quantile times spread, b = z s [h/√d].
    observed : float
        How long the rate was observed, T; infinite: it is known exactly [d].

    Returns
    -------
    tuple of float
        The early and the late time; the late one is infinite where r ≤ b/√T.

    Notes
    -----
    In simulation 95 of 100 are held where use is such a walk, and 94 where it is lopsided (a gamma process), the
    early end being the one missed. The roots of (r² - b²/T) t² - (2 r H + b²) t + H² = 0. Use never runs backwards,
    so H is reached by t just where the use up to t is H or more; its variance is s² t, and s² t²/T more by the
    uncertainty of r (derived here). With T infinite: t = [(∓b + √(b² + 4 r H)) / (2 r)]².

    Examples
    --------
    >>> early, late = reached_between(43.0, 10.0, 1.959964 * 4.0)
    >>> round(early, 3), round(late, 3)
    (2.953, 6.262)
    """
    square, linear = rate * rate - band * band / observed, 2.0 * rate * left + band * band
    root = math.sqrt(max(0.0, linear * linear - 4.0 * square * left * left))
    early = 2.0 * left * left / (linear + root)
    return early, (linear + root) / (2.0 * square) if square > 0.0 else math.inf


def as_forecast(span: Span, counted_on: Date) -> Forecast | None:
    """Turn days from the last count into dates, the interval rounded outward; None beyond a hundred years."""
    if span.mid > FURTHEST:
        return None
    return Forecast(
        low=counted_on + timedelta(math.floor(span.low)),
        mid=counted_on + timedelta(round(span.mid)),
        high=None if span.high > FURTHEST else counted_on + timedelta(math.ceil(span.high)),
        coverage=COVERAGE,
    )
