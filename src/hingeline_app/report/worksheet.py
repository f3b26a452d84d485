"""The worksheet: side 1 of the record of a weighing, as an archival PDF that carries its own record."""

from __future__ import annotations

import json
from datetime import datetime
from functools import cache
from importlib.resources import files
from typing import Any, Final, Literal

from hingeline_app.report.record import INPUT_NAME, RESULT_NAME, result_text
from hingeline_app.report.said_sheet import said_sheet
from hingeline_app.report.sheet import SheetDetails, made_parts
from hingeline_app.report.typesetting import asked, typeset
from hingeline_app.report.view import sheet_view

Paper = Literal["a4", "letter"]
PAPERS = {"a4": "a4", "letter": "us-letter"}
ARCHIVAL: Final = "a-3a"
PICTURE_SCALES = (1.0, 0.86)  # the smaller one only where it keeps everything on one sheet


def make_worksheet(
    result: dict[str, Any],
    weighing_text: str,
    sheet: SheetDetails,
    made_at: datetime,
    version: str,
    paper: Paper = "a4",
) -> bytes:
    """Make the worksheet of a weighing.

    The same input gives the same bytes. The input as typed and the result are attached to the
    file; all text reaches the template as data, never as code.

    Parameters
    ----------
    result : dict
        A document ``hingeline/weighing-result/1``.
    weighing_text : str
        The weighing as it was typed.
    sheet : SheetDetails
        Workshop, aircraft and the like.
    made_at : datetime
        When the sheet is made; printed, and the PDF's date.
    version : str
        Of the program.
    paper : str
        ``a4`` or ``letter``.

    Returns
    -------
    bytes
        A tagged PDF/A-3a.
    """
    view = sheet_view(result, weighing_text, sheet, made_at, version)
    return compiled(complete_view(view, result, weighing_text, made_at, paper), template())


def complete_view(
    view: dict[str, Any],
    result: dict[str, Any],
    weighing_text: str,
    made_at: datetime,
    paper: str,
    input_name: str = INPUT_NAME,
) -> dict[str, Any]:
    """Add to the texts of a sheet what is not printed: paper, date, what is attached."""
    made = made_parts(made_at)
    attached = {input_name: weighing_text, RESULT_NAME: result_text(result)}
    return {**view, "paper": PAPERS[paper], "made": made, "attached": attached}


def compiled(view: dict[str, Any], laid_out: bytes) -> bytes:
    """Set a sheet by its template, with smaller pictures where that keeps everything on one."""
    inputs = inputs_of(view, PICTURE_SCALES[0], laid_out)
    for scale in PICTURE_SCALES:
        tried = inputs_of(view, scale, laid_out)
        if json.loads(asked(laid_out, "<sheets>", tried)) == [1]:
            inputs = tried
            break
    return typeset(laid_out, inputs, ARCHIVAL)


def inputs_of(view: dict[str, Any], picture_scale: float, laid_out: bytes) -> dict[str, str]:
    """Return what the template is given, in the reader's language."""
    told = said_sheet({**view, "picture_scale": picture_scale}, laid_out)
    return {"view": json.dumps(told, ensure_ascii=False)}


@cache
def template() -> bytes:
    """Return the template."""
    return joined("frame", "side_one", "worksheet")


def joined(*names: str) -> bytes:
    """Return template files as one, each after what it builds on: the typesetter is given no folder."""
    folder = files("hingeline_app.report")
    return b"\n".join(folder.joinpath(f"{name}.typ").read_bytes() for name in names)
