"""The marked photographs of a job, put on the record that its worksheet is printed from."""

from __future__ import annotations

from dataclasses import replace

from django.http import HttpRequest

from hingeline.errors import InputRefused
from hingeline_app.bench.on_paper.photographs_printed import MOST, ToPrint, with_photographs
from hingeline_app.files.photograph import drawn_for_print
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.job_record import JobRecord as PrintedRecord
from hingeline_app.web.marked_photographs import MarkedPhotograph, every_photograph
from hingeline_app.web.photographs import copy_of

LOST = "The copy of a photograph with marked places cannot be read: {words}."


def photographs_on(request: HttpRequest, job: JobRecord, record: PrintedRecord) -> PrintedRecord:
    """Put them on a record; what cannot be read is said, and stops no worksheet."""
    marked = [each for each in every_photograph(request, job) if each.marks]
    drawn = [(each, _drawn(each)) for each in marked[:MOST]]
    lost = tuple(LOST.format(words=each.words) for each, copy in drawn if copy is None)
    shown = [ToPrint(each.photograph, each.marks, copy) for each, copy in drawn if copy is not None]
    return replace((whole := with_photographs(record, shown, len(marked[MOST:]))), remarks=(*whole.remarks, *lost))


def _drawn(each: MarkedPhotograph) -> tuple[bytes, int, int] | None:
    data = copy_of(each.photograph.preview_digest)
    try:
        return None if data is None else drawn_for_print(data)
    except InputRefused:
        return None
