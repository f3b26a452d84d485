"""The limit bar with one row a weighing: all filled, since all were weighed; the last one is the lowest."""

from __future__ import annotations

from collections.abc import Sequence

from hingeline_app.figures.axis import Axis, LimitBar, shared_axis
from hingeline_app.figures.lettering import Ground, Label
from hingeline_app.figures.limits.bar import MARGIN, ROW, draw_axis, sense_labels
from hingeline_app.figures.limits.change import beside
from hingeline_app.figures.limits.parts import draw_band, draw_point
from hingeline_app.figures.svg import Drawing
from hingeline_app.figures.wording import describe_margin, format_measured, format_moment_range, format_range
from hingeline_app.figures.writing import TO_LEFT, TO_RIGHT, draw_plate, write_labels

STEP, FIRST, RADIUS = 32.0, 22.0, 7.0

Rows = Sequence[tuple[str, LimitBar]]


def draw_limit_rows(rows: Rows, width: float = 650) -> str:
    """Draw several weighings against the limits of the last one, as SVG text.

    Parameters
    ----------
    rows : sequence of (str, LimitBar)
        Name and moment of each [N m], the first first; those without a value are left out.
    width : float
        The width it will be shown at, in pixels: 650 on a tablet, 348 on a phone.
    """
    weighed = [(name, bar) for name, bar in rows if bar.value is not None]
    axis, last = shared_axis([bar for _, bar in weighed], MARGIN, width - MARGIN), weighed[-1][1]
    drawing, ground = Drawing(width, 0.0, rows_finding(weighed)), Ground(width)
    ground.put(*sense_labels(axis, 19.0))
    top, height = 28.0, STEP * len(weighed) + 12.0
    draw_band(drawing, axis, last, top, height)
    for index, (name, bar) in enumerate(weighed):
        _draw_row(drawing, ground, axis, bar, name, top + FIRST + STEP * index)
    bottom = draw_axis(drawing, ground, axis, top + height)
    words = f"approved limits {format_range(last.lower, last.upper, 'N m')}" if last.limits else "no limits given"
    ground.put(Label(words, width / 2.0, bottom + 14.0, "strong", "middle"))
    drawing.height = bottom + ROW + 4.0
    write_labels(drawing, ground.labels)
    return drawing.finished("limit-bar limit-rows")


def rows_finding(rows: Rows) -> str:
    """Say what the picture shows, in sentences."""
    last = rows[-1][1]
    words = [f"Limit bar. Approved limits: {format_moment_range(last.lower, last.upper)}"]
    for name, bar in rows:
        margin = describe_margin(bar.value or 0.0, bar.lower, bar.upper, bar.places)
        moment = format_measured(bar.value or 0.0, bar.uncertainty, "N m", sense=True)
        words.append(f"{name}: {moment}, {margin}" + (f", {bar.statement}" if bar.statement else ""))
    return ". ".join(words) + "."


def _draw_row(drawing: Drawing, ground: Ground, axis: Axis, bar: LimitBar, name: str, y: float) -> None:
    assert bar.value is not None
    words = f"{name} {format_measured(bar.value, bar.uncertainty, '')}"
    if not axis.holds(bar.value):
        words = words + TO_RIGHT if bar.value > axis.high else TO_LEFT + words
    else:
        draw_point(drawing, axis, bar, y, RADIUS)
    label = beside(drawing.width, axis, bar, words, y)
    draw_plate(drawing, label)
    ground.put(label)
