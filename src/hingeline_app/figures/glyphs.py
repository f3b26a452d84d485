"""Status glyphs, 56 by 38: each a small drawing of what it says, always beside its word."""

from __future__ import annotations

from hingeline_app.figures.style import status_class
from hingeline_app.figures.svg import Drawing

WIDTH, HEIGHT = 56.0, 38.0
FRAME = 6.0

_BRACKETS = "M16 5H9V33H16M40 5H47V33H40"
_BRACKETS_LEFT = "M11 5H4V33H11M27 5H34V33H27"
_BRACKETS_RIGHT = "M29 5H22V33H29M45 5H52V33H45"
_BROKEN_RIGHT = "M11 5H4V33H11M29 5H36V13M36 25V33H29"
_BROKEN_LEFT = "M45 5H52V33H45M27 5H20V13M20 25V33H27"
_QUESTION = "M23 14A5 5 0 1 1 29.5 18.8C28.4 19.4 28 20.2 28 22.5"


def draw_glyph(statement: str | None, *, side: str = "right", predicted: bool = False) -> str:
    """Draw the glyph of a statement.

    Parameters
    ----------
    statement : str or None
        ``inside``, ``outside``, ``too close to tell``, ``caution``, or None where there is no statement.
    side : str
        ``right`` or ``left``: beyond which end of the band the value lies, for ``outside`` and
        ``too close to tell``. Left is toward nose-heavy.
    predicted : bool
        Put it in a dashed frame: computed, not weighed.
    """
    mark = Drawing(WIDTH, HEIGHT, "")
    _mark(mark, statement, side)
    margin = FRAME if predicted else 0.0
    drawing = Drawing(WIDTH + 2 * margin, HEIGHT + 2 * margin, _words(statement, side, predicted))
    drawing.group("".join(mark.elements), f"translate({margin:g} {margin:g})")
    if predicted:
        drawing.rectangle(1, 1, drawing.width - 2, drawing.height - 2, "glyph frame")
    return drawing.finished("glyph-picture")


def _words(statement: str | None, side: str, predicted: bool) -> str:
    words = statement or "no statement"
    if statement == "outside":
        words += ", beyond the upper limit" if side == "right" else ", beyond the lower limit"
    return ("predicted: " if predicted else "") + words


def _mark(drawing: Drawing, statement: str | None, side: str) -> None:
    colour = status_class(statement)
    right = side == "right"
    if statement == "inside":
        drawing.path(_BRACKETS, f"glyph {colour}")
        drawing.circle((28, 19), 6, f"glyph-solid {colour}")
    elif statement == "outside":
        drawing.path(_BRACKETS_LEFT if right else _BRACKETS_RIGHT, f"glyph {colour}")
        drawing.circle((46 if right else 10, 19), 6.5, f"glyph-solid {colour}")
    elif statement == "too close to tell":
        middle = 36 if right else 20
        drawing.path(_BROKEN_RIGHT if right else _BROKEN_LEFT, f"glyph {colour}")
        drawing.path(f"M{middle - 16} 19H{middle + 16}M{middle - 16} 13V25M{middle + 16} 13V25", f"glyph {colour}")
        drawing.circle((middle, 19), 5.5, f"glyph-solid {colour}")
    elif statement == "caution":
        drawing.path("M28 5L46 34H10z", "glyph near")
        drawing.path("M28 14V23.5M28 27V30", "glyph near")
    else:
        drawing.rectangle(6, 5, 44, 28, "glyph frame")
        drawing.path(_QUESTION, "glyph")
        drawing.circle((28, 27.5), 2.2, "glyph-solid")
