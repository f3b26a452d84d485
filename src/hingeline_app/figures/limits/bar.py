"""The limit bar: approved band, guarded band, and the measured value with its interval.

Values stand above the bar or in ink, never coloured on a band; outside is hatched; an open side
fades into chain dashes; where the interval is too small to be seen, a detail enlarges it.
"""

from __future__ import annotations

from hingeline_app.figures.axis import Axis, LimitBar, axis_for, detail_axis, finding_words, ticks
from hingeline_app.figures.lettering import Ground, Label, spread, text_width
from hingeline_app.figures.limits.detail import draw_detail
from hingeline_app.figures.limits.parts import draw_band, draw_point, draw_value_mark
from hingeline_app.figures.style import status_class
from hingeline_app.figures.svg import Drawing, polyline
from hingeline_app.figures.wording import format_measured, format_number, format_range, with_unit
from hingeline_app.figures.writing import TO_LEFT, TO_RIGHT, write_labels

__all__ = ["LimitBar", "draw_limit_bar"]

MARGIN = 14.0
BAND_HEIGHT = 24.0
ROW = 20.0


def draw_limit_bar(bar: LimitBar, width: float = 650) -> str:
    """Draw a moment against its limits as SVG text.

    Parameters
    ----------
    bar : LimitBar
        Value, uncertainty and limits [N m].
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    axis = axis_for(bar, MARGIN, width - MARGIN)
    detail = detail_axis(bar, axis)
    drawing, ground = Drawing(width, 0.0, finding_words(bar)), Ground(width)
    top = 20.0
    if bar.value is not None and detail is None:
        _write_value(ground, axis, bar)
        top += ROW
    senses = sense_labels(axis, top - 1.0)
    ground.put(*senses)
    band_top = top + 6.0 + (14.0 if _mark_meets(axis, detail, bar, senses) else 0.0)
    draw_band(drawing, axis, bar, band_top, BAND_HEIGHT)
    bottom = draw_axis(drawing, ground, axis, band_top + BAND_HEIGHT)
    bottom = _name_band(drawing, ground, axis, bar, band_top, bottom, detail is not None)
    if bar.value is not None:
        _draw_value(drawing, axis, bar, band_top, detail is not None)
    if detail is not None:
        bottom = draw_detail(drawing, ground, axis, detail, bar, band_top, bottom)
    drawing.height = _write_remarks(ground, bar, bottom) + 6.0
    write_labels(drawing, ground.labels)
    return drawing.finished("limit-bar")


def _write_value(ground: Ground, axis: Axis, bar: LimitBar) -> None:
    """Write the value above its mark, with its ±; at the edge with an arrow when it is off the axis."""
    assert bar.value is not None
    words = format_measured(bar.value, bar.uncertainty, "N m", sense=True)
    if not axis.holds(bar.value):
        words = words + TO_RIGHT if bar.value > axis.high else TO_LEFT + words
    half = text_width(words, "measure") / 2.0
    x = max(axis.left + half, min(axis.right - half, axis.x(bar.value)))
    ground.put(Label(words, x, 15.0, "measure", "middle"))


def sense_labels(axis: Axis, y: float) -> list[Label]:
    """Return the words for the two sides of zero, at zero where there is room."""
    words = (TO_LEFT + "nose-heavy", "tail-heavy" + TO_RIGHT)
    zero, widths = axis.x(0.0), [text_width(word, "quiet") for word in words]
    wished = [zero - 7.0 - widths[0] / 2.0, zero + 7.0 + widths[1] / 2.0]
    places = spread(wished, widths, axis.left, axis.right, 14.0)
    return [Label(word, x, y, "quiet", "middle") for word, x in zip(words, places, strict=True)]


def _mark_meets(axis: Axis, detail: Axis | None, bar: LimitBar, senses: list[Label]) -> bool:
    """Tell whether the triangle over the value, or the ring of the detail, would stand in these words."""
    if bar.value is None or not axis.holds(bar.value):
        return False
    reach = 24.0 if detail is not None else 12.0
    x = axis.x(bar.value)
    return any(label.box.left < x + reach and x - reach < label.box.right for label in senses)


def draw_axis(drawing: Drawing, ground: Ground, axis: Axis, y: float) -> float:
    """Draw ticks and their numbers below the band; return the height below them."""
    values, decimals = ticks(axis, 7 if drawing.width >= 500.0 else 4)
    for value in values:
        drawing.line((axis.x(value), y), (axis.x(value), y + 6.0), "axis")
    written = [format_number(value, decimals) if value else "0" for value in values]
    written[-1] = with_unit(written[-1], "N m")
    for index in range(len(values) - 1, -1, -1):
        half = text_width(written[index]) / 2.0
        x = max(axis.left + half, min(axis.right - half, axis.x(values[index])))
        label = Label(written[index], x, y + 21.0, "", "middle")
        if ground.is_free(label):
            ground.put(label)
    return y + 27.0


def _name_band(
    drawing: Drawing, ground: Ground, axis: Axis, bar: LimitBar, top: float, bottom: float, detailed: bool
) -> float:
    """Name the approved limits inside the band where there is room, else below the axis."""
    if not bar.limits:
        ground.put(Label("no limits given", axis.left, bottom + 13.0))
        return bottom + ROW
    words = f"approved limits {format_range(bar.lower, bar.upper, 'N m')}"
    left = axis.x(bar.lower) if bar.lower is not None else axis.left + 70.0
    right = axis.x(bar.upper) if bar.upper is not None else axis.right - 70.0
    label = Label(words, (left + right) / 2.0, top + 17.0, "strong", "middle")
    drawn = () if bar.guarded_is_empty else (bar.guarded_lower, bar.guarded_upper)
    guards = (axis.x(guard) for guard in drawn if guard is not None)
    covered = _covered(axis, bar, detailed)
    clear = covered is None or label.box.right + 4.0 < covered[0] or label.box.left - 4.0 > covered[1]
    clear = clear and not any(label.box.left - 4.0 < guard < label.box.right + 4.0 for guard in guards)
    if clear and label.box.left > left + 6.0 and label.box.right < right - 6.0:
        ground.put(label)
        return bottom
    half = text_width(words, "strong") / 2.0
    middle = max(axis.left + half, min(axis.right - half, (left + right) / 2.0))
    ground.put(Label(words, middle, bottom + 14.0, "strong", "middle"))
    return bottom + ROW


def _covered(axis: Axis, bar: LimitBar, detailed: bool) -> tuple[float, float] | None:
    """Return the part of the band that the value's mark covers."""
    if bar.value is None:
        return None
    if detailed:
        return axis.x(bar.value) - 24.0, axis.x(bar.value) + 24.0
    low, high = bar.interval or (bar.value, bar.value)
    return axis.x(low) - 10.0, axis.x(high) + 10.0


