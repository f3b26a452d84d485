"""Which rows of limits wait to be compared with their document: it stops nothing, and is said until it was done."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline_app.records.looking.findings import NOTHING, Finding
from hingeline_app.records.models import LimitRow
from hingeline_app.records.queries.limits import record_of

SAYS = "entered before a word for the sense beside a number was refused: its limits may stand on the wrong side"
REMEDY = "Have a second person compare the row with its document, on the page of the row."


def limit_findings(using: str) -> Iterator[Finding]:
    """Name each row that may have been turned; readings of a row typed since end it."""
    rows = LimitRow.objects.using(using).select_related("issue__document", "first_reader", "second_reader")
    older = rows.filter(readings__numbers_are_bare=False).distinct().prefetch_related("readings")
    for row in older.order_by("issue__document__number", "surface", "page", "pk"):
        if record_of(row, list(row.readings.all())).may_be_turned:
            where = f"{row.issue.document.number}, issue {row.issue.issue}, page {row.page}, {row.surface}"
            yield Finding("limits", where, SAYS, NOTHING, REMEDY)
