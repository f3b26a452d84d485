"""The limit bar with two rows in plain text: as weighed, and as predicted."""

from __future__ import annotations

from hingeline_app.figures.axis import LimitBar, shared_axis
from hingeline_app.figures.limits.text import POINT, band_lines, interval_line, senses_line
from hingeline_app.figures.wording import format_measured, format_range, inward_ends

PREDICTED = "o"
NAME = 10  # columns for the words on the left
ROOM_FOR_NAMES = 50


def limit_change_text(weighed: LimitBar, predicted: LimitBar, columns: int = 72) -> str:
    """Draw a weighed and a predicted moment on one band with characters.

    Parameters
    ----------
    weighed, predicted : LimitBar
        With the same limits; the guarded band drawn is that of the prediction.
    columns : int
        Width; at least 36 is used. Below 50 the names stand over their lines.
    """
    beside = NAME if columns >= ROOM_FOR_NAMES else 0
    columns = max(36, columns) - beside
    axis = shared_axis((weighed, predicted), 0.0, float(columns - 1))
    lines = [
        ("", senses_line(axis, columns)),
        ("weighed", interval_line(axis, weighed, columns) or ""),
        ("predicted", (interval_line(axis, predicted, columns) or "").replace(POINT, PREDICTED)),
        *(("", line) for line in band_lines(axis, predicted, columns)),
    ]
    drawn = [
        part.rstrip()
        for name, line in lines
        for part in ([f"{name:<{beside}}{line}"] if beside or not name else [name, line])
    ]
    return "\n".join([*drawn, "", *_key(weighed, predicted)])


def _key(weighed: LimitBar, predicted: LimitBar) -> list[str]:
    lines = [
        f"{sign}  {word} {format_measured(bar.value or 0.0, bar.uncertainty, 'N m', sense=True)}"
        for sign, word, bar in ((POINT, "weighed", weighed), (PREDICTED, "predicted", predicted))
    ]
    limits = f"[] approved limits: {format_range(predicted.lower, predicted.upper, 'N m')}"
    lines.append(limits if predicted.limits else "no limits given")
    if predicted.guarded_is_empty:
        lines.append("=  guarded band: empty, the limits lie closer together than 2U")
    elif predicted.guarded_lower is not None or predicted.guarded_upper is not None:
        places = predicted.places
        ends = inward_ends(predicted.guarded_lower, predicted.guarded_upper, places)
        band = format_range(*ends, "N m", places)
        lines.append(f"=  guarded band, by the predicted U: {band}")
    return lines
