"""A page for paper: takes what a page for the terminal takes, and gathers it as sections."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import Any


def statement_head(word: str | None, *, predicted: bool) -> str:
    """Give a statement as it stands over its sentences, on a page and on paper."""
    return f"Predicted {word}, not weighed" if predicted and word else (word or "no statement").capitalize()


class Sections:
    """Gathers a page as plain data, for a worksheet; :class:`~hingeline_app.cli.page.Page` has the same words."""

    columns = 72

    def __init__(self) -> None:
        self.names: list[tuple[str, str]] = []
        self.parts: list[dict[str, Any]] = []
        self.warned: list[str] = []

    def title(self, name: str, under: str) -> None:
        """Name what the page is about; a sheet for several surfaces names each."""
        self.names.append((name, under))
        self.parts.append({"kind": "title", "heading": name, "rows": [], "head": [], "words": under, "colour": ""})

    def statement(self, word: str | None, sentence: str, also: str, *, predicted: bool = False) -> None:
        """Keep the statement with its word."""
        head = statement_head(word, predicted=predicted)
        part = {"kind": "statement", "heading": head, "rows": [[sentence], [also]], "head": [], "colour": word or ""}
        self.parts.append({**part, "words": ""})

    def drawing(self, lines: str) -> None:
        """Leave out what is drawn with characters: a sheet has the picture itself."""

    def line(self, sentence: str) -> None:
        """Keep one sentence."""
        self._add("lines", "", [[sentence]])

    def pairs(self, rows: Iterable[tuple[str, str]], heading: str = "") -> None:
        """Keep names with their values."""
        self._add("table", heading, [list(row) for row in rows], ["", ""])

    def table(self, heading: str, head: Sequence[str], rows: Iterable[Sequence[str]]) -> None:
        """Keep a table."""
        self._add("table", heading, [list(row) for row in rows], list(head))

    def sentences(self, heading: str, sentences: Iterable[str]) -> None:
        """Keep a list of sentences, if there are any."""
        listed = [[sentence] for sentence in sentences]
        if listed:
            self._add("lines", heading, listed)

    def cautions(self, sentences: Iterable[str]) -> None:
        """Keep the cautions, which stand last and framed."""
        self.warned = list(sentences)

    def picture(self, svg: str, words: str) -> None:
        """Keep a picture, with what it shows in words."""
        self.parts.append({"kind": "picture", "heading": "", "rows": [], "head": [], "words": words, "svg": svg})

    def _add(self, kind: str, heading: str, rows: list[list[str]], head: Sequence[str] = ()) -> None:
        self.parts.append({"kind": kind, "heading": heading, "rows": rows, "head": list(head), "words": ""})
