"""Pieces that the limit bar and its detail share: bands, hatches, the point with its whiskers."""

from __future__ import annotations

from hingeline_app.figures.axis import Axis, LimitBar
from hingeline_app.figures.style import status_class
from hingeline_app.figures.svg import Drawing, hatching

FADE = 62.0
DASHES = ((0.0, 16.0), (24.0, 34.0), (44.0, 50.0))  # along the fade, from the band outward


def draw_band(drawing: Drawing, axis: Axis, bar: LimitBar, top: float, height: float) -> None:
    """Draw hatch outside, the approved band, the guarded band within it."""
    if not bar.limits:
        drawing.line((axis.left, top + height), (axis.right, top + height), "axis")
        return
    left = axis.x(bar.lower) if bar.lower is not None else axis.left + FADE
    right = axis.x(bar.upper) if bar.upper is not None else axis.right - FADE
    _hatch_outside(drawing, axis, bar, top, height)
    if bar.lower is not None and bar.upper is not None:
        drawing.rectangle(left, top, max(right - left, 2.0), height, "band")
    else:
        _draw_open_band(drawing, bar, left, right, top, height)
    _draw_guarded(drawing, axis, bar, (left, right), top, height)


def _hatch_outside(drawing: Drawing, axis: Axis, bar: LimitBar, top: float, height: float) -> None:
    if bar.lower is not None:
        drawing.path(hatching(axis.left, top, axis.x(bar.lower) - axis.left, height) or "M0 0", "hatch")
    if bar.upper is not None:
        drawing.path(hatching(axis.x(bar.upper), top, axis.right - axis.x(bar.upper), height) or "M0 0", "hatch")


def _draw_open_band(drawing: Drawing, bar: LimitBar, left: float, right: float, top: float, height: float) -> None:
    """Draw a band that has one end: the open side fades into three dashes."""
    drawing.rectangle(left, top, right - left, height, "wash")
    end = left if bar.upper is None else right
    drawing.path(f"M{end:.2f} {top}V{top + height}", "outline")
    start, way = (right, 1.0) if bar.upper is None else (left, -1.0)
    for y in (top, top + height):
        drawing.line((left, y), (right, y), "outline")
        for near, far in DASHES:
            drawing.line((start + way * (near + 8.0), y), (start + way * (far + 8.0), y), "outline")


def _draw_guarded(
    drawing: Drawing, axis: Axis, bar: LimitBar, ends: tuple[float, float], top: float, height: float
) -> None:
    guards = (bar.guarded_lower, bar.guarded_upper)
    if bar.guarded_is_empty or guards == (None, None):
        return
    left = axis.x(guards[0]) if guards[0] is not None else ends[0]
    right = axis.x(guards[1]) if guards[1] is not None else ends[1]
    drawing.rectangle(left, top + 1.5, right - left, height - 3.0, "guarded")
    for guard in guards:
        if guard is not None:
            drawing.line((axis.x(guard), top + 1.5), (axis.x(guard), top + height - 1.5), "guard-line")


def draw_value_mark(drawing: Drawing, x: float, y: float, statement: str | None) -> None:
    """Draw the triangle above the band that points at the value."""
    drawing.path(f"M{x:.2f} {y:.2f}l-8 -13h16z", f"point {status_class(statement)}")


def draw_point(drawing: Drawing, axis: Axis, bar: LimitBar, y: float, radius: float) -> None:
    """Draw the value as a point, with whiskers ± U where a ± exists."""
    assert bar.value is not None
    colour, x = status_class(bar.statement), axis.x(bar.value)
    if bar.interval is not None:
        low, high, tall = axis.x(bar.interval[0]), axis.x(bar.interval[1]), radius + 2.0
        strokes = f"M{low:.2f} {y}H{high:.2f}"
        strokes += "".join(
            f"M{end:.2f} {y - tall}v{2 * tall}"
            for end, value in ((low, bar.interval[0]), (high, bar.interval[1]))
            if axis.holds(value)
        )
        drawing.path(strokes, "whisker-halo")
        drawing.path(strokes, f"whisker {colour}")
    drawing.circle((x, y), radius, f"point {colour}")
