"""What the records hold, as the due room asks for it: counters, parts, and tasks with the times they were done.

Hours and landings are taken as of one day, the last on which hours were read. Landings that were last read before
it are not known then: a task that counts them is unknown, never coming.
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, replace
from datetime import date
from decimal import Decimal
from functools import lru_cache
from itertools import groupby
from operator import attrgetter
from typing import Any
from uuid import UUID

from django.db.models import Q, QuerySet, TextField
from django.db.models.functions import Cast

from hingeline import due
from hingeline_app.records.models import Aircraft, CounterReading, Fitting, MeterChange, Part, SignOff, Task, Workshop
from hingeline_app.records.queries.counters import HOURS, LANDINGS
from hingeline_app.records.queries.matter import RELEASED
from hingeline_app.records.task_rules import task_of


@dataclass(frozen=True)
class Asked:
    """The due room's question, and the identifier of the row behind each of its tasks."""

    question: due.DueQuestion
    rows: tuple[UUID, ...]


@dataclass(frozen=True)
class _Counters:
    readings: Mapping[UUID, list[CounterReading]]
    changes: Mapping[UUID, list[MeterChange]]


def asked_of(workshop: Workshop, on: date, owner: Aircraft | Part | None = None) -> Asked:
    """Gather the question of a workshop, or of one aircraft or part; the number of queries is the same for any fleet.

    Parameters
    ----------
    owner : Aircraft or Part, optional
        With the parts that are fitted to it, or with the aircraft that it is fitted to.
    """
    fittings = _fittings(workshop, owner)
    planes = _aircraft(workshop, owner, fittings)
    named = names_of_parts(Part.objects.filter(workshop=workshop).order_by("name", "serial_number", "part_number"))
    parts = {part: named[part] for part in fittings if _is_asked(part, fittings[part], owner)}
    counters = _counters(planes)
    names = {plane.pk: plane.registration for plane in planes}
    rows = _tasks(workshop, names, {part.pk: name for part, name in parts.items()}, owner)
    done = _done(workshop, rows, owner)
    question = due.DueQuestion(
        on,
        tuple(counted(plane.registration, plane.pk, counters.readings, counters.changes) for plane in planes),
        tuple(_part(name, part, fittings[part], names) for part, name in parts.items()),
        tuple(each.task(done.get(each.identifier, [])) for each in rows),
    )
    return Asked(question, tuple(each.identifier for each in rows))


@dataclass(frozen=True)
class _Line:
    """A task's row: its rule as text, since many tasks share one."""

    identifier: UUID
    name: str
    aircraft: str
    part: str
    rule: str

    def task(self, done: Iterable[due.Done]) -> due.Task:
        """Make the due room's task."""
        return replace(_rule(self.rule), name=self.name, aircraft=self.aircraft, part=self.part, done=tuple(done))


@lru_cache(maxsize=8192)
def _rule(text: str) -> due.Task:
    return task_of(json.loads(text), "")


def _aircraft(workshop: Workshop, owner: Aircraft | Part | None, fittings: Mapping[Part, list[Fitting]]) -> list[Any]:
    rows = Aircraft.objects.filter(workshop=workshop).order_by("registration")
    if isinstance(owner, Aircraft):
        rows = rows.filter(pk=owner.pk)
    elif owner is not None:
        rows = rows.filter(
            pk__in=[fitting.aircraft_id for fitting in fittings.get(owner, []) if not fitting.removed_on]
        )
    return list(rows)


def _fittings(workshop: Workshop, owner: Aircraft | Part | None) -> dict[Part, list[Fitting]]:
    """Give the parts with where they were, in their order."""
    parts = Part.objects.filter(workshop=workshop)
    if isinstance(owner, Part):
        parts = parts.filter(pk=owner.pk)
    elif owner is not None:
        parts = parts.filter(fittings__aircraft=owner).distinct()
    listed = list(parts.order_by("name", "serial_number", "part_number"))
    fittings: dict[UUID, list[Fitting]] = {}
    for fitting in Fitting.objects.filter(part__in=parts).select_related("aircraft").order_by("fitted_on", "pk"):
        fittings.setdefault(fitting.part_id, []).append(fitting)
    return {part: fittings.get(part.pk, []) for part in listed}


def _is_asked(part: Part, fittings: Iterable[Fitting], owner: Aircraft | Part | None) -> bool:
    """Say whether a part is asked about: one that has left an aircraft is no longer that aircraft's matter."""
    if not isinstance(owner, Aircraft):
        return True
    return any(fitting.aircraft_id == owner.pk and fitting.removed_on is None for fitting in fittings)


def names_of_parts(parts: Iterable[Part]) -> dict[Part, str]:
    """Name parts by name and serial number, and by part number too where two would be called alike."""
    listed = list(parts)
    short = [str(part) for part in listed]
    return {
        part: name if short.count(name) == 1 else f"{part.name} {part.part_number or '–'} {part.serial_number}"
        for part, name in zip(listed, short, strict=True)
    }


def _counters(planes: list[Aircraft]) -> _Counters:
    readings = CounterReading.objects.filter(aircraft__in=planes, withdrawn_because="")
    changes = MeterChange.objects.filter(aircraft__in=planes)
    return _Counters(
        _by_aircraft(readings.order_by("aircraft_id", "read_on", "meter", "shown", "pk")),
        _by_aircraft(changes.order_by("aircraft_id", "changed_on", "pk")),
    )


def _by_aircraft(rows: Iterable[Any]) -> dict[UUID, list[Any]]:
    return {key: list(group) for key, group in groupby(rows, key=attrgetter("aircraft_id"))}


