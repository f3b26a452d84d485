"""A sheet of printed markers and dots to cut out, true to scale, with a line to measure the printer by."""

from __future__ import annotations

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.report.said_sheet import said_sheet
from hingeline_app.report.sheet import made_parts, made_words
from hingeline_app.report.typesetting import typeset
from hingeline_app.report.worksheet import PAPERS, Paper

SIZES = {"a4": (210.0, 297.0), "letter": (215.9, 279.4)}
EDGE, TOP, GAP, WORDS = 14.0, 41.0, 6.0, 6.0
RULER = 100.0
SMALLEST, LARGEST = 12.0, 120.0
TITLE = "Marks to follow in a video"
UNDER = (
    "Print at 100 %, without fitting to the page, on matt paper. The line at the bottom must measure 100 mm: if it "
    "does not, measure the black squares and write down what you measured. Cut along the dotted lines: the white "
    "border belongs to the mark. Two marks go on the section, as far apart as it lets you; two on something that "
    "does not move. A mark on a control surface is a mass on it: take it off before a weighing and before flight."
)
Cells = Sequence[Sequence[bool]]


@dataclass(slots=True)
class Layout:
    """What is drawn where; millimetres from the upper left corner of the paper."""

    cuts: list[list[float]] = field(default_factory=list)
    black: list[list[float]] = field(default_factory=list)
    dots: list[list[float]] = field(default_factory=list)
    captions: list[list[Any]] = field(default_factory=list)
    lines: list[list[Any]] = field(default_factory=list)


def make_marker_sheet(
    markers: Mapping[int, Cells], side: float, dot: float, made_at: datetime, version: str, paper: Paper = "a4"
) -> bytes:
    """Make the sheet.

    Parameters
    ----------
    markers : mapping of int to cells
        By number, rows of cells, True where black; its black border included.
    side : float
        Of a black square [mm].
    dot : float
        Diameter of the dots in the last row [mm].
    made_at : datetime
        When the sheet is made; printed, and the PDF's date.
    version : str
        Of the program.
    paper : str
        ``a4`` or ``letter``.

    Returns
    -------
    bytes
        A PDF of one page.

    Raises
    ------
    InputRefused
        A size that cannot be followed, or does not fit the paper.
    """
    layout = laid_out(markers, side, dot, *SIZES[paper])
    made = made_parts(made_at)
    view = {"title": TITLE, "under": UNDER, "paper": PAPERS[paper], "made": made, "edge": EDGE}
    view |= {"foot": f"Hingeline {version} · made {made_words(made_at)}"}
    view |= {"width": SIZES[paper][0] - 2.0 * EDGE} | {name: getattr(layout, name) for name in Layout.__slots__}
    return _compiled(view)


def _compiled(view: Mapping[str, Any]) -> bytes:
    return typeset(_template(), {"view": json.dumps(said_sheet(view, _template()))}, "a-3b", "Sheets")


@cache
def _template() -> bytes:
    return files("hingeline_app.report").joinpath("marker_sheet.typ").read_bytes()


def laid_out(markers: Mapping[int, Cells], side: float, dot: float, width: float, height: float) -> Layout:
    """Put markers in rows, dots in the last one, and the ruler below.

    Raises
    ------
    InputRefused
        A size that cannot be followed, or does not fit.
    """
    for name, value, least in (("side", side, SMALLEST), ("dot", dot, 4.0)):
        if not least <= value <= LARGEST:
            remedy = "It must be 30 pixels or more in the picture, a dot 14."
            raise InputRefused.of(name, f"{value:g} mm", f"{least:g} to {LARGEST:g} mm", remedy)
    layout, cell = Layout(), side / 6.0
    whole = side + 2.0 * cell
    across = max(1, int((width - 2.0 * EDGE + GAP) // (whole + GAP)))
    rows = -(-len(markers) // across)
    after = TOP + rows * (whole + WORDS + GAP)
    if after + 2.2 * dot + WORDS + 30.0 > height or whole > width - 2.0 * EDGE:
        raise InputRefused.of("side", f"{side:g} mm", "marks that fit on one sheet", "Ask for fewer or smaller ones.")
    for index, (number, cells) in enumerate(markers.items()):
        left = EDGE + (index % across) * (whole + GAP)
        _marker(layout, left, TOP + index // across * (whole + WORDS + GAP), cell, number, cells)
    # Said once: under each small mark it would run into the next one's.
    _dots(layout, after, dot, width, f"black squares of {side:g} mm, dots of {dot:g} mm")
    _ruler(layout, height - 20.0)
    return layout


def _marker(layout: Layout, left: float, top: float, cell: float, number: int, cells: Cells) -> None:
    side = cell * len(cells)
    layout.cuts.append([left, top, side + 2.0 * cell, side + 2.0 * cell])
    for row, each in enumerate(cells):
        # One rectangle a run: neighbours that touch may show a hair between them in print.
        start = 0
        for column in range(1, len(each) + 1):
            if column == len(each) or each[column] != each[start]:
                if each[start]:
                    x, y = left + cell * (1 + start), top + cell * (1 + row)
                    # a little taller than its row, so that rows join too; never beyond the square
                    more = 0.02 if row + 1 < len(cells) and all(cells[row + 1][start:column]) else 0.0
                    layout.black.append([x, y, cell * (column - start), cell + more])
                start = column
    layout.captions.append([left, top + side + 2.0 * cell + 1.0, f"number {number}"])


def _dots(layout: Layout, top: float, dot: float, width: float, sizes: str) -> None:
    patch = 2.2 * dot
    for index in range(min(8, int((width - 2.0 * EDGE + GAP) // (patch + GAP)))):
        left = EDGE + index * (patch + GAP)
        layout.cuts.append([left, top, patch, patch])
        layout.dots.append([left + patch / 2.0, top + patch / 2.0, dot])
    layout.captions.append([EDGE, top + patch + 1.0, sizes])


def _ruler(layout: Layout, top: float) -> None:
    layout.lines.append([EDGE, top, RULER, True])
    for index in range(11):
        layout.lines.append([EDGE + 10.0 * index - 0.1, top - (4.0 if index % 5 == 0 else 2.5), 4.0, False])
    layout.captions.append([EDGE + RULER + 4.0, top - 3.0, "100 mm between the outer strokes"])
