"""Photographs of a job beside the places that were marked on them, as a page lists them."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from django.http import HttpRequest

from hingeline_app.bench.on_paper.photo_marks import Mark, marks_of
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.photographs import PhotographRecord, photographs_of
from hingeline_app.web.for_the_viewer import viewer_of


@dataclass(frozen=True)
class MarkedPhotograph:
    """One photograph with its marks."""

    photograph: PhotographRecord
    marks: list[Mark]

    @property
    def words(self) -> str:
        """Say what it shows, with each marked place: what those hear who do not see it."""
        said = [f"{each.number}: {each.words}" for each in self.marks]
        return "; ".join([self.photograph.remark or self.photograph.name, *said])


def marked_photographs(request: HttpRequest, job: JobRecord, kind: str, begins: str = "") -> list[MarkedPhotograph]:
    """List the photographs of a kind; of a step, those whose remark begins with its word."""
    return [
        each for each in every_photograph(request, job)
        if each.photograph.kind == kind and each.photograph.remark.startswith(begins)
    ]  # fmt: skip


def every_photograph(request: HttpRequest, job: JobRecord) -> list[MarkedPhotograph]:
    """List the photographs of a job."""
    viewer: Any = viewer_of(request)
    return [MarkedPhotograph(each, marks_of(job, each.identifier)) for each in photographs_of(viewer, job.identifier)]
