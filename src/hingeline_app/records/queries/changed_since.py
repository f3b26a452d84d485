"""Whose checks entries of the ledger touched: some aircraft, or too much to say."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from typing import Any

from hingeline_app.records.models import Aircraft, Entry, Fitting, Part, SignOff, Task, Workshop

# More aircraft or entries than this: everything anew is quicker.
MOST_AIRCRAFT, MOST_ENTRIES = 20, 200
# What decides names and places of all tasks.
TOUCHES_ALL = ("aircraft", "part", "fitting", "workshop")


class TooMuch(Exception):
    """Not some aircraft alone are touched."""


def entries_of(workshop: Workshop) -> int:
    """Give the number of entries in a workshop's ledger."""
    last = Entry.objects.filter(workshop=workshop, chain="records").order_by("-position").values_list("position")
    return int(last[0][0]) if last else 0


def aircraft_changed(workshop: Workshop, after: int, up_to: int) -> list[Aircraft] | None:
    """Give the aircraft whose checks the entries after a position may have touched; None: work everything out anew."""
    if up_to - after > MOST_ENTRIES:
        return None
    entries = Entry.objects.filter(workshop=workshop, chain="records", position__gt=after, position__lte=up_to)
    try:
        keys = {key for body in entries.values_list("body", flat=True) for key in _touched(json.loads(body))}
    except TooMuch:
        return None
    return list(Aircraft.objects.filter(pk__in=keys)) if len(keys) <= MOST_AIRCRAFT else None


def _touched(body: Mapping[str, Any]) -> Iterator[Any]:
    for note in body["rows"]:
        table, values = note["table"], note["values"]
        if table in TOUCHES_ALL:
            raise TooMuch(table)
        if table in ("counterreading", "meterchange"):
            yield values["aircraft_id"]
        elif table == "task":
            yield _owner(values["aircraft_id"], values["part_id"])
        elif table == "signoff":
            yield _of_task(values["task_id"])
        elif table == "job":
            for task in SignOff.objects.filter(job=note["identifier"]).values_list("task_id", flat=True).distinct():
                yield _of_task(task)


def _of_task(identifier: Any) -> Any:
    task = Task.objects.get(pk=identifier)
    return _owner(task.aircraft_id, task.part_id)


def _owner(aircraft: Any, part: Any) -> Any:
    """Give the aircraft of a task; what is on the shelf belongs to none."""
    if aircraft is not None:
        return str(aircraft)
    fitting = Fitting.objects.filter(part=part, removed_on__isnull=True).first()
    if fitting is None:
        raise TooMuch(Part.__name__)
    return str(fitting.aircraft_id)
