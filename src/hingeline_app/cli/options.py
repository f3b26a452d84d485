"""What every command takes."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import click


def sheet(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--pdf`` and ``--paper``."""
    paper = click.option("--paper", type=click.Choice(["a4", "letter"]), default="a4", show_default=True,
                         help="Size of the sheet.")  # fmt: skip
    return click.option("--pdf", metavar="OUT", help="Write it as a sheet, with input and result inside.")(
        paper(function)
    )


def job_file(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``FILE`` and ``--json``."""
    function = click.argument("file", metavar="FILE")(function)
    return click.option("--json", "as_json", is_flag=True, help="Write one JSON document instead of a page.")(function)
