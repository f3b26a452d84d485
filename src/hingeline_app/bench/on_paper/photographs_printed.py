"""Photographs with marked places as a worksheet prints them."""

from __future__ import annotations

import base64
from collections.abc import Sequence
from dataclasses import replace
from typing import NamedTuple

from hingeline_app.bench.on_paper.photo_marks import Mark
from hingeline_app.figures import on_paper
from hingeline_app.figures.marked_photograph import MarkedPlace, draw_marked_photograph
from hingeline_app.records.queries.photographs import PhotographRecord
from hingeline_app.report.job_record import JobRecord, MarkedPhotograph, MarkedSpot

WIDTH = 420.0
# More than these are named in a remark: a sheet is no album.
MOST = 8


class ToPrint(NamedTuple):
    """A photograph with its marks, and our own copy of it: JPEG, width, height."""

    photograph: PhotographRecord
    marks: Sequence[Mark]
    copy: tuple[bytes, int, int]


def with_photographs(record: JobRecord, shown: Sequence[ToPrint], left_out: int = 0) -> JobRecord:
    """Give a record with photographs; how many were left out is said."""
    said = (f"{left_out} more photographs with marked places are in the records.",) * bool(left_out)
    return replace(
        record,
        photographs=tuple(_told(each) for each in shown),
        pictures=tuple(_drawn(each) for each in shown),
        remarks=(*record.remarks, *said),
    )


def _told(shown: ToPrint) -> MarkedPhotograph:
    spots = tuple(MarkedSpot(each.number, each.x, each.y, each.words, each.by) for each in shown.marks)
    return MarkedPhotograph(_words(shown), shown.photograph.digest, spots, shown.photograph.added_by)


def _drawn(shown: ToPrint) -> str:
    data, width, height = shown.copy
    address = f"data:image/jpeg;base64,{base64.b64encode(data).decode()}"
    places = [MarkedPlace(each.number, float(each.x) / 100, float(each.y) / 100, each.words) for each in shown.marks]
    return on_paper(draw_marked_photograph(address, (width, height), _words(shown), places, WIDTH))


def _words(shown: ToPrint) -> str:
    return shown.photograph.remark or shown.photograph.name
