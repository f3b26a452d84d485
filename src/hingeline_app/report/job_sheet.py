"""The sheet of a prediction or an estimate: sections as they stand on its page, and the record inside."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from datetime import datetime
from functools import cache
from typing import Any

from hingeline_app.figures import draw_glyph, on_paper
from hingeline_app.figures.style import status_class
from hingeline_app.figures.wording import shorten
from hingeline_app.report.fonts import printable_all
from hingeline_app.report.record import INPUT_NAMES
from hingeline_app.report.sheet import SheetDetails
from hingeline_app.report.view import REPLACED_NOTE, breakable_all, fitted, foot, with_standing
from hingeline_app.report.worksheet import Paper, compiled, complete_view, joined
from hingeline_app.said import AsTyped

# What each kind of sheet is called; none of them is a weighing.
TITLES = {
    "hingeline/coating-result/1": "Painting and stripping, predicted — not weighed",
    "hingeline/swing-result/1": "Moment of inertia, from a swing",
    "hingeline/dynamic-result/1": "Dynamic balance, an estimate",
    "hingeline/arm-result/1": "Arm of the balance weight, an estimate",
}


def make_job_sheet(
    result: dict[str, Any],
    text: str,
    sheet: SheetDetails,
    made_at: datetime,
    version: str,
    paper: Paper = "a4",
    *,
    parts: Sequence[Mapping[str, Any]],
    cautions: Sequence[str],
    name: str,
) -> bytes:
    """Make the sheet of a coating, a swing, a dynamic balance or an arm.

    Parameters
    ----------
    result : dict
        The result document.
    text : str
        The input as it was typed.
    sheet : SheetDetails
        Workshop, aircraft and the like.
    made_at : datetime
        When the sheet is made; printed, and the PDF's date.
    version : str
        Of the program.
    paper : str
        ``a4`` or ``letter``.
    parts : sequence of mapping
        Sections: title, statement, picture, table or lines.
    cautions : sequence of str
    name : str
        Of the surface or surfaces.

    Returns
    -------
    bytes
        A tagged PDF/A-3a, with input and result attached. The same input gives the same bytes.
    """
    title = TITLES[result["format"]]
    texts = {
        "title": f"{title}: {shorten(name, 80)}",
        "heading": title,
        "workshop": AsTyped(shorten(sheet.workshop, 60)),
        "block": _title_block(sheet, name),
        "parts": [{key: value for key, value in part.items() if key != "svg"} for part in parts],
        "notes": [],
        "cautions": with_standing(cautions),
        "foot": foot(result, text, sheet, made_at, version),
        "surface": AsTyped(shorten(f"{name}{', ' + sheet.aircraft if sheet.aircraft else ''}", 60)),
    }
    printed, replaced = printable_all(texts)
    if replaced:
        printed["notes"].append(REPLACED_NOTE)
    printed["block"] = [fitted(index, *box) for index, box in enumerate(printed["block"])]
    view = {**breakable_all(printed), **_pictures(parts)}
    return compiled(complete_view(view, result, text, made_at, paper, INPUT_NAMES[result["format"]]), _template())


@cache
def _template() -> bytes:
    return joined("frame", "job_sheet")


def _title_block(sheet: SheetDetails, name: str) -> list[list[str]]:
    part = ", ".join(text for text in (sheet.part, sheet.serial) if text)
    return [
        ["Aircraft", AsTyped(sheet.aircraft)],
        ["Surface", AsTyped(name)],
        ["Part, serial", AsTyped(part)],
        ["Job", AsTyped(sheet.job)],
        ["Date", sheet.date],
    ]


def _pictures(parts: Sequence[Mapping[str, Any]]) -> dict[str, Any]:
    """Give what is drawn: a picture or a statement's glyph for each part, or nothing."""
    drawn = [_drawn(part) for part in parts]
    pictures, _ = printable_all({"drawn": drawn, "caution_glyph": on_paper(draw_glyph("caution"))})
    colours = [status_class(part["colour"] or None) if part["kind"] == "statement" else "none" for part in parts]
    return {**pictures, "colours": colours}


def _drawn(part: Mapping[str, Any]) -> str:
    if part["kind"] == "statement":
        return on_paper(draw_glyph(part["colour"] or None, predicted=True))
    return str(part.get("svg", ""))
