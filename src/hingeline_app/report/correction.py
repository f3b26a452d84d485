"""The sheet of a correction: predicted, not weighed; an archival PDF that carries its own record."""

from __future__ import annotations

from datetime import datetime
from functools import cache
from typing import Any

from hingeline_app.figures import draw_glyph, on_paper
from hingeline_app.figures.correction.bars import bars_of
from hingeline_app.figures.correction.places import finding_words
from hingeline_app.figures.correction.words import (
    amount_words,
    before_and_after,
    change_words,
    load_words,
    plan_words,
    predicted_words,
)
from hingeline_app.figures.limits.change import change_finding
from hingeline_app.figures.style import status_class
from hingeline_app.figures.wording import format_moment_range, format_percent, format_scaled, shorten
from hingeline_app.report.correction_pictures import limits_svg, places_picture, places_svg
from hingeline_app.report.fonts import printable_all
from hingeline_app.report.quantities import nearer_side, value_of, written
from hingeline_app.report.record import CORRECTION_FORMAT, INPUT_NAMES, Result
from hingeline_app.report.sheet import SheetDetails
from hingeline_app.report.view import REPLACED_NOTE, breakable_all, fitted, foot, with_standing
from hingeline_app.report.worksheet import Paper, compiled, complete_view, joined
from hingeline_app.said import AsTyped

MOST_BUDGET_ROWS = 6


def make_correction(
    result: dict[str, Any], text: str, sheet: SheetDetails, made_at: datetime, version: str, paper: Paper = "a4"
) -> bytes:
    """Make the sheet of a correction.

    Parameters
    ----------
    result : dict
        A document ``hingeline/ballast-result/1``.
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

    Returns
    -------
    bytes
        A tagged PDF/A-3a, with input and result attached. The same input gives the same bytes.
    """
    view = correction_view(result, text, sheet, made_at, version)
    name = INPUT_NAMES[CORRECTION_FORMAT]
    return compiled(complete_view(view, result, text, made_at, paper, name), _template())


@cache
def _template() -> bytes:
    return joined("frame", "correction")


def correction_view(result: Result, text: str, sheet: SheetDetails, made_at: datetime, version: str) -> dict[str, Any]:
    """Return the texts and pictures of the sheet, every character one that our fonts can print."""
    name = str((result.get("surface") or {}).get("name") or "Surface")
    texts = {
        "title": f"Correction, predicted: {shorten(name, 80)}",
        "workshop": AsTyped(shorten(sheet.workshop, 60)),
        "block": _title_block(result, sheet, name),
        "statement": _statement(result),
        "heading": "What to change" if result["feasible"] else "The nearest that is allowed (it is not enough)",
        "changes": [list(change_words(change)) for change in result["changes"]],
        "extras": _extras(result),
        "effects": [list(row) for row in before_and_after(dict(result))],
        "remedies": [each["sentence"] for each in result["remedies"]],
        "others": [list(plan_words(plan)) for plan in result["plans"][1:]],
        "loads": [[each["place"], *load_words(each["load"])] for each in result["changes"] if each["load"]],
        "budget": _budget(result),
        "notes": list(result["notes"]),
        "cautions": with_standing(result["cautions"]),
        "foot": foot(result, text, sheet, made_at, version),
        "surface": AsTyped(shorten(f"{name}{', ' + sheet.aircraft if sheet.aircraft else ''}", 60)),
        "places_words": finding_words(places_picture(result)),
        "bar_words": change_finding(*bars_of(result)),
    }
    pictures, _ = printable_all(
        {
            "places": places_svg(result),
            "bar": limits_svg(result),
            "glyph": on_paper(draw_glyph(result["predicted_statement"], side=predicted_side(result), predicted=True)),
            "caution_glyph": on_paper(draw_glyph("caution")),
        }
    )
    printed, replaced = printable_all(texts)
    if replaced:
        printed["notes"].append(REPLACED_NOTE)
    printed["block"] = [fitted(index, *box) for index, box in enumerate(printed["block"])]
    return {**breakable_all(printed), **pictures}


def _title_block(result: Result, sheet: SheetDetails, name: str) -> list[list[str]]:
    lower, upper = (value_of(result["limits"][end]) for end in ("lower", "upper"))
    part = ", ".join(text for text in (sheet.part, sheet.serial) if text)
    mass = (result.get("surface") or {}).get("mass")
    return [
        ["Aircraft", AsTyped(sheet.aircraft)],
        ["Surface", AsTyped(name)],
        ["Part, serial", AsTyped(part)],
        ["Job", AsTyped(sheet.job)],
        ["After weighing", sheet.weighing],
        ["Approved data", sheet.approved_data(result["limits_source"])],
        ["Limits", format_moment_range(lower, upper)],
        ["Rule", str(result["rule"])],
        ["Date", sheet.date],
        ["Mass before", written(mass, 4) if mass else ""],
    ]


def _statement(result: Result) -> dict[str, Any]:
    word, rule = result["predicted_statement"], str(result["rule"])
    other = "guarded" if rule == "simple" else "simple"
    lines = [predicted_words(result)]
    if result["reason"]:
        lines.append(f"No plan meets what is asked. {result['reason']}")
    found = result[f"predicted_statement_{other}"]
    if word and found:
        lines.append(f"This is by the {rule} rule; by the {other} rule: {found}. A new weighing decides.")
    head = f"Predicted {word}, not weighed" if word else "Predicted, not weighed: no statement"
    return {"word": head, "colour": status_class(word), "lines": lines}


def predicted_side(result: Result) -> str:
    """Say at which limit the predicted moment lies nearer: for the glyph."""
    return nearer_side(
        value_of(result["moment_after"]), *(value_of(result["limits"][end]) for end in ("lower", "upper"))
    )


def _extras(result: Result) -> list[str]:
    lines = []
    for change in result["changes"]:
        parts = [amount_words(piece["value"]) for piece in change["pieces"]]
        if change["fixed_mass"]["value"]:
            parts.append(f"bracket and screws {amount_words(change['fixed_mass']['value'])}")
        if parts:
            lines.append(f"{change['place']}: of this {' + '.join(parts)}.")
    return lines


def _budget(result: Result) -> list[list[str]]:
    return [
        [row["source"], format_scaled(row["contribution"], "N m"), format_percent(row["share"])]
        for row in result["budget"][:MOST_BUDGET_ROWS]
    ]
