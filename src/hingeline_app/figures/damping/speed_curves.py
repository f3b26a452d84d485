"""Damping and frequency of every motion over speed, as SVG.

Below the zero line of damping a motion grows: hatched, and drawn heavy there. Nothing is shaded as
good; what was left out of the picture is said in it.
"""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.figures.axis import Axis
from hingeline_app.figures.damping.parts import (
    Panel,
    draw_crossings,
    draw_modes,
    draw_panel,
    draw_speed_scales,
    grows,
    name_modes,
)
from hingeline_app.figures.lettering import Ground, Label, wrapped
from hingeline_app.figures.svg import Drawing, hatching
from hingeline_app.figures.wording import count_of, format_number
from hingeline_app.figures.writing import write_labels

__all__ = ["CurvePoint", "ModeCurve", "NeutralMark", "SpeedCurves", "draw_speed_curves"]

LEFT, RIGHT, ROW = 66.0, 44.0, 20.0
ROOM_FOR_OTHER_FONTS = 90.0
DAMPING_HEIGHT, FREQUENCY_HEIGHT, BETWEEN = 220.0, 150.0, 40.0
MOST_DAMPING, LEAST_DAMPING, MOST_GROWTH, LEAST_GROWTH = 0.30, 0.05, 0.30, 0.02
LEAST_SHARE = 0.16
ABOVE_THE_GROWING = 2.5
MODES_WITHOUT_GROWTH = 6


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """One motion at one speed: true airspeed [m/s], frequency [Hz], damping as a part of critical [1]."""

    speed: float
    frequency: float
    damping: float


@dataclass(frozen=True, slots=True)
class ModeCurve:
    """One motion over speed, in runs without a gap."""

    number: int
    runs: tuple[tuple[CurvePoint, ...], ...]

    @property
    def points(self) -> tuple[CurvePoint, ...]:
        """Return all points."""
        return tuple(point for run in self.runs for point in run)


@dataclass(frozen=True, slots=True)
class NeutralMark:
    """A speed [m/s] and frequency [Hz] at which a motion starts growing, or stops."""

    speed: float
    frequency: float
    starts: bool


@dataclass(frozen=True, slots=True)
class SpeedCurves:
    """What is drawn.

    Parameters
    ----------
    low, high : float
        Range of true airspeed [m/s].
    modes : tuple of ModeCurve
    marks : tuple of NeutralMark
        Every neutral point.
    onset : float or None
        Where growth starts first [m/s]; named in the picture.
    finding : tuple of str
        What was found, sentence by sentence; written on top.
    """

    low: float
    high: float
    modes: tuple[ModeCurve, ...]
    marks: tuple[NeutralMark, ...]
    onset: float | None
    finding: tuple[str, ...]


def draw_speed_curves(curves: SpeedCurves, width: float = 650) -> str:
    """Draw damping over speed, and frequency under it.

    Parameters
    ----------
    curves : SpeedCurves
    width : float
        The width it will be shown at, in pixels.
    """
    drawing, ground = Drawing(width, 0.0, " ".join(curves.finding)), Ground(width)
    top = _write_finding(ground, curves.finding)
    speed = Axis(curves.low, curves.high, LEFT, width - RIGHT)
    shown = shown_modes(curves)
    damping, frequency = _panels(curves, shown, top + 46.0)
    drawing.path(hatching(LEFT, damping.y(0.0), width - RIGHT - LEFT, damping.bottom - damping.y(0.0)), "hatch")
    draw_speed_scales(drawing, ground, speed, damping.top, frequency.bottom)
    for panel in (damping, frequency):
        draw_panel(drawing, ground, panel, speed)
        draw_modes(drawing, panel, speed, shown)
        name_modes(ground, panel, speed, shown)
    _mark_growth(drawing, ground, curves, speed, damping, frequency)
    drawing.height = _write_remarks(ground, curves, shown, damping, frequency.bottom + 64.0)
    write_labels(drawing, ground.labels, plates_below=damping.top)
    return drawing.finished("speed-curves")


