"""What several commands take."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import Any

import click

FOLDER = click.Path(path_type=Path)


def sheet(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--pdf`` and ``--paper``."""
    paper = click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True,
                         help="Size of the sheet.")  # fmt: skip
    return click.option("--pdf", metavar="OUT.pdf", help="Write it as a sheet, with input and result inside.")(
        paper(function)
    )


class Picture(click.Option):
    """``--picture``, which also answers to the word that three commands had for it in 1.0.0."""

    def get_help_record(self, ctx: click.Context) -> tuple[str, str] | None:
        """Show the one word that is said everywhere."""
        shown = super().get_help_record(ctx)
        return shown and (shown[0].replace(", --plot", ""), shown[1])


def picture_file(words: str) -> Callable[..., Any]:
    """Add ``--picture``."""
    return click.option("--picture", "--plot", "picture", cls=Picture, metavar="OUT.svg", help=words)


def as_document(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--json``."""
    return click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")(function)


def job_file(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``FILE`` and ``--json``."""
    return as_document(click.argument("file", metavar="FILE")(function))


def data_folder(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--data``."""
    words = "The folder of the records; without it, the one that HINGELINE_DATA names."
    return click.option("--data", metavar="DIR", type=FOLDER, help=words)(function)
