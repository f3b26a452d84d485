"""Jobs found by aircraft, surface, day and person, a page at a time; what was said of each."""

from __future__ import annotations

import json
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

from django.db.models import Q, QuerySet

from hingeline_app.records.certificates import certificate_on
from hingeline_app.records.models import (
    BallastProposal,
    Job,
    Measurement,
    PaperRecord,
    Person,
    Reading,
    Result,
    Signature,
    Surface,
)
from hingeline_app.records.models.jobs import JobRow
from hingeline_app.records.queries.matter import RELEASE, VOIDED, WEIGHING_RESULT
from hingeline_app.records.queries.pieces import swapped_at
from hingeline_app.records.queries.visible import Nowhere, visible_to
from hingeline_app.records.treatment import treated_after

A_PAGE = 40


@dataclass(frozen=True)
class Wanted:
    """What is looked for; what is empty is not asked."""

    aircraft: str = ""
    surface: str = ""
    person: str = ""
    since: date | None = None
    until: date | None = None


@dataclass(frozen=True)
class RecordLine:
    """One job in the list."""

    number: int
    registration: str
    type_name: str
    surface: str
    why_here: str
    state: str
    opened_on: date
    opened_by: str
    weighing: dict[str, Any] | None
    # What speaks against the scale of that weighing on its day; empty where nothing does (records/certificates).
    scale_against: str
    released_by: str
    # The day in the workshop's zone.
    released_on: date | None
    why: str = ""
    """What was chosen of the list, whatever language ``why_here`` says it in; empty where nothing was."""


