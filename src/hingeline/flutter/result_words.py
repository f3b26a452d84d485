"""What every flutter result says beside its numbers: assumptions, notes, cautions."""

from __future__ import annotations

from hingeline.flutter.air_words import air_assumptions
from hingeline.flutter.model import FlutterTask, Onset

FAST = 100.0
SLOW_MOTION = 1.0
MODEL = (
    "This is a model, not a proof: it says nothing about an aircraft that was not tested. No number here shows that an "
    "aircraft is free of flutter."
)
AIRSPEED = "Speeds are true airspeed. The airspeed indicator shows less at altitude, and has its own error."
DAMPING_MATTERS = (
    "Control modes have little damping of their own: with another assumed damping the speed can be very different."
)
COMPRESSIBLE = "Above about 100 m/s the air no longer behaves as incompressible: the true speed may be lower."
DOUBTFUL_DAMPING = "At so low a frequency damping as part of a stiffness is doubtful: compare with g = 0."


def assumptions_of(task: FlutterTask) -> tuple[str, ...]:
    """Say what was assumed: air, wake, lift slope, damping."""
    air = air_assumptions(task.wake, task.lift_slope_factor, task.lift_slope_source)
    return (*air, damping_words(task))


def damping_words(task: FlutterTask) -> str:
    """Say which damping of the structure was assumed."""
    numbers = ", ".join(f"{number:g}" for number in task.structural_damping)
    ratios = ", ".join(f"{ratio:g}" for ratio in task.damping_ratios)
    stated = [f"viscous damping ratios {ratios} of the modes in still vacuum"] if ratios else []
    viscous = "; ".join([*stated, *_dampers(task)]) or "no viscous damping ratios"
    return f"Damping assumed: structural damping g = {numbers} of each stiffness; {viscous}."


def _dampers(task: FlutterTask) -> tuple[str, ...]:
    """Say which dampers a tailplane has beside its two springs."""
    tail = task.tailplane
    if tail is None or not (tail.support_damping_ratio or tail.circuit_damping_ratio):
        return ()
    support, circuit = tail.support_damping_ratio, tail.circuit_damping_ratio
    return (f"dampers at support and circuit with damping ratios {support:g} and {circuit:g}, weights off",)


def cautions_of(task: FlutterTask, flutter: Onset | None, *, growing: bool) -> tuple[str, ...]:
    """Give the cautions of a result: the model's, and those of what was found."""
    return (MODEL, AIRSPEED, *_of_finding(task, flutter, growing=growing), DAMPING_MATTERS, *_of_range(task, flutter))


def _of_finding(task: FlutterTask, flutter: Onset | None, *, growing: bool) -> tuple[str, ...]:
    low, high = task.speeds
    if growing:
        return (f"A motion grows already at {low:.4g} m/s, the lowest speed searched.",)
    if flutter is not None:
        return (
            f"A motion grows from {flutter.speed:.4g} m/s on: an estimate. A limit must stay well below, by the rules "
            "that apply.",
        )
    return (
        f"No growing oscillation was found from {low:.4g} to {high:.4g} m/s: a finding for this range and this model, "
        "not safety.",
    )


def _of_range(task: FlutterTask, flutter: Onset | None) -> tuple[str, ...]:
    found = []
    if (flutter.speed if flutter is not None else task.speeds[1]) > FAST:
        found.append(COMPRESSIBLE)
    if flutter is not None and flutter.frequency < SLOW_MOTION and any(task.structural_damping):
        found.append(DOUBTFUL_DAMPING)
    return tuple(found)


def notes_on_onset(task: FlutterTask, flutter: Onset | None, counts: tuple[int, ...]) -> tuple[str, ...]:
    """Say why there is no flutter speed, where there is none."""
    if counts[0]:
        return (_growing_from_the_start(task, counts),)
    if flutter is None:
        return (
            f"No flutter speed: no mode starts to grow between {task.speeds[0]:.4g} and {task.speeds[1]:.4g} m/s; "
            f"growing roots were counted at {len(counts)} speeds.",
        )
    return ()


def _growing_from_the_start(task: FlutterTask, counts: tuple[int, ...]) -> str:
    modes = "a mode grows" if counts[0] == 1 else f"{counts[0]} modes grow"
    always = "; something grows at every speed that was looked at." if min(counts) > 0 else "."
    return (
        f"No flutter speed: {modes} already at {task.speeds[0]:.4g} m/s, the lowest searched, so that there is no "
        "crossing to find"
    ) + always


def notes_on_divergence(task: FlutterTask, speeds: tuple[float, ...]) -> tuple[str, ...]:
    """Say where divergence lies when it is not in the range, and where another follows."""
    if not speeds:
        return ("No divergence at any speed, by this model.",)
    low, high = task.speeds
    first = () if low <= speeds[0] <= high else (_beside_the_range(speeds[0], low),)
    more = tuple(
        f"A further divergence, of another shape, at {speed:.4g} m/s." for speed in speeds[1:] if speed <= high
    )
    return (*first, *more)


def _beside_the_range(speed: float, low: float) -> str:
    if speed < low:
        return (
            f"Already diverged at {speed:.4g} m/s, below the range searched: the air overcomes the stiffness in all "
            "of it."
        )
    return f"Divergence at {speed:.4g} m/s, above the range searched."


def note_on_turned(speeds: tuple[float, ...]) -> tuple[str, ...]:
    """Say that a growing oscillation became a growth without swinging, which is no neutral point."""
    return tuple(
        f"About {speed:.4g} m/s a growing motion stops swinging (or starts to): it goes on growing, one way."
        for speed in speeds
    )
