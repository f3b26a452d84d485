"""Where growth starts over two numbers of a model, as SVG: a field of speeds.

Nothing is shaded as good: a model in which no growth was found is hatched, and what that means is said below.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from hingeline_app.figures.lettering import text_width
from hingeline_app.figures.svg import Drawing, hatching

__all__ = ["MapCell", "OnsetMap", "draw_onset_map"]

RIGHT, ROW, CELL_HEIGHT, WIDEST, LEAST = 12.0, 20.0, 36.0, 96.0, 40.0
NAMES_AND_VALUES = 84.0
MEANINGS = (
    "m/s true airspeed; the bar behind it: over the highest speed of this field",
    "hatched: no growth found in the range searched, which is no proof",
    "grows: a motion grows already at the lowest speed",
)


@dataclass(frozen=True, slots=True)
class MapCell:
    """One variant: how it is written, and its onset over the highest one drawn; both empty where none was found."""

    words: str
    part: float | None = None
    grows: bool = False


@dataclass(frozen=True, slots=True)
class OnsetMap:
    """What is drawn.

    Parameters
    ----------
    down, across : tuple of str
        The values of each number, as they are written.
    down_name, across_name : str
        What each is, with its unit.
    cells : mapping of (int, int) to MapCell
        By row and column; what was not worked out is missing.
    finding : tuple of str
        What the map says, sentence by sentence.
    """

    down: tuple[str, ...]
    across: tuple[str, ...]
    down_name: str
    across_name: str
    cells: Mapping[tuple[int, int], MapCell]
    finding: tuple[str, ...]


def draw_onset_map(found: OnsetMap, width: float = 650) -> str:
    """Draw a field of onsets, as wide as its columns need.

    Parameters
    ----------
    found : OnsetMap
    width : float
        In pixels; more where so many columns do not fit into it.
    """
    left = 24.0 + max(text_width(each) for each in found.down)
    least = max(LEAST, 8.0 + max(text_width(each) for each in found.across))
    cell = max(least, min(WIDEST, (width - left - RIGHT) / len(found.across)))
    top = ROW * len(found.finding) + NAMES_AND_VALUES
    bottom = top + CELL_HEIGHT * len(found.down)
    wide = max(width, left + cell * len(found.across) + RIGHT)
    drawing = Drawing(wide, bottom + 16.0 + ROW * len(MEANINGS), " ".join(found.finding))
    _write_names(drawing, found, (left, top), cell)
    for (row, column), one in found.cells.items():
        _draw_cell(drawing, one, left + cell * column, top + CELL_HEIGHT * row, cell)
    for index, words in enumerate(MEANINGS):
        drawing.text(14.0, bottom + 24.0 + ROW * index, words, "quiet")
    return drawing.finished("onset-map")


def _write_names(drawing: Drawing, found: OnsetMap, corner: tuple[float, float], cell: float) -> None:
    """Write the finding, what stands down and across, and the values at the edges."""
    left, top = corner
    for index, sentence in enumerate(found.finding):
        drawing.text(14.0, 20.0 + ROW * index, sentence, "" if index else "strong")
    drawing.text(14.0, top - 52.0, f"down: {found.down_name}")
    drawing.text(14.0, top - 32.0, f"across: {found.across_name}")
    for index, words in enumerate(found.across):
        drawing.text(left + cell * (index + 0.5), top - 8.0, words, "", "middle")
    for index, words in enumerate(found.down):
        drawing.text(left - 8.0, top + CELL_HEIGHT * (index + 0.5) + 5.0, words, "", "end")


def _draw_cell(drawing: Drawing, one: MapCell, left: float, top: float, width: float) -> None:
    if one.part is None and not one.grows:
        drawing.path(hatching(left, top, width, CELL_HEIGHT), "hatch")
    elif one.part is not None:
        drawing.rectangle(left, top, width * min(one.part, 1.0), CELL_HEIGHT, "wash")
    drawing.rectangle(left, top, width, CELL_HEIGHT, "thin")
    if one.words:
        role = "strong out" if one.grows else ""
        drawing.text(left + width / 2.0, top + CELL_HEIGHT / 2.0 + 5.0, one.words, role, "middle")
