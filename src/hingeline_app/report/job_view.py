"""Side 2 of a job's worksheet, as plain texts in the order of the sheet."""

from __future__ import annotations

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from hingeline_app.figures import draw_glyph, on_paper
from hingeline_app.figures.style import status_class
from hingeline_app.figures.wording import shorten
from hingeline_app.report.fonts import printable_all
from hingeline_app.report.job_record import (
    AGAIN,
    RELEASE,
    RELEASED,
    SECOND,
    VOIDED,
    JobRecord,
    MarkedPhotograph,
    Signed,
)
from hingeline_app.report.pictures import drawn
from hingeline_app.report.quantities import as_typed
from hingeline_app.report.record import record_digest, spaced_digest
from hingeline_app.report.square_code import square_code
from hingeline_app.report.view import NO_RELEASE, NO_STATEMENT, breakable_all, fitted, sheet_view
from hingeline_app.report.words import budget_rows
from hingeline_app.said import AsTyped

# What stands beside these is made of words of the program; beside anything else it was typed.
IN_OUR_WORDS = ("ticked", "as it came", "at this place", "chosen aim", "wall", "for the estimate", "this step")
ONE_VALUE = ("inertia", "product of inertia")
NOTHING = "Nothing was entered."
MOST_CAUSES = 11
NOT_SIGNED, NOT_RELEASED, WAS_VOIDED = "Not yet signed", "Not released", "Voided"
AGAIN_TITLE = "Inspected again by the same person · not a second inspection"
RELEASE_CAUTION = "Release is the certifying person's decision under the local authority's rules."
NOT_THE_RELEASE = "The statement is not the release: side 2 says what was signed."


def job_view(record: JobRecord, made_at: datetime, version: str) -> dict[str, Any]:
    """Return the texts and pictures of both sides of a job's worksheet."""
    front = sheet_view(dict(record.result), record.weighing_text, record.sheet, made_at, version)
    back, _ = printable_all(_back(record, front, version))
    back["block"] = [fitted(index, *box) for index, box in enumerate(back["block"])]
    front |= _as_it_is_used(record, front["statement"])
    codes = {"head_code": square_code(record.head.full) if record.head else "", "again_code": _again(record, version)}
    return {
        **front,
        "record": record.number or "none",
        "state": state_words(record),
        "surface": shorten(front["surface"], 48),
        "cautions": _also(_without_its_end(front["cautions"]), NOT_THE_RELEASE, "not a release"),
        "withdrawn_words": _withdrawn_words(record),
        "back": {**breakable_all(back), **codes, "pictures": list(record.pictures)},
    }


def _as_it_is_used(record: JobRecord, statement: dict[str, Any]) -> dict[str, Any]:
    """Say first why a statement is not used, and give it no sign of its own: side 1 is what hangs at the bench."""
    if not record.not_used:
        return {}
    word = statement["word"]
    said = word if word == NO_STATEMENT else f"{word}: not used"
    lines = [*printable_all([record.not_used])[0], *statement["lines"]]
    return {
        "statement": {"word": said, "colour": status_class(None), "lines": breakable_all(lines)},
        "glyph": on_paper(draw_glyph(None)),
        # Beam and bar show where the value lies, in ink.
        **drawn({**record.result, "statement": None, "statements": []}),
    }


def state_words(record: JobRecord) -> str:
    """Say in two words how the job stands; nothing but a release that holds is called released."""
    if record.state == VOIDED:
        return WAS_VOIDED
    return "Released" if is_released(record) else NOT_RELEASED


def _also(cautions: Sequence[str], caution: str, unless: str) -> list[str]:
    """Add a caution unless what it says is said."""
    return [*cautions] if unless in " ".join(cautions) else [*cautions, caution]


def _without_its_end(cautions: Sequence[str]) -> list[str]:
    return [caution.removesuffix(NO_RELEASE).strip() for caution in cautions if caution != NO_RELEASE]


def is_released(record: JobRecord) -> bool:
    """Tell whether the record was released and the release still holds."""
    release = record.signed(RELEASE)
    return record.state == RELEASED and release is not None and release.holds


def _withdrawn_words(record: JobRecord) -> str:
    count = len(record.withdrawn)
    return f"{count} withdrawn, with the reason on side 2." if count else ""


