"""Damping and frequency of a series of recordings over airspeed or weight, as SVG.

Points with their intervals, and no line between them: what was not recorded is not drawn. Below the zero line a
motion grows: hatched. From where an onset cannot be excluded the ground is hatched too; nothing is shaded as good.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.damping.parts import Panel, draw_panel
from hingeline_app.figures.lettering import Ground, Label, wrapped
from hingeline_app.figures.svg import Drawing, hatching
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.writing import write_labels

__all__ = ["SeriesPicture", "SeriesPoint", "draw_series_points"]

LEFT, RIGHT, ROW, TOP = 62.0, 14.0, 20.0, 58.0
DAMPING_HEIGHT, FREQUENCY_HEIGHT, BETWEEN = 210.0, 130.0, 40.0
LEAST_DAMPING, LEAST_GROWTH, SIDES = 0.02, 0.01, 0.08


@dataclass(frozen=True, slots=True)
class SeriesPoint:
    """One motion at one airspeed or weight.

    Parameters
    ----------
    at : float
        In the unit of the scale.
    frequency : float, optional
        [Hz]
    damping, low, high : float, optional
        Of critical [1]; None where the recordings state none.
    grows : bool
        What was recorded grows or is sustained.
    second : bool
        The faster of two modes: drawn open.
    """

    at: float
    frequency: float | None
    damping: float | None
    low: float | None = None
    high: float | None = None
    grows: bool = False
    second: bool = False


@dataclass(frozen=True, slots=True)
class SeriesPicture:
    """What is drawn.

    Parameters
    ----------
    points : sequence of SeriesPoint
    scale : str
        Words and unit of the scale across.
    finding : str
        What the picture says.
    interval_words : str
        What the whiskers are.
    not_excluded : tuple of float or None
        From where on an onset cannot be excluded; or between which weights it stops.
    not_excluded_words : str
    remarks : sequence of str
        What could not be drawn.
    """

    points: Sequence[SeriesPoint]
    scale: str
    finding: str
    interval_words: str
    not_excluded: tuple[float, float | None] | None = None
    not_excluded_words: str = ""
    remarks: Sequence[str] = ()


def draw_series_points(series: SeriesPicture, width: float = 650) -> str:
    """Draw damping over the scale, and frequency under it.

    Parameters
    ----------
    series : SeriesPicture
    width : float
        The width it will be shown at, in pixels.
    """
    drawing, ground = Drawing(width, 0.0, series.finding), Ground(width)
    across = _across(series, width)
    damping, frequency = _panels(series.points)
    _draw_hatches(drawing, ground, series, across, damping)
    for panel in (damping, frequency):
        draw_panel(drawing, ground, panel, across)
        for point in series.points:
            _draw_point(drawing, panel, across, point)
    _draw_scale(drawing, ground, across, frequency.bottom, series.scale)
    drawing.height = _write_remarks(ground, series, frequency.bottom + 64.0)
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("series-points")


def _across(series: SeriesPicture, width: float) -> Axis:
    """Choose the scale: from zero, a little beyond what was recorded, and never to where an onset may lie."""
    places = [point.at for point in series.points]
    edge = (series.not_excluded or (0.0, None))[0]
    highest = max([*places, edge]) or 1.0
    lowest = 0.0 if min(places, default=0.0) > 0.0 else -SIDES * highest
    return Axis(lowest, (1.0 + SIDES) * highest, LEFT, width - RIGHT)


def _panels(points: Sequence[SeriesPoint]) -> tuple[Panel, Panel]:
    ends = [end for each in points for end in (each.damping, each.low, each.high) if end is not None]
    high = 1.12 * max([LEAST_DAMPING, *ends])
    low = -max(LEAST_GROWTH, 0.16 * high, -1.12 * min([0.0, *ends]))
    damping = Panel("damping", "damping, % of critical", 100.0, low, high, TOP, TOP + DAMPING_HEIGHT)
    highest = 1.15 * max([1.0, *(each.frequency for each in points if each.frequency is not None)])
    start = damping.bottom + BETWEEN
    return damping, Panel("frequency", "frequency, Hz", 1.0, 0.0, highest, start, start + FREQUENCY_HEIGHT)


def _draw_hatches(drawing: Drawing, ground: Ground, series: SeriesPicture, across: Axis, damping: Panel) -> None:
    zero, right = damping.y(0.0), across.right
    drawing.path(hatching(LEFT, zero, right - LEFT, damping.bottom - zero), "hatch")
    _write_growing(ground, series.points, across, damping)
    if series.not_excluded is None:
        return
    low, high = series.not_excluded
    left, end = across.x(low), right if high is None else min(right, across.x(high))
    drawing.path(hatching(left, damping.top, end - left, zero - damping.top), "hatch")
    drawing.line((left, damping.top - 6.0), (left, damping.bottom), "chain")
    middle = left < (LEFT + right) / 2.0
    ground.put(Label(series.not_excluded_words, left, 20.0, "strong", "start" if middle else "end"))


def _write_growing(ground: Ground, points: Sequence[SeriesPoint], across: Axis, damping: Panel) -> None:
    """Write what the hatch means, where no point stands."""
    places = [(across.x(each.at), damping.y(each.damping)) for each in points if each.damping is not None]
    y = damping.bottom - 6.0
    candidates = [
        Label("growing", LEFT + 8.0 + step * (across.right - LEFT - 74.0) / 6.0, y, "strong", "start", "out")
        for step in range(7)
    ]

    def crossed(label: Label) -> int:
        box = label.box
        return sum(box.left - 9.0 < x < box.right + 9.0 and box.top - 9.0 < y < box.bottom + 9.0 for x, y in places)

    ground.put(min(candidates, key=crossed))


def _draw_point(drawing: Drawing, panel: Panel, across: Axis, point: SeriesPoint) -> None:
    value = point.damping if panel.quantity == "damping" else point.frequency
    if value is None:
        return
    place = (across.x(point.at), panel.y(value))
    if panel.quantity == "damping" and point.low is not None and point.high is not None:
        ends = [(place[0], panel.y(end)) for end in (point.low, point.high)]
        drawing.line(ends[0], ends[1], "thin")
        for _x, y in ends:
            drawing.line((place[0] - 5.0, y), (place[0] + 5.0, y), "thin")
    drawing.circle(place, 5.0, "open-thin" if point.second else "point out" if point.grows else "point")


def _draw_scale(drawing: Drawing, ground: Ground, across: Axis, bottom: float, words: str) -> None:
    values, places = ticks(across, 7)
    for value in values:
        if value >= 0.0:
            drawing.line((across.x(value), bottom), (across.x(value), bottom + 6.0), "axis")
            text = format_number(value, places) if value else "0"
            ground.put(Label(text, across.x(value), bottom + 22.0, "", "middle"))
    ground.put(Label(words, across.right, bottom + 42.0, "quiet", "end"))


def _write_remarks(ground: Ground, series: SeriesPicture, y: float) -> float:
    for remark in (series.interval_words, *series.remarks):
        for line in wrapped(remark, ground.width - 60.0):
            ground.put(Label(line, 14.0, y, "quiet"))
            y += ROW
    return y - 8.0
