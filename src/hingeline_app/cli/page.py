"""A page for people in a terminal: a statement, tables, sentences, cautions."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from io import StringIO
from textwrap import wrap
from typing import Any

from rich.box import SIMPLE_HEAD
from rich.cells import cell_len
from rich.console import Console
from rich.padding import Padding
from rich.panel import Panel
from rich.table import Table
from rich.text import Text

from hingeline_app.cli.narrow_table import fits, row_under_row
from hingeline_app.cli.output import columns, put, to_terminal, visible
from hingeline_app.cli.sections import statement_head
from hingeline_app.figures.wording import format_quantity

# Shape and word first, colour last; nothing here is green.
SHAPES = {"inside": "[ • ]", "outside": "[   ] •", "too close to tell": "[  -•-]-", None: "[ ? ]"}
COLOURS = {"inside": "bold blue", "outside": "bold red", "too close to tell": "bold yellow", None: "bold"}


# Below this a picture has no room for a margin.
NARROW = 44


class Line(Text):
    """A sentence of its own."""


class Heading(Text):
    """What stands over a table or a list."""


class Page:
    """Gathers what is to be shown, then shows it in one go."""

    def __init__(self) -> None:
        self.columns = columns()
        self._written = StringIO()
        self.console = Console(
            file=self._written,
            force_terminal=True if to_terminal() else None,
            width=self.columns,
            highlight=False,
            markup=False,
            emoji=False,
            soft_wrap=False,
        )
        self._parts: list[Any] = []

    def title(self, name: str, under: str) -> None:
        """Name what the page is about."""
        self._parts.append(Text.assemble((visible(name), "bold"), "  ", (visible(under), "dim")))

    def statement(self, word: str | None, sentence: str, also: str, *, predicted: bool = False) -> None:
        """Show the statement in a frame: shape, word, reason. What was not weighed says so before the word."""
        colour = COLOURS[word]
        head = Text.assemble((SHAPES[word], colour), "  ", (statement_head(word, predicted=predicted), colour))
        self._parts.append(
            Panel(Text("\n").join([head, Text(visible(sentence)), Text(visible(also))]), style="", border_style=colour)
        )

    def drawing(self, lines: str) -> None:
        """Show a picture made of characters; the words under it go over several lines where they must."""
        indent = 2 if self.columns >= NARROW else 0
        wrapped = "\n".join(part for line in lines.split("\n") for part in _within(line, self.columns - 2 * indent))
        self._parts.append(Padding(Text(wrapped, no_wrap=True, overflow="crop"), (0, indent)))

    def picture(self, svg: str, words: str) -> None:
        """Leave out what a terminal cannot show; paper has it."""

    def line(self, sentence: str) -> None:
        """Show one sentence."""
        self._parts.append(Line(visible(sentence)))

    def pairs(self, rows: Iterable[tuple[str, str]], heading: str = "") -> None:
        """Show names with their values."""
        listed, most = list(rows), self.columns // 2 - 4
        # A long name must not push its value off the page.
        long = any(cell_len(name) > most for name, _ in listed)
        table = Table.grid(padding=(0, 2))
        table.add_column(style="dim", no_wrap=not long, overflow="fold", max_width=most if long else None)
        table.add_column(overflow="fold")
        for name, value in listed:
            table.add_row(Text(visible(name)), Text(visible(value)))
        self._headed(heading, table)

    def table(self, heading: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """Show a table; its first column is text, the others numbers. Where no row has room: row under row."""
        listed = [[visible(cell) for cell in row] for row in rows]
        if not fits(head, listed, self.columns - 4):
            self._headed(heading, row_under_row(head, listed, self.columns - 4))
            return
        table = Table(box=SIMPLE_HEAD, pad_edge=False, show_edge=False)
        for index, name in enumerate(head):
            table.add_column(name, justify="right" if index else "left", overflow="fold")
        for row in listed:
            table.add_row(*(Text(cell) for cell in row))
        self._headed(heading, table)

    def sentences(self, heading: str, sentences: Iterable[str]) -> None:
        """Show a list of sentences, if there are any."""
        listed = list(sentences)
        if not listed:
            return
        table = Table.grid(padding=(0, 1))
        for sentence in listed:
            table.add_row(Text("·"), Text(visible(sentence)))
        self._headed(heading, table)

    def cautions(self, sentences: Iterable[str]) -> None:
        """Show the cautions, last and framed."""
        body = Text("\n").join(Text(sentence) for sentence in sentences)
        self._parts.append(Panel(body, title=Text("Caution", "bold"), title_align="left", border_style="yellow"))

    def finding(self, shape: str, head: str, sentences: Iterable[str], colour: str) -> None:
        """Show a finding that is no statement about a surface in a frame: shape, words, what belongs to them."""
        line = Text.assemble((shape, colour), "  ", (visible(head), colour))
        body = Text("\n").join([line, *(Text(visible(sentence)) for sentence in sentences)])
        self._parts.append(Panel(body, style="", border_style=colour))

    def _headed(self, heading: str, body: Any) -> None:
        if heading:
            self._parts.append(Heading(visible(heading), "bold"))
        self._parts.append(Padding(body, (0, 2)))

    def show(self) -> None:
        """Write the page, without the spaces that pad its lines."""
        for index, part in enumerate(self._parts):
            if index and not self._close(self._parts[index - 1], part):
                self.console.print()
            self.console.print(part)
        put("\n".join(line.rstrip() for line in self._written.getvalue().split("\n")).rstrip("\n"))

    @staticmethod
    def _close(before: Any, part: Any) -> bool:
        """Whether two parts stand without a blank line between them."""
        follows_heading = isinstance(part, Padding) and isinstance(before, Heading)
        return follows_heading or (isinstance(part, Line) and isinstance(before, Line))


def _within(line: str, width: int) -> list[str]:
    return [line] if cell_len(line) <= width else wrap(line, width, subsequent_indent="   ")


def value_of(quantity: Mapping[str, Any] | None) -> float | None:
    """Give the bare value of a quantity, or None."""
    return None if quantity is None else float(quantity["value"])


def of_quantity(quantity: Mapping[str, Any] | None) -> str:
    """Write a quantity in its own unit."""
    return "—" if quantity is None else format_quantity(float(quantity["value"]), quantity["unit"])
