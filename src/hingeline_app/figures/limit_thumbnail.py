"""A limit bar in little, on an axis that it shares with others: a slip of ten stands out."""

from __future__ import annotations

from collections.abc import Iterable

from hingeline_app.figures.limit_axis import PADDING, Axis, LimitBar, finding_words
from hingeline_app.figures.limit_parts import draw_band, draw_point
from hingeline_app.figures.svg import Drawing

WIDTH, HEIGHT = 190.0, 34.0
EDGE = 4.0
TOP, BAND = 9.0, 16.0


def common_axis(bars: Iterable[LimitBar], width: float = WIDTH) -> Axis:
    """Choose one axis for several bars: zero, every limit and every value on it [N m]."""
    ends = [0.0]
    for bar in bars:
        ends += [*bar.limits, *(bar.interval or ()), *(() if bar.value is None else (bar.value,))]
    low, high = min(ends), max(ends)
    extent = high - low or 1.0
    return Axis(low - PADDING * extent, high + PADDING * extent, EDGE, width - EDGE)


def draw_limit_thumbnail(bar: LimitBar, axis: Axis, words: str = "") -> str:
    """Draw the limits, and the value where there is one, on a shared axis as SVG text.

    Parameters
    ----------
    bar : LimitBar
        Value and limits [N m].
    axis : Axis
        From :func:`common_axis`.
    words : str
        What it says, for those who do not see it; without it, the finding of the whole bar.
    """
    drawing = Drawing(axis.right + EDGE, HEIGHT, words or finding_words(bar))
    draw_band(drawing, axis, bar, TOP, BAND)
    zero = axis.x(0.0)
    drawing.line((zero, 3.0), (zero, HEIGHT - 3.0), "axis")
    if bar.value is not None:
        draw_point(drawing, axis, bar, TOP + BAND / 2.0, 5.0)
    return drawing.finished("limit-bar")
