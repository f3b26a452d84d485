"""The limit bar in plain text, for a terminal: the same band, the value and its interval."""

from __future__ import annotations

from dataclasses import replace

from hingeline_app.figures.axis import Axis, LimitBar, axis_for, detail_axis
from hingeline_app.figures.wording import (
    describe_margin,
    format_measured,
    format_number,
    format_range,
    inward_ends,
    written_limits,
)

OUTSIDE, APPROVED, GUARDED, WHISKER, POINT = "/", "-", "=", "~", "O"


def limit_bar_text(bar: LimitBar, columns: int = 72) -> str:
    """Draw a limit bar with characters.

    Parameters
    ----------
    bar : LimitBar
        Value, uncertainty and limits [N m].
    columns : int
        Width; at least 40 is used.
    """
    columns = max(40, columns)
    axis = axis_for(bar, 0.0, float(columns - 1))
    lines = [senses_line(axis, columns), interval_line(axis, bar, columns), *band_lines(axis, bar, columns)]
    detail = detail_axis(bar, axis)
    if detail is not None:
        lines += ["", *_enlarged(bar, axis, replace(detail, left=0.0, right=float(columns - 1)), columns)]
    lines += ["", *_key(bar)]
    return "\n".join(line.rstrip() for line in lines if line is not None)


def _column(axis: Axis, value: float) -> int:
    return round(axis.x(value))


def band_lines(axis: Axis, bar: LimitBar, columns: int) -> tuple[str, str]:
    """Return the band, and the line under it with the numbers of the limits and zero."""
    return "".join(_band(axis, bar, columns)), _ends(axis, bar, columns)


def _band(axis: Axis, bar: LimitBar, columns: int) -> list[str]:
    """Return the band: / outside, - between guard and limit, = guarded, brackets at the limits, | at zero."""
    if not bar.limits:
        cells = ["-"] * columns
    else:
        step = (axis.high - axis.low) / (columns - 1)
        cells = [_cell(bar, axis.low + step * column) for column in range(columns)]
    for sign, place in (("|", 0.0), ("[", bar.lower), ("]", bar.upper)):
        if place is not None and axis.holds(place):
            cells[_column(axis, place)] = sign
    return cells


def _enlarged(bar: LimitBar, axis: Axis, detail: Axis, columns: int) -> list[str | None]:
    """Return the place around the value once more, enlarged."""
    head = f"enlarged {detail.scale / axis.scale:.0f} times:"
    return [
        head,
        interval_line(detail, bar, columns),
        *band_lines(detail, bar, columns),
    ]


def _cell(bar: LimitBar, value: float) -> str:
    if (bar.lower is not None and value < bar.lower) or (bar.upper is not None and value > bar.upper):
        return OUTSIDE
    if bar.guarded_is_empty or (bar.guarded_lower is None and bar.guarded_upper is None):
        return APPROVED
    above = bar.guarded_lower is None or value >= bar.guarded_lower
    below = bar.guarded_upper is None or value <= bar.guarded_upper
    return GUARDED if above and below else APPROVED


def interval_line(axis: Axis, bar: LimitBar, columns: int) -> str | None:
    """Return the line over the band with the value and its whiskers; an arrow when it is off the axis."""
    if bar.value is None:
        return None
    if not axis.holds(bar.value):
        words = format_measured(bar.value, bar.uncertainty, "N m", sense=True)
        return f"{words} >>".rjust(columns) if bar.value > axis.high else f"<< {words}"
    cells = [" "] * columns
    if bar.interval is not None and _column(axis, bar.interval[0]) < _column(axis, bar.interval[1]):
        low, high = (_column(axis, end) for end in bar.interval)
        cells[low : high + 1] = [WHISKER] * (high - low + 1)
        cells[low] = cells[high] = "|"
    cells[_column(axis, bar.value)] = POINT
    return "".join(cells)


def senses_line(axis: Axis, columns: int) -> str:
    """Return the line with the words for the two sides of zero."""
    left, right = "< nose-heavy", "tail-heavy >"
    zero = _column(axis, 0.0)
    start = max(0, min(zero - 1 - len(left), columns - len(left) - len(right) - 3))
    gap = max(3, zero + 2 - start - len(left))
    gap = min(gap, columns - start - len(left) - len(right))
    return " " * start + left + " " * gap + right


def _ends(axis: Axis, bar: LimitBar, columns: int) -> str:
    """Return the line under the band with the numbers of the limits and zero, each under its place."""
    *ends, places = written_limits(bar.lower, bar.upper)
    pairs = zip((bar.lower, bar.upper), ends, strict=True)
    numbers = [(at, format_number(end, places)) for at, end in pairs if at is not None and end is not None]
    if 0.0 not in bar.limits:
        numbers.append((0.0, "0"))
    named = [(_column(axis, value), words) for value, words in numbers if axis.holds(value)]
    line = " " * columns
    for column, words in named:
        start = max(0, min(columns - len(words), column - len(words) // 2))
        if line[max(0, start - 1) : start + len(words) + 1].strip() == "":
            line = line[:start] + words + line[start + len(words) :]
    return line


def _key(bar: LimitBar) -> list[str]:
    lines = []
    if bar.value is not None:
        measured = format_measured(bar.value, bar.uncertainty, "N m", sense=True)
        lines.append(f"{POINT}  {measured}" + _span(bar))
        if bar.limits:
            lines.append(f"   {describe_margin(bar.value, bar.lower, bar.upper, bar.places)}")
    lines.append(
        f"[] approved limits: {format_range(bar.lower, bar.upper, 'N m')}" if bar.limits else "no limits given"
    )
    if bar.guarded_is_empty:
        lines.append("=  guarded band: empty, the limits lie closer together than 2U")
    elif bar.guarded_lower is not None or bar.guarded_upper is not None:
        lines.append(f"=  guarded band: {_guarded(bar)}")
    return lines


def _guarded(bar: LimitBar) -> str:
    return format_range(*inward_ends(bar.guarded_lower, bar.guarded_upper, bar.places), "N m", bar.places)


def _span(bar: LimitBar) -> str:
    if bar.interval is None:
        return "   (no ± could be given)"
    factor = f", k = {bar.coverage_factor:.3g}" if bar.coverage_factor else ""
    return f"   (|{WHISKER}| {format_range(*bar.interval, '', bar.places)}{factor})"
