"""Computed damping as a line, recorded damping as points with their intervals, over one mass: as SVG.

The two are different things and are drawn as such: the line is dashed and named as computed, the points are
filled and named as recorded. Nothing is laid through the points. Below the zero line a motion grows: hatched.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from hingeline_app.figures.axis import Axis, ticks
from hingeline_app.figures.damping.parts import Panel, draw_panel
from hingeline_app.figures.damping.series_points import SeriesPoint
from hingeline_app.figures.lettering import Ground, Label, wrapped
from hingeline_app.figures.svg import Drawing, Point, hatching, polyline
from hingeline_app.figures.wording import format_number
from hingeline_app.figures.writing import write_labels

__all__ = ["DampingOverMass", "draw_damping_over_mass"]

LEFT, RIGHT, TOP, HEIGHT, ROW = 62.0, 24.0, 40.0, 250.0, 21.0
ROOM = 1.12
WELL_DAMPED = 0.12
"""What is damped more than this is beyond the picture's top: the question is where it goes below nought."""


@dataclass(frozen=True, slots=True)
class DampingOverMass:
    """What is drawn.

    Parameters
    ----------
    computed : sequence of (float, float or None)
        Mass in the scale's unit, and least damping of any motion [1]; None where nothing oscillates.
    recorded : sequence of SeriesPoint
    scale : str
        Words and unit of the scale.
    finding : str
        What the picture says.
    computed_words, recorded_words : str
        What line and points are.
    """

    computed: Sequence[tuple[float, float | None]]
    recorded: Sequence[SeriesPoint]
    scale: str
    finding: str
    computed_words: str
    recorded_words: str = ""


def draw_damping_over_mass(shown: DampingOverMass, width: float = 650) -> str:
    """Draw the line and the points.

    Parameters
    ----------
    shown : DampingOverMass
    width : float
        The width it will be shown at, in pixels.
    """
    drawing, ground = Drawing(width, 0.0, shown.finding), Ground(width)
    places = [x for x, _ in shown.computed] + [point.at for point in shown.recorded]
    across, panel = Axis(0.0, max(places) or 1.0, LEFT, width - RIGHT), _panel(shown)
    zero = panel.y(0.0)
    drawing.path(hatching(LEFT, zero, across.right - LEFT, panel.bottom - zero), "hatch")
    ground.put(_name_of_growth(shown, across, panel))
    draw_panel(drawing, ground, panel, across)
    for piece in _pieces(shown.computed, across, panel):
        drawing.path(polyline(piece), "computed")
    for point in shown.recorded:
        _draw_recorded(drawing, panel, across, point)
    _draw_scale(drawing, ground, across, panel.bottom, shown.scale)
    drawing.height = _name_both(drawing, ground, shown, panel.bottom + 70.0)
    write_labels(drawing, ground.labels, plates_below=0.0)
    return drawing.finished("damping-over-mass")


def _name_of_growth(shown: DampingOverMass, across: Axis, panel: Panel) -> Label:
    """Name the hatch at that end of it where fewer recordings lie."""
    middle = (across.left + across.right) / 2.0
    below = [across.x(point.at) > middle for point in shown.recorded if (point.damping or 0.0) < 0.0]
    if 2 * sum(below) > len(below):
        return Label("growing", across.left + 10.0, panel.bottom - 8.0, "strong", "start", "out")
    return Label("growing", across.right - 10.0, panel.bottom - 8.0, "strong", "end", "out")


def _panel(shown: DampingOverMass) -> Panel:
    """Choose a scale that holds every recorded interval, and of the line what is not damped well."""
    line = [damping for _, damping in shown.computed if damping is not None]
    ends = [end for each in shown.recorded for end in (each.damping, each.low, each.high) if end is not None]
    high = ROOM * max([0.02, *ends, min(WELL_DAMPED, max(line, default=0.0))])
    low = ROOM * min([-0.02, *ends, max(-WELL_DAMPED, min(line, default=0.0))])
    return Panel("damping", "damping, % of critical", 100.0, low, high, TOP, TOP + HEIGHT)


def _pieces(line: Sequence[tuple[float, float | None]], across: Axis, panel: Panel) -> Iterator[list[Point]]:
    """Cut the line where it leaves the panel, and where nothing oscillates."""
    piece: list[Point] = []
    for x, damping in (*line, (0.0, None)):
        if damping is not None and panel.low <= damping <= panel.high:
            piece.append((across.x(x), panel.y(damping)))
            continue
        if len(piece) > 1:
            yield piece
        piece = []


def _draw_recorded(drawing: Drawing, panel: Panel, across: Axis, point: SeriesPoint) -> None:
    if point.damping is None:
        return
    x, colour = across.x(point.at), " out" if point.grows else ""
    if point.low is not None and point.high is not None:
        ends = panel.y(point.low), panel.y(point.high)
        drawing.line((x, ends[0]), (x, ends[1]), f"whisker{colour}")
        for y in ends:
            drawing.line((x - 6.0, y), (x + 6.0, y), f"whisker{colour}")
    drawing.circle((x, panel.y(point.damping)), 6.0, f"point{colour}")


def _draw_scale(drawing: Drawing, ground: Ground, across: Axis, bottom: float, words: str) -> None:
    values, places = ticks(across, 7)
    for value in values:
        drawing.line((across.x(value), bottom), (across.x(value), bottom + 6.0), "axis")
        text = format_number(value, places) if value else "0"
        ground.put(Label(text, across.x(value), bottom + 22.0, "", "middle"))
    ground.put(Label(words, (across.left + across.right) / 2.0, bottom + 44.0, "", "middle"))


def _name_both(drawing: Drawing, ground: Ground, shown: DampingOverMass, y: float) -> float:
    """Say beneath the picture what line and points are, each beside a sample of itself."""
    for words, is_line in ((shown.computed_words, True), (shown.recorded_words, False)):
        if not words:
            continue
        if is_line:
            drawing.line((14.0, y - 5.0), (48.0, y - 5.0), "computed")
        else:
            drawing.circle((31.0, y - 5.0), 6.0, "point")
        for line in wrapped(words, ground.width - 90.0):
            ground.put(Label(line, 58.0, y))
            y += ROW
    return y - 6.0
