"""Which rows of limits wait to be compared with their document: it stops nothing, and is said until it was done."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from hingeline_app.records.looking.findings import NOTHING, Finding, Findings
from hingeline_app.records.models import LimitRow, Person
from hingeline_app.records.queries.limits import record_of
from hingeline_app.records.queries.visible import visible_to

WHAT = "limits"

SAYS = "entered before a word for the sense beside a number was refused: its limits may stand on the wrong side"
REMEDY = "Have a second person compare the row with its document, on the page of the row."


def limit_findings(using: str) -> Iterator[Finding]:
    """Name each row that may have been turned; readings of a row typed since end it."""
    rows = LimitRow.objects.using(using).select_related("issue__document", "first_reader", "second_reader")
    older = rows.filter(readings__numbers_are_bare=False).distinct().prefetch_related("readings")
    for row in older.order_by("issue__document__number", "surface", "page", "pk"):
        if record_of(row, list(row.readings.all())).may_be_turned:
            yield Finding(WHAT, _place(row), SAYS, NOTHING, REMEDY)


def seen_by(viewer: Person, findings: Findings) -> Findings:
    """Leave out rows of limits that a person may not see: the look goes through every workshop of the database."""
    rows = visible_to(viewer, LimitRow).select_related("issue__document")
    waiting = any(each.what == WHAT for each in findings.findings)
    own = {_place(row) for row in rows} if waiting else set()
    return replace(
        findings, findings=tuple(each for each in findings.findings if each.what != WHAT or each.where in own)
    )


def _place(row: LimitRow) -> str:
    return f"{row.issue.document.number}, issue {row.issue.issue}, page {row.page}, {row.surface}"
