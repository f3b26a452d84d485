"""Are the times regular, and what is missing? From tracks as they came to arrays on an even clock."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.model import Recording

Array = NDArray[np.float64]

EMPTY_STEPS = 100_000
"""So many usual steps without a sample are put on an even clock beside those with one, and as many again."""
LOST_FROM = 1.75
"""A step longer than this many usual ones means that samples are missing."""
ONE_TIME = 1e-6
"""Part of the usual step within which two samples are at one time: no clock tells them apart."""
EVEN = 0.02
"""Scatter of the steps, as a part of the usual one, up to which times count as regular."""
EVEN_IN_ALL = 0.25
"""Part of a step by which a sample may stand beside an even clock; else the clock ran unevenly."""
SAME_STEP = 1e-9
"""Part of a step up to which mean and median are one: written in full, times give both alike."""


@dataclass(frozen=True, slots=True)
class Clock:
    """What the times of a recording are like.

    Parameters
    ----------
    rate : float
        One over the usual step: that of the line through all times where they are even, else the median [1/s].
    jitter : float
        Standard deviation of the steps that are no gaps, over the usual step.
    longest_gap : float
        Longest step [s].
    lost : float
        Part of the samples that is missing, by time and by value.
    regular : bool
        Whether the steps are even and none is missing.
    """

    rate: float
    jitter: float
    longest_gap: float
    lost: float
    regular: bool


@dataclass(frozen=True, slots=True)
class Tracks:
    """Channels on an even clock.

    Parameters
    ----------
    rate : float
        [1/s]
    start : float
        Time of the first sample [s].
    values : array, shape (channels, n)
    raw : array, shape (channels, n), optional
        The same before drift was taken out.
    """

    rate: float
    start: float
    values: Array
    raw: Array | None = None

    @property
    def length(self) -> float:
        """From the first sample to the last [s]."""
        return float(self.values.shape[1] - 1) / self.rate


def told_apart(times: Array) -> Array:
    """Say of times in order which a clock tells from the one before; of samples at one time the first is kept."""
    steps = np.diff(times)
    return np.concatenate([[True], steps > ONE_TIME * np.median(steps)]) if len(steps) else np.ones(len(times), bool)


def together(times: Array) -> slice:
    """Find the most samples that an even clock can hold; what lies farther off in time is left out.

    One mistyped time, or a clock that was set while it recorded, would else make a day of a few seconds.
    """
    first, last = 0, len(times)
    longest = (EMPTY_STEPS + 2 * len(times)) * float(np.median(np.diff(times)))
    while times[last - 1] - times[first] > longest:
        steps = np.diff(times[first:last])
        # Half of the longest step: at least that one is cut, so this ends.
        edges = np.array([0, *(np.flatnonzero(steps > steps.max() / 2.0) + 1), last - first])
        best = int(np.argmax(np.diff(edges)))
        first, last = first + int(edges[best]), first + int(edges[best + 1])
    return slice(first, last)


def arrays_of(recording: Recording) -> tuple[Array, Array]:
    """Give times in true seconds (of the file where the scale is unknown), sorted, and channels; NaN where lost."""
    scale = recording.time_scale.true_over_file or 1.0
    times = np.asarray(recording.times, dtype=float) * scale
    values = np.array([np.array(channel.values, dtype=float) for channel in recording.channels])
    times, first = np.unique(times, return_index=True)
    kept = told_apart(times)
    return times[kept], values[:, first[kept]]


def clock_of(times: Array, values: Array) -> Clock:
    """Describe the times: rate, jitter, the longest gap, what is missing."""
    known = np.isfinite(values).all(axis=0)
    steps = np.diff(times)
    usual = float(np.median(steps))
    whole = steps[steps < LOST_FROM * usual]
    jitter = float(np.std(whole) / usual) if len(whole) else 0.0
    step = _even_step(times, whole, usual) if jitter <= EVEN else usual
    # Of uneven steps the mean counts the samples: of 8, 8 and 9 ms the middle one would miss 4 % that never were.
    counting = step if jitter <= EVEN or not len(whole) else float(np.mean(whole))
    wanted = max(1.0, round((times[-1] - times[0]) / counting) + 1.0)
    lost = float(np.clip(1.0 - known.sum() / wanted, 0.0, 1.0))
    longest = float(np.diff(times[known]).max()) if known.sum() > 1 else float(times[-1] - times[0])
    even = jitter <= EVEN and longest < LOST_FROM * usual and _beside(times, step) <= EVEN_IN_ALL * step
    return Clock(1.0 / step, jitter, longest, lost, even)


def _even_step(times: Array, steps: Array, usual: float) -> float:
    """Give the step of times that are nearly even: rounded ones have a median that is off by up to their rounding.

    Thirty frames a second in whole milliseconds are 33, 33 and 34 ms: by the median 30.3 a second. So the line
    through all times; beside gaps, whose samples are not counted here, the mean of the other steps.
    """
    whole = len(steps) == len(times) - 1
    place = np.arange(len(times)) - (len(times) - 1) / 2.0
    step = float(np.sum(place * (times - times[0])) / np.sum(place**2)) if whole else float(np.mean(steps))
    return usual if abs(step - usual) <= SAME_STEP * usual else step


def _beside(times: Array, step: float) -> float:
    """Give how far a sample stands from its place on an even clock at most [s]."""
    off = times - times[0] - step * np.arange(len(times))
    return float(np.ptp(off) / 2.0)


def on_an_even_clock(times: Array, values: Array, clock: Clock) -> Tracks:
    """Bring channels onto an even clock at the usual step; where they are already, nothing is changed.

    Missing values are bridged by a monotone cubic (PCHIP, Fritsch and Carlson 1980, from memory); what is too
    long to bridge must be cut out before, by :func:`longest_piece`.
    """
    known = np.isfinite(values).all(axis=0)
    if clock.regular and known.all():
        return Tracks(clock.rate, float(times[0]), values)
    times, values = times[known], values[:, known]
    count = int(np.floor((times[-1] - times[0]) * clock.rate + 1e-9)) + 1
    even = times[0] + np.arange(count) / clock.rate
    return Tracks(clock.rate, float(times[0]), monotone_cubic(times, values, even))


def longest_piece(times: Array, values: Array, longest_gap: float) -> tuple[Array, Array]:
    """Cut at every gap longer than ``longest_gap`` [s] and give the longest piece; gaps are never filled with zeros."""
    known = np.isfinite(values).all(axis=0)
    times, values = times[known], values[:, known]
    cuts = np.flatnonzero(np.diff(times) > longest_gap) + 1
    edges = [0, *cuts.tolist(), len(times)]
    spans = [times[stop - 1] - times[start] for start, stop in pairwise(edges)]
    best = int(np.argmax(spans))
    piece = slice(edges[best], edges[best + 1])
    return times[piece], values[:, piece]


def monotone_cubic(times: Array, values: Array, wanted: Array) -> Array:
    """Interpolate channels by cubics that never overshoot the samples (PCHIP).

    Slopes inside are weighted harmonic means of the two neighbouring steps, 0 where they turn (Fritsch and Butland
    1984, from memory); at the ends the step's own slope.

    Parameters
    ----------
    times : array, shape (n,)
        Rising [s].
    values : array, shape (channels, n)
    wanted : array, shape (m,)
        Times between the first and the last [s].

    Examples
    --------
    >>> monotone_cubic(np.array([0.0, 1.0, 2.0]), np.array([[0.0, 1.0, 4.0]]), np.array([1.0])).tolist()
    [[1.0]]
    """
    steps = np.diff(times)
    slopes = np.diff(values, axis=1) / steps
    left, right = 2.0 * steps[1:] + steps[:-1], steps[1:] + 2.0 * steps[:-1]
    turning = slopes[:, :-1] * slopes[:, 1:] <= 0.0
    before, after = np.where(turning, 1.0, slopes[:, :-1]), np.where(turning, 1.0, slopes[:, 1:])
    inner = np.where(turning, 0.0, (left + right) / (left / before + right / after))
    at_knots = np.concatenate([slopes[:, :1], inner, slopes[:, -1:]], axis=1)
    piece = np.clip(np.searchsorted(times, wanted, side="right") - 1, 0, len(steps) - 1)
    step, part = steps[piece], (wanted - times[piece]) / steps[piece]
    rising = part * part * (3.0 - 2.0 * part)
    first, last = part * (1.0 - part) ** 2, -part * part * (1.0 - part)
    return np.asarray(
        (1.0 - rising) * values[:, piece]
        + rising * values[:, piece + 1]
        + step * (first * at_knots[:, piece] + last * at_knots[:, piece + 1])
    )
