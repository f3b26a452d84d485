"""The invented approved data of the Merle T2: rows read twice, one that contradicts itself, an old issue."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import Any
from uuid import UUID

from hingeline_app.demo.cast import Workshop
from hingeline_app.demo.hangar import TYPE
from hingeline_app.records.actions.limits import add_document, add_issue, enter_limits, read_again

ELEVATOR = {"positive": "tail-heavy", "moment": ["0.00 N m", "2.10 N m"], "mass": ["3.8 kg", "4.6 kg"], "arm": "255 mm"}
RUDDER = {"positive": "nose-heavy", "moment": ["2.50 kg cm", "7.50 kg cm"], "rule": "guarded"}
AILERON = {
    "positive": "tail heavy",
    "moment": ["20.0 N cm", "45.0 N cm"],
    # The column of an earlier aileron, left in the table.
    "force": ["2.4 N", "4.1 N"],
    "arm": "15.5 cm",
}
TAB = {"positive": "tail heavy", "moment": ["none", "1.5 kg cm"], "effectivity": "serial 0001 to 0012"}


def enter_approved_data(shop: Workshop) -> dict[str, UUID]:
    """Enter the documents and their rows; give the rows that the jobs choose, by surface."""
    seven = add_document(shop.mara, "Data sheet 7, elevator", "DS 7", TYPE)
    _old_issue(shop, seven.pk)
    issue = add_issue(shop.mara, seven.pk, "C", date(2023, 2, 14))
    rows = {
        name: _twice(shop, issue.pk, name, "3", {**ELEVATOR, "surface": name})
        for name in ("Elevator, left half", "Elevator, right half")
    }
    nine = add_issue(shop.mara, add_document(shop.mara, "Data sheet 9, rudder", "DS 9", TYPE).pk, "A", date(2016, 9, 1))
    rows["Rudder"] = _twice(shop, nine.pk, "Rudder", "2", RUDDER)
    five = add_document(shop.jon, "Data sheet 5, aileron", "DS 5", TYPE)
    issue = add_issue(shop.jon, five.pk, "B", date(2019, 11, 5))
    found = _contradictions(AILERON)
    rows["Aileron, left"] = enter_limits(
        shop.jon, issue.pk, "Aileron, left", "2", AILERON, contradictions=found
    ).pk  # fmt: skip
    eight = add_issue(shop.jon, add_document(shop.jon, "Data sheet 8, tab", "DS 8", TYPE).pk, "A", date(2012, 1, 30))
    enter_limits(shop.jon, eight.pk, "Elevator tab", "1", TAB, is_draft=True)
    return rows


def _old_issue(shop: Workshop, document: UUID) -> None:
    issue = add_issue(shop.mara, document, "B", date(2015, 6, 1))
    _twice(shop, issue.pk, "Elevator, left half", "3", {**ELEVATOR, "moment": ["0.00 N m", "2.40 N m"]})


def _twice(shop: Workshop, issue: UUID, surface: str, page: str, printed: Mapping[str, Any]) -> UUID:
    row = enter_limits(shop.mara, issue, surface, page, printed)
    return read_again(shop.ines, row.pk, printed).pk


def _contradictions(printed: Mapping[str, Any]) -> list[dict[str, Any]]:
    """Let the library find what disagrees in a row, as the page of limits does."""
    from hingeline.balance import check_rows
    from hingeline.document import to_document
    from hingeline_app.files.limits_file import FORMAT, read_limits
    from hingeline_app.files.toml_text import toml_text

    text = toml_text({"format": FORMAT, "row": [{"surface": "row", **printed}]})
    found: Any = to_document(check_rows(read_limits(text.encode())))
    return list(found["rows"][0]["contradictions"])