def _back(record: JobRecord, front: dict[str, Any], version: str) -> dict[str, Any]:
    return {
        "block": front["block"][:5],
        "budget": budget_rows(record.result, MOST_CAUSES),
        "weighings": [[each.number, each.date, each.moment, each.statement] for each in record.weighings],
        "changes": [
            [AsTyped(e.place), e.arm, e.mass, e.moment, AsTyped(e.part_number), AsTyped(e.by)] for e in record.changes
        ],
        "withdrawn": [[AsTyped(e.reading), e.place, AsTyped(e.why), AsTyped(e.by)] for e in record.withdrawn],
        "arm": [[e.point, e.seen, e.measured, e.method, AsTyped(e.by)] for e in record.arm],
        "refit": [[e.what, e.measured, e.limit, e.finding, AsTyped(e.instrument), AsTyped(e.by)] for e in record.refit],
        "items": [[e.item, AsTyped(e.first), e.finding, AsTyped(e.note), AsTyped(e.by)] for e in record.items],
        "told": [[e.step, e.what, _entered(e.what, e.said), AsTyped(e.by)] for e in record.told],
        "photographs": [_photograph(each) for each in record.photographs],
        "notes": [*front["notes"], *record.remarks],
        "in_the_way": list(record.in_the_way),
        "boxes": signature_boxes(record),
        "cautions": _also(_without_its_end(front["cautions"]), RELEASE_CAUTION, RELEASE_CAUTION),
        "head_words": _head_words(record),
        "again_words": _again_words(record, version),
        "nothing": NOTHING,
        "is_blank": False,
    }


def _entered(what: str, said: str) -> str:
    if what in IN_OUR_WORDS:
        return said
    return AsTyped(as_typed(said) if what in ONE_VALUE else said)


def _photograph(shown: MarkedPhotograph) -> dict[str, Any]:
    words = f"{shown.words}{', ' + shown.by if shown.by else ''}. File {spaced_digest(shown.digest[:16])}"
    return {"words": words, "marks": [[str(e.number), AsTyped(e.words), AsTyped(e.by)] for e in shown.marks]}


def signature_boxes(record: JobRecord) -> list[dict[str, Any]]:
    """Return the three boxes: who weighed, who looked a second time, who released; what is missing in words."""
    weighed = {
        "title": "Weighed by · signature by hand",
        "lines": [AsTyped(record.weighed_by), record.weighed_on],
        "across": "",
    }
    second, again = record.signed(SECOND), record.signed(AGAIN)
    held_again = again is not None and again.holds and not (second is not None and second.holds)
    looked = _box(AGAIN_TITLE, again) if held_again else _box("Second inspection · a different person", second)
    release = _box("Release", record.signed(RELEASE))
    if not is_released(record):
        release["across"] = WAS_VOIDED if record.state == VOIDED else NOT_RELEASED
    return [weighed, looked, release]


def _box(title: str, signed: Signed | None) -> dict[str, Any]:
    if signed is None:
        return {"title": title, "lines": [], "across": NOT_SIGNED}
    lines = [AsTyped(f"{signed.name}{', ' + signed.number if signed.number else ''}"), signed.at]
    if not signed.holds:
        ended = signed.ended_because or "the job changed after it"
        return {"title": title, "lines": [*lines, f"No longer holds: {ended}."], "across": NOT_SIGNED}
    proof = f"signed in the records, by {signed.proved_by}" if signed.proved_by else "signed in the records"
    more = [text for text in (AsTyped(signed.reason), *signed.notes) if text]
    return {"title": title, "lines": [*lines, proof, *more], "across": ""}


def _head_words(record: JobRecord) -> list[str]:
    if record.head is None:
        return ["This sheet carries no head of the ledger: it was printed without the records."]
    return [
        f"Head of the ledger {record.head.short}, signed {record.head.at}.",
        "Kept with this sheet, it shows later whether anything written before it was changed.",
    ]


def _digest(record: JobRecord) -> str:
    return record_digest(record.weighing_text, record.result)


def _again_words(record: JobRecord, version: str) -> list[str]:
    said = f"Record {shorten(record.number or 'without a number', 24)}, Hingeline {version}"
    return [f"{said}, check sum {spaced_digest(_digest(record))}.", "The data are in this PDF: hingeline replay FILE"]


def _again(record: JobRecord, version: str) -> str:
    """Draw the code that says which record, version and check sum to look for."""
    words: Sequence[str] = ("HINGELINE", version, record.number or "-", _digest(record))
    return square_code(record.again or " ".join(words).upper())