def counted(
    name: str, key: UUID, readings: Mapping[UUID, list[CounterReading]], changes: Mapping[UUID, list[MeterChange]]
) -> due.Aircraft:
    """Give an aircraft with its counters: hours as the meter shows them, landings in all."""
    swaps = [each for each in changes.get(key, []) if each.counter == HOURS]
    hours = {each.read_on: each.shown for each in readings.get(key, []) if _of_this_meter(each, HOURS, swaps)}
    if swaps:
        hours.setdefault(swaps[-1].changed_on, swaps[-1].new_shown)
    landings = _landings(readings.get(key, []), [each for each in changes.get(key, []) if each.counter == LANDINGS])
    days = hours or landings
    last = max(days) if days else None
    earlier = sorted(day for day in {*hours, *landings} if last is not None and day < last)
    return due.Aircraft(
        name,
        hours=shortest(hours.get(last)) if last else None,
        landings=_since(landings, last),
        counted_on=last,
        meter_changes=tuple(_swap(each) for each in swaps),
        readings=tuple(due.Reading(day, shortest(hours.get(day)), landings.get(day)) for day in earlier),
    )


def _of_this_meter(reading: CounterReading, counter: str, swaps: list[MeterChange]) -> bool:
    """Leave out what the old meter showed on the day of its change: the change says it."""
    return reading.counter == counter and reading.meter == sum(each.changed_on <= reading.read_on for each in swaps)


def _landings(readings: Iterable[CounterReading], swaps: list[MeterChange]) -> dict[date, int]:
    gone = [Decimal(0)]
    for each in swaps:
        gone.append(gone[-1] + each.old_shown - each.new_shown)
    found = {
        each.read_on: int(each.shown + gone[min(each.meter, len(swaps))])
        for each in readings
        if each.counter == LANDINGS
    }
    if swaps:
        found.setdefault(swaps[-1].changed_on, int(swaps[-1].new_shown + gone[-1]))
    return found


def _since(landings: Mapping[date, int], last: date | None) -> int | None:
    """Give the landings that were read on the day of the hours, or after it."""
    if last is None or not landings or max(landings) < last:
        return None
    return landings[max(landings)]


def _swap(change: MeterChange) -> due.MeterChange:
    old, new = shortest(change.old_shown), shortest(change.new_shown)
    assert old is not None
    assert new is not None
    return due.MeterChange(change.changed_on, old, new)


def shortest(number: Decimal | None) -> Decimal | None:
    """Give a decimal without the zeros that its column adds, with one decimal at least."""
    if number is None:
        return None
    plain = number.normalize()
    exponent = plain.as_tuple().exponent
    return plain if isinstance(exponent, int) and exponent < -1 else number.quantize(Decimal("0.1"))


def _part(name: str, part: Part, fittings: list[Fitting], names: Mapping[UUID, str]) -> due.Part:
    """Give a part with its fittings; where one of its numbers was never written, its hours are not known."""
    here = [each for each in fittings if each.removed_on is not None or each.aircraft_id in names]
    if any(each.fitted_at_hours is None or (each.removed_on and each.removed_at_hours is None) for each in here):
        still = [each for each in here if each.removed_on is None]
        return due.Part(name, None, fitted=tuple(due.Fitting(each.aircraft.registration, Decimal(0)) for each in still))
    hours, landings = shortest(part.hours_when_new_fitted), part.landings_when_new_fitted
    return due.Part(name, hours, landings, tuple(map(_fitting, here)))


def _fitting(row: Fitting) -> due.Fitting:
    begun = shortest(row.fitted_at_hours)
    assert begun is not None
    ended = shortest(row.removed_at_hours) if row.removed_on else None
    return due.Fitting(row.aircraft.registration, begun, ended, row.fitted_at_landings, row.removed_at_landings)


def _tasks(
    workshop: Workshop, planes: Mapping[UUID, str], parts: Mapping[UUID, str], owner: Aircraft | Part | None
) -> list[_Line]:
    """Give the tasks in the order of their names."""
    rows = Task.objects.filter(workshop=workshop, withdrawn_because="")
    if owner is not None:
        of_aircraft = Q(aircraft__in=planes) if isinstance(owner, Aircraft) else Q(pk__in=())
        rows = rows.filter(of_aircraft | Q(part__in=list(parts)))
    # As text: a rule that stands at many tasks is read once.
    kept = rows.annotate(text=Cast("rule", TextField())).values_list("pk", "name", "aircraft_id", "part_id", "text")
    lines = [
        _Line(key, name, planes.get(aircraft, ""), parts.get(part, ""), text)
        for key, name, aircraft, part, text in kept
    ]
    return sorted(lines, key=lambda line: in_order(line.name, line.identifier))


def in_order(name: str, identifier: UUID) -> tuple[str, int]:
    """Give the place of a task among all tasks, the same on both databases."""
    return name, identifier.int


def _done(workshop: Workshop, rows: list[_Line], owner: Aircraft | Part | None) -> dict[UUID, list[due.Done]]:
    found: dict[UUID, list[due.Done]] = {}
    signed = standing_sign_offs().filter(task__workshop=workshop)
    if owner is not None:
        signed = signed.filter(task__in=[each.identifier for each in rows])
    for task, day, hours, landings, due_hours, due_landings, due_date in signed.values_list("task_id", *_OF_DONE):
        done = due.Done(day, shortest(hours), landings, shortest(due_hours), due_landings, due_date)
        found.setdefault(task, []).append(done)
    return found


_OF_DONE = ("done_on", "hours", "landings", "due_hours", "due_landings", "due_date")


def standing_sign_offs() -> QuerySet[SignOff]:
    """Give the sign-offs that count: not withdrawn, and of a job only while its release stands."""
    return SignOff.objects.filter(Q(job__isnull=True) | Q(job__state=RELEASED), withdrawn_because="")