@dataclass(frozen=True)
class RecordPage:
    """A page of the list, and how many there are in all."""

    lines: tuple[RecordLine, ...]
    found: int
    page: int

    @property
    def pages(self) -> int:
        """Give how many pages there are."""
        return max(1, -(-self.found // A_PAGE))


@dataclass(frozen=True)
class PastWeighing:
    """One weighing of a surface's history."""

    number: int
    weighing: int
    on: date
    change: int
    document: dict[str, Any]
    why_here: str
    is_first_of_job: bool
    why: str = ""
    """What was chosen of the list, whatever language ``why_here`` says it in; empty where nothing was."""
    is_corrected: bool = False
    """A correction was fitted in this job since the weighing before, or since it was opened."""
    is_treated: bool = False
    """The arm was treated so in this job, with something that has a mass."""
    is_other_piece: bool = False
    """The piece was swapped since the weighing before."""
    scale_against: str = ""
    """What speaks against its scale on its day; empty where nothing does (records/certificates)."""


@dataclass(frozen=True)
class SurfaceHistory:
    """A surface with everything that was weighed on it, and what paper says."""

    identifier: UUID
    name: str
    aircraft: UUID
    registration: str
    type_name: str
    weighings: tuple[PastWeighing, ...]
    paper: tuple[tuple[date, str, str], ...]


def find_records(viewer: Person, wanted: Wanted, page: int = 1) -> RecordPage:
    """Give a page of jobs, the newest first; six queries however many there are."""
    jobs = _wanted(visible_to(viewer, Job), wanted)
    found = jobs.count()
    page = max(1, min(page, max(1, -(-found // A_PAGE))))
    shown = list(
        jobs.select_related("surface__aircraft", "opened_by", "workshop").order_by("-number")[
            (page - 1) * A_PAGE : page * A_PAGE
        ]
    )
    weighed, released = _weighed(shown), _released(shown)
    lines = tuple(_line(job, weighed.get(job.pk, (None, "")), released.get(job.pk)) for job in shown)
    return RecordPage(lines, found, page)


def surface_history(viewer: Person, surface: UUID) -> SurfaceHistory:
    """Give what was weighed on a surface over the years, the earliest first.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    row = visible_to(viewer, Surface).filter(pk=surface).select_related("aircraft").first()
    if row is None:
        raise Nowhere("there is no such surface")
    results = Result.objects.filter(
        job__surface=row, document_format__startswith=WEIGHING_RESULT, measurement__isnull=False
    )
    results = results.exclude(job__state=VOIDED).select_related("job", "measurement__scale")
    last = {each.measurement_id: each for each in results.order_by("change")}
    ordered = sorted(last.values(), key=lambda each: (each.measurement.begun_on, each.job.number, each.change))  # type: ignore[union-attr]
    weighings = _with_what_was_done(row.pk, ordered)
    paper = visible_to(viewer, PaperRecord).filter(surface=row).exclude(moment="").order_by("original_date")
    told = tuple((each.original_date, each.moment, each.original_signer) for each in paper)
    aircraft = row.aircraft
    return SurfaceHistory(
        row.pk, row.name, aircraft.pk, aircraft.registration, aircraft.type_name, tuple(weighings), told
    )


def results_to_replay(viewer: Person, job: UUID) -> list[tuple[str, int, str, str, str]]:
    """Give every result of a job: format, number of its weighing, what was asked, what came out, by which version."""
    rows = visible_to(viewer, Result).filter(job=job).select_related("measurement").order_by("change")
    return [
        (row.document_format, row.measurement.number if row.measurement else 0, row.asked, row.document, row.software)
        for row in rows
    ]


def _wanted(jobs: QuerySet[Job], wanted: Wanted) -> QuerySet[Job]:
    if wanted.aircraft:
        marks = Q(surface__aircraft__registration__icontains=wanted.aircraft)
        marks |= Q(surface__aircraft__type_name__icontains=wanted.aircraft)
        jobs = jobs.filter(marks | Q(surface__aircraft__serial_number__iexact=wanted.aircraft))
    if wanted.surface:
        jobs = jobs.filter(surface__name__icontains=wanted.surface)
    if wanted.since:
        jobs = jobs.filter(opened_on__gte=wanted.since)
    if wanted.until:
        jobs = jobs.filter(opened_on__lte=wanted.until)
    return _by_person(jobs, wanted.person) if wanted.person else jobs


def _by_person(jobs: QuerySet[Job], name: str) -> QuerySet[Job]:
    """Keep the jobs that somebody of this name opened, measured on or signed."""
    people = list(
        Person.objects.filter(Q(name__icontains=name) | Q(initials__iexact=name)).values_list("pk", flat=True)
    )
    tables: Sequence[type[JobRow]] = (Measurement, Reading, Signature)
    condition = Q(opened_by__in=people)
    # From the person to the jobs, along the index: not from each job to everything that was done on it.
    for table in tables:
        condition |= Q(pk__in=table._default_manager.filter(made_by__in=people).values("job"))
    return jobs.filter(condition)


def _weighed(jobs: Sequence[Job]) -> dict[UUID, tuple[dict[str, Any], str]]:
    results = Result.objects.filter(job__in=jobs, document_format__startswith=WEIGHING_RESULT).order_by("change")
    rows = results.select_related("measurement__scale")
    return {each.job_id: (json.loads(each.document), _scale_against(each.measurement)) for each in rows}


def _scale_against(weighing: Measurement | None) -> str:
    if weighing is None or weighing.scale is None:
        return ""
    return certificate_on(weighing.scale.certificates, weighing.begun_on).against(weighing.begun_on)


def _released(jobs: Sequence[Job]) -> dict[UUID, Signature]:
    signed = Signature.objects.filter(job__in=jobs, purpose=RELEASE, withdrawn_at_change__isnull=True)
    return {each.job_id: each for each in signed.select_related("made_by").order_by("change")}


def _line(job: Job, weighed: tuple[dict[str, Any] | None, str], released: Signature | None) -> RecordLine:
    aircraft = job.surface.aircraft
    return RecordLine(
        job.number,
        aircraft.registration,
        aircraft.type_name,
        job.surface.name,
        job.why_here,
        job.state,
        job.opened_on,
        job.opened_by.name,
        *weighed,
        released.made_by.name if released else "",
        released.signed_at.astimezone(ZoneInfo(job.workshop.zone)).date() if released else None,
        str(job.details.get("why") or ""),
    )


def _with_what_was_done(surface: UUID, results: Sequence[Result]) -> list[PastWeighing]:
    """Give each weighing with what is recorded between it and the one before."""
    fitted: dict[UUID, list[int]] = {}
    rows = BallastProposal.objects.filter(job__surface=surface, fitted_at_change__isnull=False)
    for job, change in rows.values_list("job", "fitted_at_change"):
        fitted.setdefault(job, []).append(change or 0)
    swapped, told, before = swapped_at(surface), list[PastWeighing](), None
    for each in results:
        told.append(_past(each, before, fitted.get(each.job_id, ()), swapped))
        before = each
    return told


def _past(result: Result, before: Result | None, fitted: Sequence[int], swapped: Sequence[int]) -> PastWeighing:
    measurement, last = result.measurement, before.measurement if before else None
    assert measurement is not None, "only results of a measurement were asked for"
    same = last if before is not None and before.job_id == result.job_id else None
    since, weighed = (same.change, same.number) if same else (0, 0)
    return PastWeighing(
        result.job.number,
        measurement.number,
        measurement.begun_on,
        result.change,
        json.loads(result.document),
        result.job.why_here,
        same is None,
        str(result.job.details.get("why") or ""),
        any(since < change <= measurement.change for change in fitted),
        weighed <= treated_after(result.job.details) < measurement.number,
        before is not None and any(before.job.number < number <= result.job.number for number in swapped),
        _scale_against(measurement),
    )
