"""A limit bar in little, on an axis that it shares with others: a slip of ten stands out."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hingeline_app.figures.axis import PADDING, Axis, LimitBar, finding_words
from hingeline_app.figures.limits.parts import draw_band, draw_point
from hingeline_app.figures.svg import Drawing, hatching

WIDTH, HEIGHT = 190.0, 34.0
EDGE = 4.0
BAND = 16.0


def common_axis(bars: Iterable[LimitBar], width: float = WIDTH) -> Axis:
    """Choose one axis for several bars: zero, every limit and every value on it [N m]."""
    ends = [0.0]
    for bar in bars:
        ends += [*bar.limits, *(bar.interval or ()), *(() if bar.value is None else (bar.value,))]
    low, high = min(ends), max(ends)
    extent = high - low or 1.0
    # Whole tenths of the power of ten, so that the ends can be said in few digits.
    step = 10.0 ** math.floor(math.log10(extent)) / 10.0
    first = math.floor((low - PADDING * extent) / step) * step
    last = math.ceil((high + PADDING * extent) / step) * step
    return Axis(first, last, EDGE, width - EDGE)


def draw_limit_thumbnail(bar: LimitBar, axis: Axis, words: str = "", height: float = HEIGHT) -> str:
    """Draw the limits, and the value where there is one, on a shared axis as SVG text.

    Parameters
    ----------
    bar : LimitBar
        Value and limits [N m].
    axis : Axis
        From :func:`common_axis`.
    words : str
        What it says, for those who do not see it; without it, the finding of the whole bar.
    height : float
        In pixels; the line at zero fills it.
    """
    drawing = Drawing(axis.right + EDGE, height, words or finding_words(bar))
    top = (height - BAND) / 2.0
    if bar.lower is None or bar.upper is None:
        _draw_one_sided(drawing, bar, axis, top)
    else:
        draw_band(drawing, axis, bar, top, BAND)
    zero, end = axis.x(0.0), min(3.0, top)
    drawing.line((zero, end), (zero, height - end), "axis")
    if bar.value is not None:
        draw_point(drawing, axis, bar, height / 2.0, 5.0)
    return drawing.finished("limit-bar")


def _draw_one_sided(drawing: Drawing, bar: LimitBar, axis: Axis, top: float) -> None:
    """Hatch beyond the one limit; the open side goes on in dashes to the edge."""
    if not bar.limits:
        return
    end, edge = axis.x(bar.limits[0]), axis.left if bar.lower is None else axis.right
    far = axis.right if bar.lower is None else axis.left
    drawing.path(hatching(min(end, far), top, abs(far - end), BAND) or "M0 0", "hatch")
    drawing.path(f"M{end:.2f} {top}v{BAND}", "outline")
    length = (edge - end) / 9.0
    for y in (top, top + BAND):
        for dash in range(0, 9, 2):
            drawing.line((end + dash * length, y), (end + (dash + 1) * length, y), "outline")
