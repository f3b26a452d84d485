"""Two small drawings for a check ahead: the glyph of its state, and the ruler of its interval; with their words."""

from __future__ import annotations

from hingeline_app.figures.glyphs import HEIGHT, WIDTH
from hingeline_app.figures.svg import Drawing, hatching, polyline

RULER_WIDTH, RULER_HEIGHT = 150.0, 28.0
START, END, MIDDLE = 4.0, 118.0, 14.0
COLOURS = {"overdue": "out", "due": "near"}
# Beyond the line the ruler is no longer to scale: as far as this it grows, and no further.
FURTHEST = 26.0


def draw_due_glyph(state: str) -> str:
    """Draw the glyph of a state: an arrow that walks toward a line.

    Parameters
    ----------
    state : str
        ``overdue``, ``due``, ``coming``, ``unknown``, ``not applicable`` or ``closed``.
    """
    drawing = Drawing(WIDTH, HEIGHT, state)
    colour = COLOURS.get(state, "")
    line, solid = f"glyph {colour}".strip(), f"glyph-solid {colour}".strip()
    if state == "overdue":
        drawing.path("M22 4V34M2 19H42", line)
        drawing.path("M40 9L54 19L40 29z", solid)
    elif state == "due":
        drawing.path("M48 4V34M4 19H32", line)
        drawing.path("M31 9L45 19L31 29z", solid)
    elif state == "coming":
        drawing.path("M48 4V34M4 19H15M34 19H36M40 19H42", line)
        drawing.path("M15 10L28 19L15 28z", line)
    elif state == "not applicable":
        drawing.path("M48 4V34M4 19H36M8 31L32 7", line)
    elif state == "closed":
        drawing.path("M8 5H48V33H8zM17 18L25 26L40 11", line)
    else:
        drawing.rectangle(6.0, 5.0, 44.0, 28.0, "glyph frame")
        drawing.path("M23 14A5 5 0 1 1 29.5 18.8C28.4 19.4 28 20.2 28 22.5", line)
        drawing.circle((28.0, 27.5), 2.2, solid)
    return drawing.finished("glyph-picture")


def draw_ruler(state: str, used: float | None, words: str) -> str:
    """Draw how much of an interval is used, up to the line where it ends; beyond the line it is hatched.

    Parameters
    ----------
    state : str
        As for the glyph.
    used : float or None
        Part of the interval; None: not known, drawn dashed.
    words : str
        What it shows.
    """
    drawing = Drawing(RULER_WIDTH, RULER_HEIGHT, words)
    colour = COLOURS.get(state, "")
    if used is None:
        drawing.path(f"M{START:g} {MIDDLE:g}H{END:g}", "ruler unknown")
    else:
        drawing.rectangle(START, MIDDLE - 4.0, END - START, 8.0, "ruler-room")
        reach = min(used, 1.0) * (END - START)
        drawing.rectangle(START, MIDDLE - 4.0, max(reach, 0.0), 8.0, f"ruler-used {colour}".strip())
        if used > 1.0:
            _beyond(drawing, used, colour)
    drawing.path(f"M{END:g} 1V{RULER_HEIGHT - 1:g}", "limit-line")
    return drawing.finished("ruler-picture")


def _beyond(drawing: Drawing, used: float, colour: str) -> None:
    far = min(FURTHEST, 8.0 + (used - 1.0) * (END - START))
    left, top, tip = END + 2.0, MIDDLE - 7.0, END + 2.0 + far
    drawing.path(hatching(left, top, far - 6.0, 14.0, 5.0), f"ruler-hatch {colour}".strip())
    outline = [(left, top), (tip - 6.0, top), (tip, MIDDLE), (tip - 6.0, top + 14.0), (left, top + 14.0)]
    drawing.path(polyline(outline, closed=True), f"ruler-beyond {colour}".strip())
