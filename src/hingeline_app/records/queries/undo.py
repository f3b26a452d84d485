"""What can be undone on a job: a person's own last entry there, as far back as the last signature."""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from typing import Any
from uuid import UUID

from django.db.models import Subquery

from hingeline_app.records.models import Entry, Person
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord, ReadingRecord
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.write_door import RECORDS

READING, DETAIL, SET_UP, LIMITS, FITTED = (
    "reading added", "job detail set", "set-up changed", "limits chosen", "ballast fitted")  # fmt: skip
# How many of the last entries are looked through, and how many of the job among them: a page asks each time.
LOOKED_THROUGH, OF_THE_JOB = 3000, 60
# Places whose last word would not say what it is.
_BY_PLACE = {
    "arrive.state": "state of the step Arrive",
    "limits.state": "state of the step Limits",
    "weigh.state": "state of the step Weigh",
    "correct.state": "state of the step Correct",
    "arm.state": "state of the step Arm",
    "refit.state": "state of the step Refit",
    "second-inspection.state": "state of the step Second inspection",
    "release.state": "state of the step Release",
    "surface.vertical_offset": "height of the centre of gravity",
    "hand_over": "handing over",
    "query": "query to the design holder",
    "incomplete": "incomplete work",
}
_NAMES_A_ROW = re.compile(r"p[0-9a-f]{32}")


@dataclass(frozen=True)
class Undoable:
    """An entry that can be undone."""

    position: int
    kind: str
    says: Mapping[str, Any]
    # What is taken back, in words that follow "Undo:".
    words: str
    # The reading, measurement or proposal that it is about.
    about: UUID | None = None


def last_undoable(viewer: Person, job: JobRecord) -> Undoable | None:
    """Give this person's last entry on the job that can still be undone; None where there is none."""
    if job.state != OPEN:
        return None
    signed = max((each.change for each in job.signatures), default=0)
    undone: set[int] = set()
    for position, body in _entries(viewer, job):
        says: Mapping[str, Any] = body["says"]
        if "undoes" in says:
            undone.add(int(says["undoes"]))
        elif position not in undone and _by(body) == str(viewer.pk) and _change(body, job) > signed:
            found = ASKED[body["kind"]](job, position, body)
            if found is not None:
                return found
    return None


def _entries(viewer: Person, job: JobRecord) -> Iterator[tuple[int, Mapping[str, Any]]]:
    chain = Entry.objects.filter(workshop=viewer.workshop_id, chain=RECORDS).order_by("-position")
    newest = Subquery(chain.values("position")[:1])
    rows = chain.filter(
        position__gt=newest - LOOKED_THROUGH, kind__in=tuple(ASKED), body__contains=str(job.identifier)
    ).values_list("position", "body")[:OF_THE_JOB]
    for position, text in rows:
        body = json.loads(text)
        if body["says"].get("job") == str(job.identifier):
            yield position, body


def _by(body: Mapping[str, Any]) -> str:
    return str((body.get("by") or {}).get("person", ""))


def _change(body: Mapping[str, Any], job: JobRecord) -> int:
    """Say after how many changes of the job the entry stands."""
    noted = [row["values"]["changes"] for row in body["rows"] if row["identifier"] == str(job.identifier)]
    return int(noted[-1]) if noted else 0


def _row(body: Mapping[str, Any], table: str) -> UUID:
    return next(UUID(row["identifier"]) for row in body["rows"] if row["table"] == table)


def _reading(job: JobRecord, position: int, body: Mapping[str, Any]) -> Undoable | None:
    reading = _row(body, "reading")
    for measurement in job.measurements:
        for each in measurement.counting:
            if each.identifier == reading:
                words = f"reading {_number(measurement, each)}"
                return Undoable(position, READING, body["says"], words, reading)
    return None


def _number(measurement: MeasurementRecord, reading: ReadingRecord) -> int:
    """Give its number among the readings of its place that count."""
    beside = [each for each in measurement.counting if each.place == reading.place]
    return beside.index(reading) + 1


def _detail(job: JobRecord, position: int, body: Mapping[str, Any]) -> Undoable | None:
    says = body["says"]
    if "now" not in says or value_at(job.details, says["place"]) != says["now"]:
        return None
    return Undoable(position, DETAIL, says, _in_words(says["place"]))


def _set_up(job: JobRecord, position: int, body: Mapping[str, Any]) -> Undoable | None:
    says, identifier = body["says"], _row(body, "measurement")
    measurement = next((each for each in job.measurements if each.identifier == identifier), None)
    if measurement is None or measurement.result is not None or "now" not in says:
        return None
    if value_at(measurement.set_up, says["place"]) != says["now"]:
        return None
    return Undoable(position, SET_UP, says, _in_words(says["place"]), identifier)


def _limits(job: JobRecord, position: int, body: Mapping[str, Any]) -> Undoable | None:
    says = body["says"]
    stands = str(job.limit_row.identifier) if job.limit_row else None
    if "now" not in says or says["now"] != stands:
        return None
    return Undoable(position, LIMITS, says, "choice of limits")


def _fitted(job: JobRecord, position: int, body: Mapping[str, Any]) -> Undoable | None:
    identifier = _row(body, "ballastproposal")
    fitted = next((each for each in job.proposals if each.identifier == identifier), None)
    if fitted is None or fitted.fitted_at_change is None:
        return None
    # A surface that was weighed with it fitted was weighed so.
    if any(each.change > fitted.fitted_at_change for each in job.of_kind("weighing")):
        return None
    return Undoable(position, FITTED, body["says"], "correction fitted", identifier)


def _in_words(place: str) -> str:
    """Give the name of a place: its last word that is no number and names no row."""
    if place in _BY_PLACE:
        return _BY_PLACE[place]
    names = [step for step in place.split(".") if not step.isdecimal() and not _NAMES_A_ROW.fullmatch(step)]
    return (names[-1] if names else place).replace("_", " ")


ASKED: Mapping[str, Callable[[JobRecord, int, Mapping[str, Any]], Undoable | None]] = {
    READING: _reading,
    DETAIL: _detail,
    SET_UP: _set_up,
    LIMITS: _limits,
    FITTED: _fitted,
}