def shown_modes(curves: SpeedCurves) -> tuple[ModeCurve, ...]:
    """Choose the motions to draw: whatever grows, and what has a frequency in its reach."""
    growing = [point.frequency for mode in curves.modes for point in mode.points if grows(point)]
    reach = [*growing, *(mark.frequency for mark in curves.marks)]
    lowest = sorted(min(point.frequency for point in mode.points) for mode in curves.modes if mode.points)
    if not lowest:
        return ()
    top = ABOVE_THE_GROWING * max(reach) if reach else lowest[min(len(lowest), MODES_WITHOUT_GROWTH) - 1]
    return tuple(mode for mode in curves.modes if mode.points and min(point.frequency for point in mode.points) <= top)


def _panels(curves: SpeedCurves, shown: tuple[ModeCurve, ...], top: float) -> tuple[Panel, Panel]:
    dampings = [point.damping for mode in shown for point in mode.points] or [LEAST_DAMPING]
    high = max(LEAST_DAMPING, min(MOST_DAMPING, 1.05 * max(dampings)))
    low = -max(LEAST_GROWTH, LEAST_SHARE * high, min(MOST_GROWTH, -1.1 * min(dampings)))
    damping = Panel("damping", "damping, % of critical", 100.0, low, high, top, top + DAMPING_HEIGHT)
    start = damping.bottom + BETWEEN
    reach = [mark.frequency for mark in curves.marks]
    all_of = [point.frequency for mode in shown for point in mode.points] or [1.0]
    growing = [point.frequency for mode in shown for point in mode.points if grows(point)]
    highest = max([*(ABOVE_THE_GROWING * each for each in (*reach, *growing)), min(all_of)]) if reach else max(all_of)
    limit = 1.05 * min(highest, max(all_of))
    return damping, Panel("frequency", "frequency, Hz", 1.0, 0.0, limit, start, start + FREQUENCY_HEIGHT)


def _write_finding(ground: Ground, finding: tuple[str, ...]) -> float:
    y = 20.0
    for index, sentence in enumerate(finding):
        y = _write(ground, sentence, y, "" if index else "strong")
    return y


def _write(ground: Ground, sentence: str, y: float, role: str) -> float:
    """Write a sentence in as many lines as it takes; a viewer without our fonts sets it wider."""
    for line in wrapped(sentence, ground.width - ROOM_FOR_OTHER_FONTS, role):
        ground.put(Label(line, 14.0, y, role))
        y += ROW
    return y


def _mark_growth(
    drawing: Drawing, ground: Ground, curves: SpeedCurves, speed: Axis, damping: Panel, frequency: Panel
) -> None:
    """Mark where motions start growing and stop, and name the first start."""
    if curves.onset is not None:
        x = speed.x(curves.onset)
        drawing.line((x, damping.top), (x, frequency.bottom), "chain")
    draw_crossings(drawing, damping, frequency, speed, curves.marks)
    _write_growing(ground, curves, speed, damping)


def _write_growing(ground: Ground, curves: SpeedCurves, speed: Axis, damping: Panel) -> None:
    """Write what the hatch means, where no line runs."""
    lines = [(speed.x(point.speed), damping.y(point.damping)) for mode in curves.modes for point in mode.points]
    places = [
        Label("growing", speed.left + 8.0 + step * (speed.right - speed.left - 74.0) / 8.0, y, "strong", "start", "out")
        for y in (damping.bottom - 8.0, damping.y(0.0) + 20.0)
        for step in range(9)
    ]

    def crossed(label: Label) -> int:
        box = label.box
        return sum(box.left - 8.0 < x < box.right + 8.0 and box.top - 5.0 < y < box.bottom + 5.0 for x, y in lines)

    ground.put(min(places, key=crossed))


def _write_remarks(
    ground: Ground, curves: SpeedCurves, shown: tuple[ModeCurve, ...], damping: Panel, bottom: float
) -> float:
    remarks = ["filled point: a motion starts growing; open point: a motion stops growing"] if curves.marks else []
    if any(point.damping > damping.high for mode in shown for point in mode.points):
        remarks.append(f"damping above {format_number(100.0 * damping.high, 0)} % is not drawn")
    if any(point.damping < damping.low for mode in shown for point in mode.points):
        remarks.append(f"growth beyond {format_number(-100.0 * damping.low, 0)} % is not drawn: it is larger")
    left = len(curves.modes) - len(shown)
    if left:
        remarks.append(f"{count_of(left, 'mode')} of higher frequency, none of them growing, left out")
    for remark in remarks:
        bottom = _write(ground, remark, bottom, "quiet")
    return bottom
