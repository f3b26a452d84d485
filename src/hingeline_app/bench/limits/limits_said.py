"""What has to be said of the row of limits beside a statement: one reader, a draft, superseded, not to be seen yet."""

from __future__ import annotations

from hingeline_app.records.queries.limits import DRAFT, READ_ONCE, SUPERSEDED, RowRecord

SAID = {
    DRAFT: "The limits are a draft: nobody has read them yet",
    READ_ONCE: "Limits read by one person",
    SUPERSEDED: "Limits superseded by a newer issue",
}


def limits_said(row: RowRecord | None) -> str:
    """Give the heading of a statement on such limits; nothing where two persons read them."""
    if row is None:
        return "No limits chosen"
    if row.printed is None:
        return "Limits hidden: you are to read this row in the document first"
    return SAID.get(row.state, "")


def limits_named(row: RowRecord | None) -> str:
    """Name document, issue and page, and how the row was read."""
    if row is None:
        return ""
    return f"Limits: {row.document}, issue {row.issue}, page {row.page}, {row.state}."
