"""Limit cycles of a model with free play: by one harmonic, by many, and by marching from several starts."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np

from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.cycle_fit import Motion, motion_of
from hingeline.flutter.describing import OneHarmonic, amplitude_of, cycle_speeds, cycles_at
from hingeline.flutter.harmonic_balance import ORDERS, Balanced, balance_harmonics
from hingeline.flutter.marching import March, Progress, march
from hingeline.flutter.model import FlutterTask, Harmonic, LimitCycle
from hingeline.flutter.slack import Slack, slack_of
from hingeline.flutter.system import ComplexArray

PARTS = 48
NOTES = (
    "Free play: the wake is taken by two lags, in every way alike; the gap is centred, without friction or preload.",
    "A motion that dies out from one start may cycle from another, a smaller one too: the starts tried are few.",
    "One harmonic misses cycles that hardly leave the gap by up to 14 % of amplitude.",
)


def limit_cycles(
    task: FlutterTask, speeds: Sequence[float], progress: Progress | None = None
) -> tuple[LimitCycle, ...]:
    """Find the cycles that free play keeps going.

    Parameters
    ----------
    task : FlutterTask
        With ``free_play``.
    speeds : sequence of float
        True airspeeds [m/s].
    progress : callable, optional
        Called with steps done and steps in all of the march; answers False to stop.

    Returns
    -------
    tuple of LimitCycle
        By speed: first what one harmonic foresees (unstable cycles included), then each start's march, and
        after a marched cycle the same by fifteen harmonics. Without marches where it was stopped.

    Raises
    ------
    InputRefused
        The task cannot be computed, or has no slack.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, FreePlay, Tailplane, limit_cycles
    >>> tail = Tailplane(3.0, 0.76, 0.25, 0.42, 11.0, 0.62, 25.0, 8.0, circuit_stiffness=3500.0)
    >>> play = FreePlay(half_gap=0.0087, place="circuit", starts=(1.5,))
    >>> given = FlutterTask(Air(density=1.225), (1.0, 80.0), tailplane=tail, damping_ratios=(0.01, 0.01),
    ...                     free_play=play)
    >>> [cycle.method for cycle in limit_cycles(given, [45.0])]
    ['one harmonic', 'marching', 'harmonic balance']
    """
    refuse_unusable(task)
    slack = slack_of(task)
    assert task.free_play is not None
    marched = march(slack, [(speed, start) for speed in speeds for start in task.free_play.starts], progress=progress)
    found: list[LimitCycle] = []
    for speed in speeds:
        found += [_by_one(slack, one) for one in cycles_at(slack, speed)]
        for run in (run for run in marched if run.speed == speed):
            found += _by_march(slack, run)
    return tuple(found)


def _by_one(slack: Slack, one: OneHarmonic) -> LimitCycle:
    return LimitCycle(
        one.speed, None, "one harmonic", "cycle", one.amplitude, one.amplitude * slack.half_gap, one.amplitude,
        one.angular_frequency / (2 * math.pi), (Harmonic(1, one.amplitude),),
    )  # fmt: skip


def _by_march(slack: Slack, run: March) -> list[LimitCycle]:
    """Give a run's outcome, and the same cycle by many harmonics where it is one."""
    motion = motion_of(run)
    if motion.outcome in ("dies out", "grows"):
        return [LimitCycle(run.speed, run.start, "marching", motion.outcome)]
    found = [_of_march(slack, run, motion)]
    if motion.outcome == "cycle":
        balanced = balance_harmonics(slack, run.speed, motion.angular_frequency, motion.coefficients[::2])
        found += [] if balanced is None else [_by_many(slack, run, balanced)]
    return found


def _of_march(slack: Slack, run: March, motion: Motion) -> LimitCycle:
    fundamental = float(abs(motion.coefficients[0]))
    cycle = motion.outcome == "cycle"
    return LimitCycle(
        run.speed, run.start, "marching", motion.outcome, fundamental if cycle else None,
        fundamental * slack.half_gap if cycle else None, motion.peak, motion.angular_frequency / (2 * math.pi),
        _harmonics(np.arange(1, len(motion.coefficients) + 1), motion.coefficients) if cycle else (),
    )  # fmt: skip


def _by_many(slack: Slack, run: March, balanced: Balanced) -> LimitCycle:
    return LimitCycle(
        run.speed, run.start, "harmonic balance", "cycle", balanced.fundamental,
        balanced.fundamental * slack.half_gap, balanced.peak, balanced.angular_frequency / (2 * math.pi),
        _harmonics(ORDERS, balanced.coefficients),
    )  # fmt: skip


def _harmonics(orders: np.ndarray[tuple[int], np.dtype[np.int64]], coefficients: ComplexArray) -> tuple[Harmonic, ...]:
    return tuple(Harmonic(int(order), float(abs(one))) for order, one in zip(orders, coefficients, strict=True))


def lowest_cycle(slack: Slack, speeds: tuple[float, float]) -> OneHarmonic | None:
    """Find the lowest speed of a cycle by one harmonic, over all amplitudes.

    Parameters
    ----------
    slack : Slack
    speeds : (float, float)
        Range searched [m/s].

    Returns
    -------
    OneHarmonic or None
        None where no part of the spring lets anything cycle in the range. The march can find cycles a little
        below: one harmonic is an estimate.
    """
    parts = np.sin(np.linspace(0.0, np.pi / 2, PARTS + 2)[1:-1]) ** 4
    lowest = np.array([_lowest(slack, part, speeds) for part in parts])
    if not np.isfinite(lowest).any():
        return None
    middle = int(lowest.argmin())
    low, high = parts[max(middle - 1, 0)], parts[min(middle + 1, PARTS - 1)]
    part = _narrowed(slack, float(low), float(high), speeds)
    point = min(cycle_speeds(slack, amplitude_of(part), speeds), key=lambda one: one.speed)
    return OneHarmonic(point.speed, amplitude_of(part), point.angular_frequency, part)


def _lowest(slack: Slack, part: float, speeds: tuple[float, float]) -> float:
    return min((one.speed for one in cycle_speeds(slack, amplitude_of(part), speeds)), default=math.inf)


def _narrowed(slack: Slack, low: float, high: float, speeds: tuple[float, float]) -> float:
    """Narrow the place of the least by the golden section."""
    golden = (math.sqrt(5.0) - 1.0) / 2.0
    for _ in range(40):
        left, right = high - golden * (high - low), low + golden * (high - low)
        nearer = _lowest(slack, left, speeds) <= _lowest(slack, right, speeds)
        low, high = (low, right) if nearer else (left, high)
    return (low + high) / 2
