"""Write a worksheet to a file: whole, or not at all."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from typing import Any

import hingeline
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.report import SheetDetails, make_correction, make_worksheet
from hingeline_app.report.worksheet import Paper


def write_worksheet(out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str) -> None:
    """Make the worksheet of a weighing and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    _write(make_worksheet, out, text, sheet, document, paper)


def write_correction(out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str) -> None:
    """Make the sheet of a correction and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    _write(make_correction, out, text, sheet, document, paper)


def _write(
    make: Callable[..., bytes], out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str
) -> None:
    size: Paper = "letter" if paper == "letter" else "a4"
    now = datetime.now(UTC).replace(microsecond=0)
    pdf = make(dict(document), text, SheetDetails(**sheet), now, hingeline.__version__, paper=size)
    put_whole(out, pdf, "--pdf")
