"""Look at the records: whether everything is there, as it was written, on settings that keep it.

    found = look_at_the_records()
    found.may_start, found.may_sign, found.findings

Used at the start of the pages, on the page that says since when the records are whole, by
``hingeline ledger verify``, and on every backup before it counts as one.
"""

from __future__ import annotations

from hingeline_app.records.looking.findings import NOTHING, SIGNING, START, ChainState, Finding, Findings
from hingeline_app.records.looking.look import look_at_the_records

__all__ = ["NOTHING", "SIGNING", "START", "ChainState", "Finding", "Findings", "look_at_the_records"]
