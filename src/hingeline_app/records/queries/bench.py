"""The jobs on the bench, a page at a time: as many queries for a full page as for one job."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from django.db.models import CharField, Q, QuerySet
from django.db.models.functions import Cast
from django.db.models.lookups import Contains

from hingeline_app.records.models import InspectionItem, Job, Measurement, Person, Reading
from hingeline_app.records.queries.jobs import NEEDED, JobRecord, records_of
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import visible_to

ON_A_PAGE = 20
ALL_OPEN, MINE, HELD, DONE = "open", "mine", "held", "done"
WHICH = (ALL_OPEN, MINE, HELD, DONE)
# As details are spelled in their column.
STEP_HELD = '"state":"held"'


@dataclass(frozen=True)
class BenchPage:
    """One page of jobs."""

    jobs: tuple[JobRecord, ...]
    all: int
    number: int

    @property
    def last(self) -> int:
        """Give the number of the last page."""
        return max(1, -(-self.all // ON_A_PAGE))


def bench_page(viewer: Person, which: str = ALL_OPEN, sought: str = "", number: int = 1) -> BenchPage:
    """Give a page of jobs, the newest first.

    Parameters
    ----------
    viewer : Person
        An owner sees the jobs of own aircraft.
    which : str
        One of ``WHICH``; done holds the voided ones too.
    sought : str
        Part of a registration or of a surface's name, or a job's number.
    """
    rows = _which(visible_to(viewer, Job), viewer, which)
    for word in sought.split():
        rows = rows.filter(_has(word))
    many = rows.count()
    number = max(1, min(number, -(-many // ON_A_PAGE) or 1))
    first = (number - 1) * ON_A_PAGE
    listed = list(rows.select_related(*NEEDED).order_by("-number")[first : first + ON_A_PAGE]) if many else []
    return BenchPage(tuple(records_of(viewer, listed)) if listed else (), many, number)


def _which(rows: QuerySet[Job], viewer: Person, which: str) -> QuerySet[Job]:
    if which == DONE:
        return rows.exclude(state=OPEN)
    rows = rows.filter(state=OPEN)
    if which == MINE:
        return rows.filter(_mine(viewer))
    return rows.filter(_spelled(STEP_HELD)) if which == HELD else rows


def _spelled(text: str) -> Q:
    """Find a text in the details as their column spells them."""
    return Q(Contains(Cast("details", CharField()), text))


def _mine(viewer: Person) -> Q:
    """Find what this person opened, was handed, or worked on."""
    own = Q(opened_by=viewer) | _spelled(f'"to":"{viewer.pk}"')
    for table in (Measurement, Reading, InspectionItem):
        # Asked once for all jobs, not once a job: the table of readings is the longest there is.
        own |= Q(pk__in=table._default_manager.filter(made_by=viewer, job__state=OPEN).values("job"))
    return own


def _has(word: str) -> Q:
    named: Mapping[str, str] = {
        "surface__name__icontains": word,
        "surface__aircraft__registration__icontains": word,
        "surface__aircraft__type_name__icontains": word,
    }
    found = Q()
    for place, text in named.items():
        found |= Q(**{place: text})
    return found | Q(number=int(word)) if word.isascii() and word.isdecimal() and len(word) < 9 else found
