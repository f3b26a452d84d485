"""A table for a terminal that is too narrow for its columns: row under row, each number whole and beside its name."""

from __future__ import annotations

from collections.abc import Sequence

from rich.cells import cell_len
from rich.console import Group, RenderableType
from rich.padding import Padding
from rich.table import Table
from rich.text import Text

GAP, SHORT, NARROW = 3, 16, 60
"""Between two columns of a table; the characters of a number with its unit; a terminal that is a phone's."""


def fits(head: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> bool:
    """Tell whether no word of a table is cut; in a narrow one, whether no number stands apart from its unit either."""
    columns = zip(head, *rows, strict=True)
    widest = [max(_widest_piece(cell, width < NARROW) for cell in column) for column in columns]
    return sum(widest) + GAP * (len(widest) - 1) <= width


def _widest_piece(cell: str, with_units: bool) -> int:
    """Give the width of the widest piece that stays whole: a short cell with a number is one, its unit with it."""
    whole = with_units and len(cell) <= SHORT and any(each.isdigit() for each in cell)
    return max(cell_len(piece) for piece in ([cell] if whole else cell.split() or [""]))


def row_under_row(head: Sequence[str], rows: Sequence[Sequence[str]], width: int) -> RenderableType:
    """Give each row as its first cell, and under it the others, each beside the name of its column."""
    most = min(max((cell_len(name) for name in head[1:]), default=0), width // 2 - 2)
    shown: list[RenderableType] = [Text(head[0], style="dim", overflow="fold")] if head[0] else []
    for row in rows:
        under = Table.grid(padding=(0, 2))
        under.add_column(style="dim", overflow="fold", min_width=most, max_width=most)
        under.add_column(overflow="fold")
        for name, cell in zip(head[1:], row[1:], strict=True):
            if cell:
                under.add_row(Text(name), Text(cell))
        shown += [Text(row[0], overflow="fold"), Padding(under, (0, 0, 0, 2))]
    return Group(*shown)
