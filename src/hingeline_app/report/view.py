"""Everything that a worksheet says, as plain texts in the order of the sheet: what the template lays out."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from typing import Any

from hingeline_app.figures import draw_glyph, on_paper
from hingeline_app.figures.axis import finding_words as bar_words
from hingeline_app.figures.beam.legend import finding_words as beam_words
from hingeline_app.figures.style import status_class
from hingeline_app.figures.wording import shorten
from hingeline_app.report.fonts import breakable, printable_all
from hingeline_app.report.pictures import beam_picture, drawn, limit_bar
from hingeline_app.report.quantities import written
from hingeline_app.report.readings import readings_view, scale_words
from hingeline_app.report.record import Result, record_digest, spaced_digest
from hingeline_app.report.sheet import SheetDetails, made_words
from hingeline_app.report.words import (
    budget_rows,
    has_limits,
    limits_words,
    statement_lines,
    statement_side,
    sum_written_out,
    term_rows,
    uncertainty_words,
    window_words,
)
from hingeline_app.said import AsTyped
from hingeline_app.said.as_typed import as_was

STANDING_CAUTION = (
    "Work to the approved document; this sheet shows its limits and does not replace them. Not a release."
)
BOXES_A_ROW, WIDE_BOXES = 5, 3
REPLACED_NOTE = (
    "Characters that the fonts of this sheet lack are printed as □. "
    "The record attached to this file keeps what was typed."
)
NO_RELEASE = "Not a release."
NO_STATEMENT = "No statement"


def sheet_view(
    result: Result, weighing_text: str, sheet: SheetDetails, made_at: datetime, version: str
) -> dict[str, Any]:
    """Return the texts and pictures of a worksheet, every character one that our fonts can print."""
    name = str((result.get("surface") or {}).get("name") or "Surface")
    texts = {
        "title": f"Weighing worksheet: {shorten(name, 80)}",
        "workshop": AsTyped(shorten(sheet.workshop, 60)),
        "block": _title_block(result, sheet, name),
        "statement": _statement(result),
        "sum": sum_written_out(result),
        "terms": term_rows(result),
        "uncertainty": uncertainty_words(result),
        "readings": readings_view(result),
        "scale": scale_words(result, sheet.scale_calibrated),
        "window": window_words(result),
        "budget": budget_rows(result),
        "notes": [str(note) for note in result.get("notes") or []],
        "cautions": with_standing(result.get("cautions") or []),
        "foot": foot(result, weighing_text, sheet, made_at, version),
        "surface": AsTyped(shorten(f"{name}{', ' + sheet.aircraft if sheet.aircraft else ''}", 60)),
        "beam_words": beam_words(beam_picture(result)),
        "bar_words": bar_words(limit_bar(result)),
    }
    pictures = {**drawn(result), "glyph": _glyph(result), "caution_glyph": on_paper(draw_glyph("caution"))}
    printed, replaced = printable_all(texts)
    pictures, _ = printable_all(pictures)
    if replaced:
        printed["notes"].append(REPLACED_NOTE)
    printed["block"] = [fitted(index, *box) for index, box in enumerate(printed["block"])]
    return {**breakable_all(printed), **pictures}


def fitted(index: int, label: str, words: str) -> list[str]:
    """Shorten a text of the title block to what its box holds; the record inside keeps all of it."""
    narrow = index % BOXES_A_ROW >= WIDE_BOXES
    return [label, as_was(words, breakable(shorten(words, 20 if narrow else 90), 8 if narrow else 14))]


def _title_block(result: Result, sheet: SheetDetails, name: str) -> list[list[str]]:
    """Return the title block: label and text of each box, five in a row."""
    rule = str(result.get("rule", "simple"))
    part = ", ".join(text for text in (sheet.part, sheet.serial) if text)
    return [
        ["Aircraft", AsTyped(sheet.aircraft)],
        ["Surface", AsTyped(name)],
        ["Part, serial", AsTyped(part)],
        ["Job", AsTyped(sheet.job)],
        ["Weighing", sheet.weighing],
        ["Approved data", sheet.approved_data(result.get("limits_source"))],
        ["Limits", limits_words(result)],
        ["Rule", rule if has_limits(result) else "none in force"],
        ["Date", sheet.date],
        ["Mass", _mass(result)],
    ]


def _mass(result: Result) -> str:
    mass = (result.get("surface") or {}).get("mass")
    return written(mass, 4) if mass else ""


def _statement(result: Result) -> dict[str, Any]:
    statement = result.get("statement")
    return {
        "word": str(statement).capitalize() if statement else NO_STATEMENT,
        "colour": status_class(statement),
        "lines": statement_lines(result),
    }


def _glyph(result: Result) -> str:
    return on_paper(draw_glyph(result.get("statement"), side=statement_side(result)))


def with_standing(cautions: Iterable[str]) -> list[str]:
    """Add what stands on every sheet, unless these cautions say it already: nothing is said twice."""
    own = [str(caution) for caution in cautions]
    said = " ".join(own)
    standing = [] if "Work to the approved" in said else [STANDING_CAUTION]
    cautions = [*own, *standing]
    return cautions if "not a release" in " ".join(cautions).lower() else [*cautions, NO_RELEASE]


def foot(result: Result, weighing_text: str, sheet: SheetDetails, made_at: datetime, version: str) -> str:
    """Write the foot of a sheet: record, version, check sum, when it was made."""
    record = "-".join(part for part in (sheet.job, sheet.weighing) if part)
    parts = [f"Record {shorten(record, 24)}"] if record else []
    digest = spaced_digest(record_digest(weighing_text, result))
    parts += [f"Hingeline {version}", f"check sum {digest}", f"made {made_words(made_at)}"]
    return " · ".join(parts)


def breakable_all(value: Any) -> Any:
    """Let every long word in a nest of lists and dictionaries break."""
    if isinstance(value, str):
        return as_was(value, breakable(value))
    if isinstance(value, dict):
        return {key: breakable_all(inner) for key, inner in value.items()}
    if isinstance(value, list):
        return [breakable_all(inner) for inner in value]
    return value
