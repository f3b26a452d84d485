"""What a limit bar is made from, and the axis it stands on."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from hingeline_app.figures.wording import (
    capitalised,
    describe_margin,
    format_measured,
    format_moment_range,
    limit_places,
    measured_places,
)

PADDING = 0.21  # of the band, on each side: where the hatch shows
FAR = 2.0  # a value farther beyond the rest than this many times its extent is shown by an arrow at the edge
DETAIL_BELOW = 0.06  # 2U as a part of the axis, under which an enlarged detail is drawn
LEAST_EXTENT = 1e-9  # N m: less than any balance can tell from nothing
NEAR = 1.7  # how many U from a limit still counts as near it
DETAIL_SPAN = 5.6  # U


@dataclass(frozen=True, slots=True)
class LimitBar:
    """A measured moment against its limits.

    Parameters
    ----------
    value : float or None
        Measured static moment, tail-heavy positive [N m]; None draws the limits alone.
    uncertainty : float or None
        Expanded uncertainty [N m]; None when none can be given.
    lower, upper : float or None
        Approved limits [N m]; None on an open side.
    guarded_lower, guarded_upper : float or None
        The same drawn in by U [N m].
    statement : str or None
        ``inside``, ``outside``, ``too close to tell`` or None.
    coverage_factor : float or None
        k of the uncertainty.
    """

    value: float | None
    uncertainty: float | None = None
    lower: float | None = None
    upper: float | None = None
    guarded_lower: float | None = None
    guarded_upper: float | None = None
    statement: str | None = None
    coverage_factor: float | None = None

    @property
    def limits(self) -> tuple[float, ...]:
        """Return the limits that exist, lower first."""
        return tuple(limit for limit in (self.lower, self.upper) if limit is not None)

    @property
    def places(self) -> int:
        """Return the decimals at which the value and its interval are written."""
        if self.value is None:
            return limit_places(self.limits)
        return measured_places(self.value, self.uncertainty)

    @property
    def interval(self) -> tuple[float, float] | None:
        """Return value ± U, or None where either is missing."""
        if self.value is None or self.uncertainty is None:
            return None
        return self.value - self.uncertainty, self.value + self.uncertainty

    @property
    def guarded_is_empty(self) -> bool:
        """Tell whether the limits lie closer together than 2U."""
        if self.guarded_lower is None or self.guarded_upper is None:
            return False
        return self.guarded_lower > self.guarded_upper


@dataclass(frozen=True, slots=True)
class Axis:
    """Values across a picture, from ``low`` at ``left`` to ``high`` at ``right``."""

    low: float
    high: float
    left: float
    right: float

    @property
    def scale(self) -> float:
        """Return pixels per unit."""
        return (self.right - self.left) / (self.high - self.low)

    def x(self, value: float) -> float:
        """Return where a value stands, kept on the axis."""
        return max(self.left, min(self.right, self.left + (value - self.low) * self.scale))

    def holds(self, value: float) -> bool:
        """Tell whether a value lies on the axis."""
        return self.low <= value <= self.high


def axis_for(bar: LimitBar, left: float, right: float) -> Axis:
    """Choose the axis: zero and the limits always, the value unless it is very far off."""
    ends = [0.0, *bar.limits]
    low, high = min(ends), max(ends)
    shown = bar.interval or ((bar.value, bar.value) if bar.value is not None else (low, high))
    extent = high - low
    if extent == 0.0 or (shown[0] >= low - FAR * extent and shown[1] <= high + FAR * extent):
        low, high = min(low, shown[0]), max(high, shown[1])
    elif bar.value is not None and extent > 0.0 and low - FAR * extent <= bar.value <= high + FAR * extent:
        low, high = min(low, bar.value), max(high, bar.value)
    extent = high - low if high - low > LEAST_EXTENT else 1.0
    return Axis(low - PADDING * extent, high + PADDING * extent, left, right)


def shared_axis(bars: Sequence[LimitBar], left: float, right: float) -> Axis:
    """Choose one axis that holds all of them."""
    axes = [axis_for(bar, left, right) for bar in bars]
    return replace(axes[0], low=min(axis.low for axis in axes), high=max(axis.high for axis in axes))


def ticks(axis: Axis, most: int) -> tuple[list[float], int]:
    """Return round values along an axis, zero among them, and the decimals to write them with."""
    wished = (axis.high - axis.low) / most
    power = math.floor(math.log10(wished))
    step = next(base * 10.0**power for base in (1.0, 2.0, 2.5, 5.0, 10.0) if base * 10.0**power >= wished * 0.999)
    first, last = math.ceil(axis.low / step), math.floor(axis.high / step)
    decimals = max(
        0,
        -power + (1 if round(step / 10.0**power, 3) == 2.5 else 0) - (1 if step >= 10.0 ** (power + 1) else 0),
    )
    return [index * step for index in range(first, last + 1)], decimals


def detail_axis(bar: LimitBar, axis: Axis) -> Axis | None:
    """Return the axis of the enlarged detail, or None where the bar itself shows enough."""
    if bar.value is None or not bar.limits or not axis.holds(bar.value):
        return None
    span = axis.high - axis.low
    half = bar.uncertainty or 0.015 * span
    if 2.0 * half >= DETAIL_BELOW * span:
        return None
    nearest = min(bar.limits, key=lambda limit: abs(limit - (bar.value or 0.0)))
    if abs(bar.value - nearest) <= NEAR * half:
        return Axis(nearest - DETAIL_SPAN * half / 2.0, nearest + DETAIL_SPAN * half / 2.0, axis.left, axis.right)
    return _band_detail(bar, axis, half)


def _band_detail(bar: LimitBar, axis: Axis, half: float) -> Axis | None:
    """Return a detail of a whole band that is too narrow to be read on the axis."""
    if len(bar.limits) < 2 or bar.value is None:
        return None
    low, high = min(bar.limits[0], bar.value - half), max(bar.limits[1], bar.value + half)
    if bar.limits[1] - bar.limits[0] > 0.15 * (axis.high - axis.low) or high - low > 0.3 * (axis.high - axis.low):
        return None
    return Axis(low - 0.25 * (high - low), high + 0.25 * (high - low), axis.left, axis.right)


def finding_words(bar: LimitBar) -> str:
    """Say what the bar shows, in sentences."""
    sentences = [f"Limit bar. Approved limits: {format_moment_range(bar.lower, bar.upper)}"]
    if bar.guarded_is_empty:
        sentences.append("The guarded band is empty: the limits lie closer together than twice U")
    if bar.value is not None:
        measured = format_measured(bar.value, bar.uncertainty, "N m", sense=True)
        sentences.append(f"Measured {measured}" + ("" if bar.uncertainty is not None else ", without a ±"))
        sentences.append(capitalised(describe_margin(bar.value, bar.lower, bar.upper, bar.places)))
    if bar.statement:
        sentences.append(f"Statement: {bar.statement}")
    return ". ".join(sentences) + "."
