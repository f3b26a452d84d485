"""What the models of a workshop's own share: a weighing that flows in, their knobs, what scatters, their slack."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from hingeline.flutter import FlutterTask, FreePlay, ScatteredField
from hingeline_app.why_balance.knobs import KNOT, Knob, Settings

HEADING = "Model. Not a limit."
DEGREE = math.pi / 180.0


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weighing that gives a model its static moment.

    Parameters
    ----------
    words : str
        Which weighing, with its value and ±, for people.
    moment, standard_uncertainty : float
        About the hinge line, tail-heavy positive, all that was fitted included [N m].
    span : float
        Of the weighed surface: a strip stands for one metre of it [m].
    """

    words: str
    moment: float
    standard_uncertainty: float
    span: float = 1.0


def changed(
    task: FlutterTask, settings: Settings, scatter: tuple[ScatteredField, ...], play: FreePlay | None, **part: Any
) -> FlutterTask:
    """Give the task with its structure as the knobs have it."""
    slack = replace(play, half_gap=settings["play"]) if play and settings["play"] > 0.0 else None
    return replace(task, scatter=scatter, free_play=slack, **part)


def last_knobs(task: FlutterTask, play: FreePlay | None) -> list[Knob]:
    """Give the knobs of speed, and of slack where the file states some."""
    low, high = (round(each / KNOT) for each in task.speeds)
    low, middle = max(1, low), (low + high) // 2
    speed = Knob("speed", "airspeed", "kn", float(low), float(max(high, low + 1)), 1.0, float(max(middle, low)), KNOT)
    if play is None:
        return [speed]
    return [Knob("play", "free play, each way", "°", *from_nought(play.half_gap / DEGREE), DEGREE), speed]


def kept_scatter(task: FlutterTask, there: Mapping[str, bool]) -> tuple[ScatteredField, ...]:
    """Give what the file says of uncertain inputs, as parts of their values; without what is not there now."""
    gone = [name for name, is_there in there.items() if not is_there]
    kept = [each for each in task.scatter if not any(name in each.field for name in gone)]
    return tuple(each for each in kept if each.relative is not None and "[" not in each.field)


def with_weighed(scatter: tuple[ScatteredField, ...], field: str, relative: float) -> tuple[ScatteredField, ...]:
    """Let the weighing's own ± stand in the place of what the file says of that field."""
    return (*(each for each in scatter if each.field != field), ScatteredField(field, relative=relative))


def from_nought(start: float, lowest: float = 0.0) -> tuple[float, float, float, float]:
    """Give low, high, step and start of a knob that runs from nought to about twice its start."""
    step = _step(start)
    return _down(lowest * start, step), _up(2.0 * start, step), step, float(f"{start:.12g}")


def both_ways(start: float, reach: float) -> tuple[float, float, float, float]:
    """Give low, high, step and start of a knob that runs to both sides of nought."""
    whole = max(1.5 * abs(start), abs(reach))
    step = _step(whole)
    return _down(-whole, step), _up(whole, step), step, float(f"{start:.12g}")


def _step(size: float) -> float:
    """Give a round step of about a fortieth of a size."""
    wanted = abs(size) / 40.0 or 0.01
    power = 10.0 ** math.floor(math.log10(wanted))
    return float(f"{next(each for each in (1.0, 2.0, 5.0, 10.0) if each * power >= wanted * 0.999) * power:.6g}")


def _down(value: float, step: float) -> float:
    return float(f"{math.floor(value / step + 1e-9) * step:.12g}")


def _up(value: float, step: float) -> float:
    return float(f"{math.ceil(value / step - 1e-9) * step:.12g}")