def _draw_value(drawing: Drawing, axis: Axis, bar: LimitBar, top: float, detailed: bool) -> None:
    assert bar.value is not None
    if not axis.holds(bar.value):
        _draw_edge_arrow(drawing, axis, bar, top)
        return
    draw_value_mark(drawing, axis.x(bar.value), top - 1.0, bar.statement)
    if not detailed:
        draw_point(drawing, axis, bar, top + BAND_HEIGHT / 2.0, 6.0)


def _draw_edge_arrow(drawing: Drawing, axis: Axis, bar: LimitBar, top: float) -> None:
    """Point off the picture, toward where the value lies."""
    assert bar.value is not None
    right, y = bar.value > axis.high, top + BAND_HEIGHT / 2.0
    edge, inner = (axis.right, axis.right - 18.0) if right else (axis.left, axis.left + 18.0)
    drawing.rectangle(min(edge, inner) - 3.0, top, 24.0, BAND_HEIGHT, "plate")
    drawing.path(
        polyline([(edge, y), (inner, y - 11.0), (inner, y + 11.0)], True),
        f"point {status_class(bar.statement)}",
    )


def _write_remarks(ground: Ground, bar: LimitBar, bottom: float) -> float:
    remarks = []
    if bar.value is not None and bar.uncertainty is None:
        remarks.append("no ± could be given: the point stands alone")
    if bar.guarded_is_empty:
        remarks.append("guarded band empty: limits closer than 2U")
    for remark in remarks:
        ground.put(Label(remark, MARGIN, bottom + 14.0, "quiet"))
        bottom += ROW
    return bottom
