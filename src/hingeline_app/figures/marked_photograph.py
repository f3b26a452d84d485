"""A photograph with the places that were marked on it, for print: the picture as it came, ring and number over it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from hingeline_app.figures.lettering import Label
from hingeline_app.figures.svg import Drawing
from hingeline_app.figures.writing import draw_plate

RING = 12.0


@dataclass(frozen=True, slots=True)
class MarkedPlace:
    """A place on a photograph.

    Parameters
    ----------
    number : int
    across, down : float
        Parts of the width from the left, of the height from the top.
    words : str
    """

    number: int
    across: float
    down: float
    words: str


def draw_marked_photograph(
    address: str, size: tuple[float, float], words: str, marks: Sequence[MarkedPlace], width: float
) -> str:
    """Draw it.

    Parameters
    ----------
    address : str
        Of the picture; in print the picture itself, as ``data:``.
    size : tuple of float
        Width and height, in any unit.
    words : str
        What the photograph shows.
    marks : sequence of MarkedPlace
    width : float
        [px]
    """
    height = width * size[1] / size[0]
    said = "; ".join([words, *(f"{each.number}: {each.words}" for each in marks)])
    drawing = Drawing(width, height, said)
    drawing.add("image", "", href=address, x=0.0, y=0.0, width=width, height=height)
    for each in marks:
        x, y = each.across * width, each.down * height
        for kind in ("mark-halo", "mark-ring"):
            drawing.circle((x, y), RING, kind)
        label = Label(str(each.number), min(x + 1.6 * RING, width - 10.0), max(16.0, y - 1.1 * RING), "strong")
        draw_plate(drawing, label)
        drawing.text(label.x, label.y, label.words, label.classes)
    return drawing.finished("marked-photograph")
