"""Two lines of words in a hatched ground: flat at its foot where it is wide enough, else upright."""

from __future__ import annotations

from hingeline_app.figures.lettering import text_width
from hingeline_app.figures.svg import Drawing, number

ROW, MARGIN = 20.0, 12.0


def write_in_hatch(drawing: Drawing, within: tuple[float, float, float, float], lines: tuple[str, str]) -> bool:
    """Write along the foot of the hatch where it is wide enough, else upright; say whether there was room at all.

    Parameters
    ----------
    drawing : Drawing
    within : (float, float, float, float)
        Left, right, top and bottom of what is free [px].
    lines : (str, str)
    """
    left, right, top, bottom = within
    wide = max(text_width(lines[0], "strong"), text_width(lines[1], ""))
    if right - left < wide + 2.0 * MARGIN:
        if bottom - top < wide + 2.0 * MARGIN or right - left < 2.0 * ROW:
            return False
        _write_upright(drawing, (left + right) / 2.0, bottom - MARGIN, lines)
        return True
    for index, words in enumerate(lines):
        style, base = "strong" if index == 0 else "", bottom - MARGIN + (index - 1) * ROW
        drawing.rectangle(right - MARGIN - wide - 4.0, base - 15.0, wide + 8.0, ROW, "plate")
        drawing.text(right - MARGIN - wide, base, words, style)
    return True


def _write_upright(drawing: Drawing, x: float, y: float, lines: tuple[str, str]) -> None:
    inner = Drawing(0.0, 0.0, "")
    for index, words in enumerate(lines):
        wide = text_width(words, "strong" if index == 0 else "")
        inner.rectangle(-4.0, index * ROW - 15.0 - ROW / 2.0, wide + 8.0, ROW, "plate")
        inner.text(0.0, index * ROW - ROW / 2.0, words, "strong" if index == 0 else "")
    drawing.group("".join(inner.elements), f"translate({number(x)} {number(y)}) rotate(-90)")
