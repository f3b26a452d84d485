"""Write a worksheet to a file: whole, or not at all."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import UTC, datetime
from functools import partial
from typing import Any

import hingeline
from hingeline_app.cli.sections import Sections
from hingeline_app.cli.whole_file import put_whole
from hingeline_app.files.sheet_words import read_sheet_words
from hingeline_app.report import (
    SheetDetails,
    make_blank_worksheet,
    make_correction,
    make_job_sheet,
    make_worksheet,
)
from hingeline_app.report.worksheet import Paper


def write_worksheet(out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str) -> None:
    """Make the worksheet of a weighing and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    _write(make_worksheet, out, text, sheet, document, paper)


def write_blank(
    out: str,
    text: str,
    sheet: Mapping[str, str],
    plan: Mapping[str, Any] | None,
    weighing: Mapping[str, Any],
    paper: str,
) -> None:
    """Make a blank worksheet and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    size: Paper = "letter" if paper == "letter" else "a4"
    now = datetime.now(UTC).replace(microsecond=0)
    details = SheetDetails(**sheet)
    put_whole(out, make_blank_worksheet(plan, weighing, text, details, now, hingeline.__version__, size), "--blank")


def write_correction(out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str) -> None:
    """Make the sheet of a correction and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    _write(make_correction, out, text, sheet, document, paper)


def write_job_sheet(
    out: str, data: bytes, document: Mapping[str, Any], paper: str, fill: Callable[[Any, Mapping[str, Any]], None]
) -> None:
    """Make the sheet of a coating, a swing or a dynamic balance, from the sections of its page.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    sections = Sections()
    fill(sections, document)
    name = " and ".join(dict.fromkeys(name for name, _ in sections.names))
    make = partial(make_job_sheet, parts=sections.parts, cautions=sections.warned, name=name)
    _write(make, out, data.decode("utf-8-sig"), read_sheet_words(data), document, paper)


def _write(
    make: Callable[..., bytes], out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str
) -> None:
    size: Paper = "letter" if paper == "letter" else "a4"
    now = datetime.now(UTC).replace(microsecond=0)
    pdf = make(dict(document), text, SheetDetails(**sheet), now, hingeline.__version__, paper=size)
    put_whole(out, pdf, "--pdf")
