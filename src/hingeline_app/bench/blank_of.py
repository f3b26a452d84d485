"""A job's blank worksheet: its set-up and limits, nothing read."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from hingeline.document import to_document
from hingeline_app.bench.record_of import the_weighing, without_readings
from hingeline_app.bench.weighing_of import weighing_text
from hingeline_app.files.weighing_file import read_weighing
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.blank import plan_or_none
from hingeline_app.report.sheet import SheetDetails


@dataclass(frozen=True)
class Blank:
    """What a blank worksheet is printed from."""

    text: str
    sheet: SheetDetails
    weighing: dict[str, Any]
    plan: dict[str, Any] | None


def blank_of(job: JobRecord, workshop: str) -> Blank:
    """Give what a blank worksheet of a job says, from the set-up of its last weighing.

    Raises
    ------
    InputRefused
        No weighing was set up, or its set-up cannot be read: what is missing is named.
    """
    text = weighing_text(job, without_readings(the_weighing(job)))
    read = read_weighing(text.encode())
    sheet = SheetDetails(**{**read.sheet, "workshop": workshop, "weighing": "", "date": ""})
    return Blank(text, sheet, to_document(read.weighing), plan_or_none(read.weighing))
