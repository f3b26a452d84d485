"""Whose hands are on a job: who worked on it is not its second inspector (decision 0202).

Every kind of entry stands in one of the two lists below, or a test fails. A kind that stands in none is work: rather
one inspector too many is refused than one who looks at what they did.
"""

from __future__ import annotations

from collections.abc import Iterable

from hingeline_app.records.models import Job, Person
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.write_door import OpenEntry

# Through these a person decides, measures, enters or changes something that the second inspection is about.
WORK = frozenset({
    "job opened", "jobs opened", "job goes on elsewhere", "surface swapped", "job voided",
    "job detail set", "value set aside", "limits chosen",
    "weighing opened", "swing opened", "refit opened", "arm opened", "set-up changed", "set-up corrected",
    "reading added", "reading withdrawn", "reading corrected", "result recorded",
    "ballast proposed", "ballast fitted", "part fitted", "part removed", "second inspection asked for",
    "photograph added", "recording added", "inspection added",
    "recording taken in", "recording judged", "series of recordings judged",
})  # fmt: skip

# The reasons stand in the decision.
NO_WORK = frozenset({
    # To look, to sign and to take a signature back judge the work.
    "item looked at", "item photographed", "second inspection signed", "inspected again by the same person",
    "released", "release withdrawn",
    # An order gathers jobs and is closed over released ones.
    "work order opened", "work order closed",
    # Approved data are read by two persons under a rule of their own; to choose a row is work.
    "approved document added", "issue added", "page added", "limits entered", "limits read again",
    "limits looked at again", "limits compared with the document",
    # The workshop's own, of every job alike.
    "scale added", "scale corrected", "certificate renewed", "scale withdrawn", "scale checked", "stand added",
    "stand withdrawn", "material added", "material withdrawn", "workshop changed", "workshop text set",
    # The aircraft's and its programme's, under rules of their own.
    "aircraft added", "aircraft corrected", "surface added", "surface corrected", "part added", "model added",
    "transcribed from paper",
    "counter read", "counters read", "counter reading withdrawn", "meter changed",
    "tasks added", "task corrected", "task ended", "task withdrawn", "due file taken in",
    "check signed off", "sign-off withdrawn", "check put off", "putting off withdrawn",
    # Persons, accounts, tablets.
    "person added", "guest added", "person corrected", "person left", "role given", "role confirmed", "role ended",
    "account opened", "account closed", "account opened again", "password set", "PIN set", "passkey added",
    "passkey withdrawn", "tablet enrolled", "tablet withdrawn", "calendar address made", "calendar address ended",
    # The records as a whole.
    "workshop set up", "onboarded", "time confirmed", "aircraft imported",
})  # fmt: skip


def is_work(kind: str) -> bool:
    """Whether who makes an entry of a kind about a job worked on that job."""
    return kind not in NO_WORK


def add_worker(job: Job, person: Person) -> None:
    """Remember that somebody worked on a job: the second inspection is another person's."""
    job.worked_on_by = sorted({*job.worked_on_by, str(person.pk)})


def hand_on(entry: OpenEntry, person: Person, jobs: Iterable[Job]) -> None:
    """Count an act that stands beside the jobs as one more change, and its person as a worker, of those still open.

    An inspection that was signed before ends by it, as by any change.
    """
    for job in jobs:
        if job.state == OPEN:
            job.changes += 1
            add_worker(job, person)
            entry.keep(job)
