"""What slack adds to an answer: at which speeds it is looked at, what keeps going there, and what is said of it."""

from __future__ import annotations

import math
from dataclasses import replace

from hingeline.flutter.free_play import NOTES, limit_cycles, lowest_cycle
from hingeline.flutter.model import FlutterResult, FlutterTask
from hingeline.flutter.slack import slack_of

SPEEDS = 8
SLACK = "With the free play in the file "
"""How the sentence begins that belongs to the finding."""


def with_cycles(task: FlutterTask, result: FlutterResult) -> FlutterResult:
    """Add the motions that slack keeps going, below the speed at which growth starts without it.

    Parameters
    ----------
    task : FlutterTask
        With ``free_play``.
    result : FlutterResult
        Of the same task, the spring taken whole.

    Returns
    -------
    FlutterResult
    """
    cycles = limit_cycles(task, speeds_below(task, result))
    notes = (first_cycle_words(task), *NOTES, *result.notes)
    return replace(result, limit_cycles=cycles, notes=notes)


def speeds_below(task: FlutterTask, result: FlutterResult) -> tuple[float, ...]:
    """Give speeds in even steps from the lowest one up to the onset without slack, or to the highest one."""
    low, high = task.speeds
    top = high if result.flutter is None else result.flutter.speed
    return tuple(low + (top - low) * step / SPEEDS for step in range(1, SPEEDS + (result.flutter is None)))


def first_cycle_words(task: FlutterTask) -> str:
    """Say from which speed on one harmonic foresees a motion that keeps going."""
    low, high = task.speeds
    first = lowest_cycle(slack_of(task), (low, high))
    if first is None:
        return (
            f"With the free play in the file no motion that it keeps going is foreseen from {low:.4g} "
            f"to {high:.4g} m/s: not proof."
        )
    hertz = first.angular_frequency / (2.0 * math.pi)
    return (
        f"With the free play in the file a motion can keep going from {first.speed:.4g} m/s on, at {hertz:.4g} Hz "
        "(one harmonic: an estimate)."
    )
