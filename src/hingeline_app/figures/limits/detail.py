"""The enlarged detail "A" of a limit bar: where the value, its interval and the limit lie close together."""

from __future__ import annotations

from hingeline_app.figures.axis import Axis, LimitBar
from hingeline_app.figures.lettering import Box, Ground, Label, spread, text_width
from hingeline_app.figures.limits.parts import draw_point
from hingeline_app.figures.style import status_class
from hingeline_app.figures.svg import Drawing, hatching
from hingeline_app.figures.wording import format_number, inward_ends, written_limits
from hingeline_app.figures.writing import draw_plate

BAND_HEIGHT = 44.0


def draw_detail(
    drawing: Drawing, ground: Ground, axis: Axis, detail: Axis, bar: LimitBar, bar_top: float, top: float
) -> float:
    """Circle the place on the bar, and draw it enlarged below; return the height below it."""
    _circle_place(drawing, ground, axis, detail, bar_top)
    ratio = detail.scale / axis.scale
    name = f"A ({ratio:.0f} : 1)" if ratio >= 10.0 else f"A ({ratio:.1f} : 1)"
    band_top = top + 28.0
    _draw_detail_band(drawing, detail, bar, band_top)
    draw_point(drawing, detail, bar, band_top + BAND_HEIGHT / 2.0, 8.0)
    ground.put(Label(name, detail.left, top + 17.0, "strong"))
    _write_values(ground, detail, bar, top + 19.0, detail.left + text_width(name, "strong") + 14.0)
    return _write_lines(ground, detail, bar, band_top + BAND_HEIGHT + 21.0) + 4.0


def _circle_place(drawing: Drawing, ground: Ground, axis: Axis, detail: Axis, bar_top: float) -> None:
    """Draw the thin ring on the bar and its letter, beside it and off the band's words."""
    ring = ring_box(axis, detail, bar_top)
    height = ring.bottom - ring.top
    drawing.rectangle(ring.left, ring.top, ring.right - ring.left, height, "thin", rx=height / 2.0)
    for x, anchor in ((ring.right + 5.0, "start"), (ring.left - 5.0, "end")):
        label = Label("A", x, bar_top + 18.0, "strong", anchor)
        if ground.is_free(label):
            draw_plate(drawing, label)
            ground.put(label)
            return


def ring_box(axis: Axis, detail: Axis, bar_top: float) -> Box:
    """Return the ground of the ring: around the bar, clear of the numbers below it."""
    left, right = axis.x(detail.low), axis.x(detail.high)
    half, middle = max(20.0, (right - left) / 2.0 + 4.0), (left + right) / 2.0
    return Box(middle - half, bar_top - 8.0, middle + half, bar_top + 32.0)


def _draw_detail_band(drawing: Drawing, detail: Axis, bar: LimitBar, top: float) -> None:
    left = detail.x(bar.lower) if bar.lower is not None else detail.left
    right = detail.x(bar.upper) if bar.upper is not None else detail.right
    drawing.rectangle(left, top, right - left, BAND_HEIGHT, "wash")
    _draw_guard(drawing, detail, bar, (left, right), top)
    for start, end in ((detail.left, left), (right, detail.right)):
        strokes = hatching(start, top, end - start, BAND_HEIGHT)
        if strokes:
            drawing.path(strokes, "hatch")
    for y in (top, top + BAND_HEIGHT):
        drawing.line((left, y), (right, y), "axis")
    for limit in bar.limits:
        if detail.holds(limit):
            drawing.line((detail.x(limit), top - 6.0), (detail.x(limit), top + BAND_HEIGHT + 6.0), "limit-line")


def _draw_guard(drawing: Drawing, detail: Axis, bar: LimitBar, ends: tuple[float, float], top: float) -> None:
    guards = (bar.guarded_lower, bar.guarded_upper)
    if bar.guarded_is_empty or guards == (None, None):
        return
    left = detail.x(guards[0]) if guards[0] is not None else ends[0]
    right = detail.x(guards[1]) if guards[1] is not None else ends[1]
    drawing.rectangle(left, top, right - left, BAND_HEIGHT, "guarded")
    for guard in guards:
        if guard is not None and detail.holds(guard):
            drawing.line((detail.x(guard), top), (detail.x(guard), top + BAND_HEIGHT), "guard-line")


def _write_values(ground: Ground, detail: Axis, bar: LimitBar, y: float, left: float) -> None:
    """Write the value and the ends of its interval above the band."""
    assert bar.value is not None
    written = [(bar.value, "measure", status_class(bar.statement))]
    if bar.interval is not None:
        written = [(bar.interval[0], "", ""), written[0], (bar.interval[1], "", "")]
    _write_row(ground, detail, [(v, format_number(v, bar.places), r, c) for v, r, c in written], y, left)


def _write_lines(ground: Ground, detail: Axis, bar: LimitBar, y: float) -> float:
    """Name the limit and guard lines below the band; inside and outside at its ends where there is room."""
    *ends, places = written_limits(bar.lower, bar.upper)
    named = [
        (limit, f"limit {format_number(end, places)}", "strong", "")
        for limit, end in zip((bar.lower, bar.upper), ends, strict=True)
        if limit is not None and end is not None
    ]
    if not bar.guarded_is_empty:
        guards = (bar.guarded_lower, bar.guarded_upper)
        written = zip(guards, inward_ends(*guards, bar.places), strict=True)
        named += [
            (guard, f"guarded {format_number(end, bar.places)}", "", "")
            for guard, end in written
            if guard is not None and end is not None
        ]
    shown = [line for line in named if detail.holds(line[0])]
    lowest = y
    if sum(text_width(line[1], line[2]) + 10.0 for line in shown) <= detail.right - detail.left:
        _write_row(ground, detail, shown, y, detail.left)
    else:
        _write_row(ground, detail, [line for line in shown if line[2]], y, detail.left)
        lowest += 19.0
        _write_row(ground, detail, [line for line in shown if not line[2]], lowest, detail.left)
    for x, value, anchor in ((detail.left, detail.low, "start"), (detail.right, detail.high, "end")):
        words = "inside" if _is_inside(bar, value) else "outside"
        label = Label(words, x, y, "quiet", anchor)
        if ground.is_free(label, air=8.0):
            ground.put(label)
    return lowest


def _is_inside(bar: LimitBar, value: float) -> bool:
    return (bar.lower is None or value >= bar.lower) and (bar.upper is None or value <= bar.upper)


def _write_row(ground: Ground, detail: Axis, row: list[tuple[float, str, str, str]], y: float, left: float) -> None:
    """Write labels centred on their values, moved apart as little as may be."""
    widths = [text_width(words, role) for _, words, role, _ in row]
    places = spread([detail.x(value) for value, *_ in row], widths, left, detail.right, 10.0)
    for (_, words, role, colour), x in zip(row, places, strict=True):
        ground.put(Label(words, x, y, role, "middle", colour))
