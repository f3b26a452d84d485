"""Several recordings at several speeds or weights: where does growth begin, as an interval or not at all."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np
from numpy.typing import NDArray

from hingeline.errors import InputRefused, Refusal
from hingeline.motion.checks import one_of_the_words, refuse_unusable
from hingeline.motion.damped_fit import fit_damped
from hingeline.motion.facts import Facts, facts_of
from hingeline.motion.intervals import Estimates, first_guess
from hingeline.motion.margin import flutter_margin, lowest_zero
from hingeline.motion.onset_model import (
    Against,
    OnsetPoint,
    OnsetRange,
    OnsetResult,
    OnsetTask,
    Play,
    PointModes,
    Rest,
    SeenDamping,
    StopsBetween,
)
from hingeline.motion.onset_words import CAUTIONS, notes_of, refused_words
from hingeline.motion.results import Interval
from hingeline.motion.solve import decay_stretch, spoken_of
from hingeline.motion.under_a_decay import goes_on_under, grows_under
from hingeline.motion.verdict import Statement, Verdict

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

LEAST_POINTS, LEAST_KNOCKS, STILL_HIGH, WIDEST = 5, 3, 0.8, 1.6
DRAWN, LOW_END, HIGH_END, BELOW, ABOVE = 200, 5.0, 95.0, 0.04, 0.10
LEAST_ROOTS = 0.5
WEAK = 5e-4
"""Part of the energy that the weaker of two modes must hold."""
APART = 1.02
"""Frequencies of two modes must differ by this factor."""
SELF_EXCITED: tuple[Statement, ...] = ("growing", "sustained")
UNDER_A_DECAY = ("a swing grows under the decay", "a swing goes on under the decay")
"""Grounds of a knock that shows what may feed itself beside what dies out."""
WORST: tuple[Statement, ...] = ("growing", "sustained", "irregular", "cannot tell", "dying out")


def onset_of(task: OnsetTask) -> OnsetResult:
    """Say what recordings of knocks at several speeds, or weights, show of the onset.

    Parameters
    ----------
    task : OnsetTask

    Returns
    -------
    OnsetResult
        Against speed: an interval whose lower end comes first, or none, with the reason. Against weight: between
        which weights the motion stops feeding itself. Damping is listed, never extrapolated.

    Raises
    ------
    InputRefused
        With one refusal for every fault.

    Notes
    -----
    Two modes of each knock by damped swings; their flutter margin, linear and quadratic in dynamic pressure;
    knocks drawn again 200 times from a fixed seed; both kinds of zero pooled, 5 to 95 of 100, then widened by
    4 % below and 10 % above, because the scatter alone misses the bias.

    Examples
    --------
    One knock at one speed says nothing of an onset, and that is the answer.

    >>> import numpy as np
    >>> from hingeline.motion import OnsetTask, RecordingAt, onset_of, recording_of
    >>> times = np.arange(1200) / 120.0
    >>> swing = 0.01 * np.exp(-0.6 * times) * np.cos(2.0 * np.pi * 4.0 * times)
    >>> noise = 1e-4 * np.random.default_rng(1).standard_normal(1200)
    >>> knock = RecordingAt(30.0, recording_of(times, {"plunge": swing + noise}))
    >>> result = onset_of(OnsetTask((knock,)))
    >>> result.onset_speed is None, result.refused is not None
    (True, True)
    """
    _refuse(task)
    found = [_read(recording.at, facts_of(recording.recording)) for recording in task.recordings]
    points = tuple(_points(found))
    refused, onset = None, None
    if task.against == "weight":
        refused = refused_words("weight")
    else:
        refused = _refused_by_what_was_said(task) or _refused(found, points)
        if refused is None:
            refused, onset = _interval(found)
    return OnsetResult(
        name=task.name,
        against=task.against,
        points=points,
        onset_speed=onset,
        refused=refused,
        stops_between=_stops(found, points) if task.against == "weight" else None,
        damping_fell=_fell(points),
        notes=notes_of(task, onset),
        cautions=CAUTIONS,
    )


class _Knock:
    """What one recording gave."""

    def __init__(self, at: float, seen: SeenDamping, poles: Complex | None, *, fed: bool) -> None:
        self.at, self.seen, self.poles, self.fed = at, seen, poles, fed

    @property
    def statement(self) -> Statement:
        """Of its rules."""
        return self.seen.statement

    @property
    def margin(self) -> float:
        """Of its two modes."""
        assert self.poles is not None
        return flutter_margin(complex(self.poles[0]), complex(self.poles[1]))


def _refuse(task: OnsetTask) -> None:
    faults: list[Refusal] = [
        *one_of_the_words("against", task.against, Against),
        *one_of_the_words("rest", task.rest, Rest),
        *one_of_the_words("play", task.play, Play),
    ]
    if not task.recordings:
        faults.append(Refusal("recordings", "none", "at least one recording", "Name the files."))
    for index, each in enumerate(task.recordings):
        if not (np.isfinite(each.at) and 0.0 <= each.at <= 1000.0):
            expected = "a speed in m/s or a weight in kg, 0 to 1000"
            faults.append(Refusal(f"recordings[{index}].at", str(each.at), expected, "Check its unit."))
        if each.recording.time_scale.true_over_file is None:
            remedy = "State the capture rate: frequencies are needed here."
            faults.append(Refusal(f"recordings[{index}].time_scale", "unknown", "a known time scale", remedy))
        try:
            refuse_unusable(each.recording)
        except InputRefused as fault:
            faults += fault.at(f"recordings[{index}].").refusals
    if faults:
        raise InputRefused(faults)


def _read(at: float, facts: Facts) -> _Knock:
    verdict, _start, _stop, found = spoken_of(facts)
    return _Knock(at, _seen(verdict, found), two_poles(facts), fed=_may_feed_itself(facts, verdict))


def _may_feed_itself(facts: Facts, verdict: Verdict) -> bool:
    """Tell whether something in a knock may feed itself, also where a larger ground speaks before it.

    An even swing of a tenth of the knock makes the level change, and that rule comes first; it is no less a limit
    cycle than one of a fortieth, which is a ground of its own.
    """
    if verdict.statement in SELF_EXCITED or verdict.ground in UNDER_A_DECAY:
        return True
    return verdict.statement != "dying out" and (goes_on_under(facts) or grows_under(facts)) is not None


def _seen(verdict: Verdict, found: Estimates) -> SeenDamping:
    """Give the main motion of one recording, with its interval where one can be stated."""
    frequency, damping = found.frequency, found.damping_ratio
    return SeenDamping(
        verdict.statement,
        Interval(frequency.value, frequency.low, frequency.high, "Hz"),
        None if damping is None else Interval(damping.value, damping.low, damping.high, "1"),
    )


def two_poles(facts: Facts) -> Complex | None:
    """Give the two strongest damped swings of a decay, by frequency; None where there are not two."""
    if facts.falling is None:
        return None
    guess = first_guess(facts, facts.falling, WEAK)[:2]
    start, stop = decay_stretch(facts)
    values = facts.scaled[:, start:stop]
    if len(guess) < 2 or values.shape[1] < 40:
        return None
    fit = fit_damped(values, facts.tracks.rate, guess)
    poles = fit.poles[np.argsort(fit.poles.imag)]
    good = fit.usable and poles[0].imag > 0.0 and poles[1].imag > APART * poles[0].imag and (poles.real < 0.0).all()
    return poles if good else None


def _points(found: list[_Knock]) -> Iterator[OnsetPoint]:
    for at in sorted({each.at for each in found}):
        here = [each for each in found if each.at == at]
        good = [each.poles for each in here if each.poles is not None]
        statement = min((each.statement for each in here), key=WORST.index)
        margins = [each.margin for each in here if each.poles is not None]
        yield OnsetPoint(
            at, len(here), len(good), statement, tuple(_modes(np.array(good))) if good else (),
            float(np.mean(margins)) if margins else None, tuple(each.seen for each in here),
        )  # fmt: skip


def _modes(poles: Complex) -> Iterator[PointModes]:
    for column in poles.T:
        damping = -column.real / abs(column)
        yield PointModes(
            float(column.imag.mean() / (2.0 * np.pi)),
            float(damping.mean()),
            float(damping.std(ddof=1)) if len(damping) > 1 else None,
        )


def _refused_by_what_was_said(task: OnsetTask) -> str | None:
    """Say why what is known of the surface rules an onset speed out; None where nothing does."""
    if task.play == "above its limits":
        return refused_words("play")
    return refused_words("changed") if task.rest == "changed" else None


def _refused(found: list[_Knock], points: tuple[OnsetPoint, ...]) -> str | None:
    """Say why no onset speed may be given; None where one may."""
    if any(each.statement in SELF_EXCITED for each in found):
        return refused_words("already there")
    if any(each.fed for each in found):
        return refused_words("under a decay")
    if len(points) < LEAST_POINTS:
        return refused_words("few speeds", len(points), LEAST_POINTS)
    if min(point.good for point in points) < LEAST_KNOCKS:
        fewest = min(points, key=lambda point: point.good)
        return refused_words("few knocks", fewest.good, LEAST_KNOCKS, fewest.at)
    margins = [point.margin or 0.0 for point in points]
    if margins[-1] > STILL_HIGH * max(margins):
        return refused_words("no trend")
    return None


def _interval(found: list[_Knock]) -> tuple[str | None, OnsetRange | None]:
    """Pool the zeros of both fits over knocks drawn again; the lower end alone where the interval is wide."""
    speeds = sorted({each.at for each in found})
    by_speed = [np.array([each.margin for each in found if each.at == at and each.poles is not None]) for at in speeds]
    pressures, generator = np.array(speeds) ** 2, np.random.default_rng(0)
    zeros: list[float] = []
    for _ in range(DRAWN):
        margins = np.array([generator.choice(each, len(each)).mean() for each in by_speed])
        both = (lowest_zero(pressures, margins, order) for order in (1, 2))
        zeros += [zero for zero in both if zero is not None]
    if len(zeros) < LEAST_ROOTS * 2 * DRAWN:
        return refused_words("no zero"), None
    low, high = np.sqrt(np.percentile(zeros, [LOW_END, HIGH_END]))
    low, high = float(low * (1.0 - BELOW)), float(high * (1.0 + ABOVE))
    return None, OnsetRange(low, high if high <= WIDEST * low else None)


def _stops(found: list[_Knock], points: tuple[OnsetPoint, ...]) -> StopsBetween | None:
    """Give the weights between which the motion stops feeding itself: seen, never extrapolated.

    The upper one lies above every weight at which something may feed itself, under a decay as well.
    """
    fed = [each.at for each in found if each.fed]
    feeding = [point.at for point in points if point.statement in SELF_EXCITED]
    dying = [point.at for point in points if point.statement == "dying out"]
    above = [at for at in dying if not fed or at > max(fed)]
    return StopsBetween(max(feeding), min(above)) if feeding and above else None


def _fell(points: tuple[OnsetPoint, ...]) -> bool:
    """Tell whether the least damping at the last point lies below its largest before."""
    least = [min(mode.damping_ratio for mode in point.modes) for point in points if point.modes]
    return len(least) > 1 and least[-1] < max(least[:-1])
