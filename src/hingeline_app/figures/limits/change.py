"""The limit bar with two rows: weighed, filled, and predicted, open; a dashed arrow leads from one to the other."""

from __future__ import annotations

from hingeline_app.figures.axis import Axis, LimitBar, shared_axis
from hingeline_app.figures.lettering import Ground, Label, text_width
from hingeline_app.figures.limits.bar import MARGIN, ROW, draw_axis, sense_labels
from hingeline_app.figures.limits.parts import draw_band, draw_point
from hingeline_app.figures.svg import Drawing, arrowhead
from hingeline_app.figures.wording import describe_margin, format_measured, format_moment_range, format_range
from hingeline_app.figures.writing import TO_LEFT, TO_RIGHT, draw_plate, write_labels

BAND_HEIGHT = 76.0
ROWS = (22.0, 54.0)  # below the band's top
RADIUS = 7.0
AWAY = 14.0  # from a mark to its words


def draw_limit_change(weighed: LimitBar, predicted: LimitBar, width: float = 650) -> str:
    """Draw a weighed moment and the one predicted after a change against their limits, as SVG text.

    Parameters
    ----------
    weighed, predicted : LimitBar
        With the same limits [N m]; the guarded band drawn is that of the prediction.
    width : float
        The width it will be shown at, in pixels: 650 on a tablet and on paper, 348 on a phone.
    """
    axis = shared_axis((weighed, predicted), MARGIN, width - MARGIN)
    drawing, ground = Drawing(width, 0.0, change_finding(weighed, predicted)), Ground(width)
    ground.put(*sense_labels(axis, 19.0))
    top = 28.0
    draw_band(drawing, axis, predicted, top, BAND_HEIGHT)
    heights = [top + row for row in ROWS]
    _draw_lead(drawing, axis, weighed, predicted, heights)
    for bar, name, y in ((weighed, "weighed", heights[0]), (predicted, "predicted", heights[1])):
        _draw_row(drawing, ground, axis, bar, name, y)
    bottom = draw_axis(drawing, ground, axis, top + BAND_HEIGHT)
    ground.put(Label(_limit_words(predicted), width / 2.0, bottom + 14.0, "strong", "middle"))
    bottom += ROW
    ground.put(Label("filled: weighed · open: predicted", width / 2.0, bottom + 13.0, "quiet", "middle"))
    drawing.height = bottom + ROW + 4.0
    write_labels(drawing, ground.labels)
    return drawing.finished("limit-bar limit-change")


def change_finding(weighed: LimitBar, predicted: LimitBar) -> str:
    """Say what the picture shows, in sentences."""
    words = [f"Limit bar. Approved limits: {format_moment_range(predicted.lower, predicted.upper)}"]
    for name, bar in (("Weighed", weighed), ("Predicted, not weighed,", predicted)):
        if bar.value is not None:
            margin = describe_margin(bar.value, bar.lower, bar.upper, bar.places)
            words.append(f"{name} {_value(bar)}: {margin}" + (f", {bar.statement}" if bar.statement else ""))
    return ". ".join(words) + "."


def _value(bar: LimitBar) -> str:
    return format_measured(bar.value or 0.0, bar.uncertainty, "N m", sense=True)


def _limit_words(bar: LimitBar) -> str:
    return f"approved limits {format_range(bar.lower, bar.upper, 'N m')}" if bar.limits else "no limits given"


def _draw_row(drawing: Drawing, ground: Ground, axis: Axis, bar: LimitBar, name: str, y: float) -> None:
    if bar.value is None:
        return
    words = f"{name} {format_measured(bar.value, bar.uncertainty, '')}"
    if not axis.holds(bar.value):
        words = words + TO_RIGHT if bar.value > axis.high else TO_LEFT + words
    else:
        draw_point(drawing, axis, bar, y, RADIUS)
        if name == "predicted":
            drawing.circle((axis.x(bar.value), y), RADIUS - 1.0, "open")
    label = beside(drawing.width, axis, bar, words, y)
    draw_plate(drawing, label)
    ground.put(label)


def beside(width: float, axis: Axis, bar: LimitBar, words: str, y: float) -> Label:
    """Return the words on the roomier side of their mark."""
    assert bar.value is not None
    low, high = bar.interval or (bar.value, bar.value)
    left, right, extent = axis.x(low) - AWAY, axis.x(high) + AWAY, text_width(words, "strong")
    if left - extent >= 6.0 or left > width - right:
        return Label(words, max(left, extent + 6.0), y + 5.5, "strong", "end")
    return Label(words, min(right, width - 6.0 - extent), y + 5.5, "strong", "start")


def _draw_lead(drawing: Drawing, axis: Axis, weighed: LimitBar, predicted: LimitBar, heights: list[float]) -> None:
    """Draw the dashed arrow from the weighed point down to the predicted one."""
    if weighed.value is None or predicted.value is None:
        return
    start, end = axis.x(weighed.value), axis.x(predicted.value)
    if abs(end - start) < 4.0 * RADIUS:
        return
    way = 1.0 if end > start else -1.0
    _, reach = predicted.interval or (0.0, predicted.value)
    edge = abs(axis.x(reach) - end) if predicted.interval else 0.0
    tip = (end + -way * (max(edge, RADIUS) + 6.0), heights[1])
    if way * (start - tip[0]) > 0.0:
        return
    drawing.path(
        f"M{start:.2f} {heights[0] + 10.0:.2f}Q{start:.2f} {heights[1]:.2f} {tip[0] - 10.0 * way:.2f} {tip[1]:.2f}",
        "lead",
    )
    drawing.path(arrowhead(tip, (way, 0.0), 10.0, 8.0), "thin-head")
