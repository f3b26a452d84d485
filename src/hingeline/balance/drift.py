"""Whether a surface weighs the same as it did: changes between weighings that no recorded work explains."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hingeline.errors import InputRefused

# Coverage factor of what is said here: about 95 % for a normal distribution.
K = 2.0
FEWEST_FOR_A_SLOPE = 3
LONGEST_YEARS = 200.0
LARGEST, SMALLEST_UNCERTAINTY = 1e6, 1e-12
"""No surface has a larger moment, no scale resolves a smaller one (common practice, no source) [N m]."""
SHORTEST_STRETCH = 0.5 / 365.25
"""Weighings of one day show no change a year [365.25 d]."""


@dataclass(frozen=True, slots=True)
class MomentOnDay:
    """One weighing in a surface's history.

    Parameters
    ----------
    years : float
        When, from any day that is the same for all [365.25 d].
    moment : float
        Static moment, tail-heavy positive [N m].
    standard_uncertainty : float or None
        Of the moment [N m]; None where none was stated: it is compared with nothing.
    work_before : bool
        Whether work on the surface is recorded since the weighing before: paint, ballast, a repair.
    """

    years: float
    moment: float
    standard_uncertainty: float | None
    work_before: bool = False


@dataclass(frozen=True, slots=True)
class Change:
    """What two neighbouring weighings say about the time between, in which no work is recorded.

    ``first`` and ``second`` are their places in the series; ``difference`` is second less first [N m];
    ``expanded_uncertainty`` is its own, k = 2 [N m].
    """

    first: int
    second: int
    difference: float
    expanded_uncertainty: float

    @property
    def is_beyond(self) -> bool:
        """Whether the change is larger than what the two weighings leave open."""
        return abs(self.difference) > self.expanded_uncertainty


@dataclass(frozen=True, slots=True)
class Slope:
    """The change a year over the last stretch without recorded work.

    ``per_year`` [N m per 365.25 d]; ``expanded_uncertainty`` is its own, k = 2; ``weighings`` is how many it
    rests on; ``scatter`` is the root of chi squared over its degrees of freedom: the uncertainty was
    widened by it where it is above 1.
    """

    per_year: float
    expanded_uncertainty: float
    weighings: int
    scatter: float

    @property
    def is_beyond(self) -> bool:
        """Whether the slope is larger than its own uncertainty."""
        return abs(self.per_year) > self.expanded_uncertainty


@dataclass(frozen=True, slots=True)
class Drift:
    """What a series of weighings shows; ``slope`` is None where fewer than three weighings bear on it."""

    changes: tuple[Change, ...]
    slope: Slope | None

    @property
    def beyond(self) -> tuple[Change, ...]:
        """The changes that are larger than their uncertainty."""
        return tuple(each for each in self.changes if each.is_beyond)

    @property
    def is_called_out(self) -> bool:
        """Whether a change or the slope is larger than its uncertainty."""
        return bool(self.beyond) or bool(self.slope and self.slope.is_beyond)


def look_for_drift(weighings: Sequence[MomentOnDay]) -> Drift:
    """Compare neighbouring weighings, and fit a slope to the last stretch without recorded work.

    Parameters
    ----------
    weighings : sequence of MomentOnDay
        In the order of time.

    Returns
    -------
    Drift
        Every comparison that can be made, and the slope. It names no cause: water inside, paint that nobody
        recorded and a repair look the same in these numbers.

    Raises
    ------
    InputRefused
        The weighings are not in the order of time, or a number is not finite or an uncertainty not above zero.

    Notes
    -----
    A change is called out where |x2 - x1| > k (u1^2 + u2^2)^(1/2), k = 2: the E_n number of ISO 13528 above 1,
    with expanded uncertainties (JCGM 100:2008, eq. 10, for the difference). Both weighings are taken as
    independent. What they share, such as the same scale, makes the true uncertainty of the difference smaller:
    the test is then slower to call out, not quicker.

    The slope is the straight line of least squares with weights 1/u^2; its variance is
    1 / sum w (t - t_w)^2, times chi^2 / (n - 2) where that is above 1 (common practice, no source).
    """
    _refuse_unusable(weighings)
    return Drift(tuple(_changes(weighings)), _slope(_last_stretch(weighings)))


def _refuse_unusable(weighings: Sequence[MomentOnDay]) -> None:
    before = -math.inf
    for index, each in enumerate(weighings):
        place = f"weighing[{index}]"
        for name, number, most in (("moment", each.moment, LARGEST), ("years", each.years, LONGEST_YEARS)):
            if not abs(number) <= most:  # NaN fails this too
                expected = "a finite moment on a day that can be"
                raise InputRefused.of(f"{place}.{name}", number, expected, "Check the number.")
        uncertain = each.standard_uncertainty
        if uncertain is not None and not SMALLEST_UNCERTAINTY <= uncertain <= LARGEST:
            expected = "an uncertainty above 0"
            raise InputRefused.of(f"{place}.uncertainty", uncertain, expected, "Leave it out.")
        if each.years < before:
            raise InputRefused.of(f"{place}.years", each.years, "the order of time", "Sort the weighings by day.")
        before = each.years


def _changes(weighings: Sequence[MomentOnDay]) -> Iterator[Change]:
    for second in range(1, len(weighings)):
        one, other = weighings[second - 1], weighings[second]
        if other.work_before or one.standard_uncertainty is None or other.standard_uncertainty is None:
            continue
        wide = K * math.hypot(one.standard_uncertainty, other.standard_uncertainty)
        yield Change(second - 1, second, other.moment - one.moment, wide)


def _last_stretch(weighings: Sequence[MomentOnDay]) -> list[MomentOnDay]:
    """Give the weighings since the last recorded work that have an uncertainty."""
    begun = max((index for index, each in enumerate(weighings) if each.work_before), default=0)
    return [each for each in weighings[begun:] if each.standard_uncertainty is not None]


def _slope(stretch: Sequence[MomentOnDay]) -> Slope | None:
    times = [each.years for each in stretch]
    if len(stretch) < FEWEST_FOR_A_SLOPE or times[-1] - times[0] < SHORTEST_STRETCH:
        return None
    weights = [1.0 / (each.standard_uncertainty or 1.0) ** 2 for each in stretch]
    middle = math.fsum(w * t for w, t in zip(weights, times, strict=True)) / math.fsum(weights)
    mean = math.fsum(w * each.moment for w, each in zip(weights, stretch, strict=True)) / math.fsum(weights)
    spread = math.fsum(w * (t - middle) ** 2 for w, t in zip(weights, times, strict=True))
    terms = (w * (t - middle) * (each.moment - mean) for w, t, each in zip(weights, times, stretch, strict=True))
    slope = math.fsum(terms) / spread
    rest = (
        w * (each.moment - mean - slope * (t - middle)) ** 2 for w, t, each in zip(weights, times, stretch, strict=True)
    )
    scatter = math.sqrt(math.fsum(rest) / (len(stretch) - 2))
    return Slope(slope, K * max(1.0, scatter) / math.sqrt(spread), len(stretch), scatter)
