"""A due file is taken in: its tasks and their history, for aircraft and parts that are here; all of it or nothing.

Counters are taken only for an aircraft that has none yet: readings that are here were entered by somebody who saw them.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from typing import NamedTuple

from hingeline import due
from hingeline.errors import InputRefused, Refusal
from hingeline_app.records.actions.contradictions import nothing_new_contradicts
from hingeline_app.records.actions.counters import described_count
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.actions.tasks import Line, described_task
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible
from hingeline_app.records.models import Aircraft, CounterReading, MeterChange, Part, Person, SignOff, Task
from hingeline_app.records.queries.counters import HOURS, LANDINGS
from hingeline_app.records.queries.due_question import names_of_parts
from hingeline_app.records.queries.visible import visible_to
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry


class TakenIn(NamedTuple):
    """What was taken in."""

    tasks: int
    sign_offs: int
    readings: int


@dataclass
class _Taking:
    entry: OpenEntry
    person: Person
    aircraft: Mapping[str, Aircraft]
    parts: Mapping[str, Part]
    word: str


def take_due_in(actor: Actor, question: due.DueQuestion, word: str, command: Command | None = None) -> TakenIn:
    """Take the tasks of a due file in.

    Parameters
    ----------
    question : DueQuestion
        As the file asks it.
    word : str
        What its history rests on: the logbook or list that it was typed from, with its number.

    Raises
    ------
    NotAllowed
        The actor may not.
    InputRefused
        With every aircraft or part that is not here, and whatever contradicts itself.
    """
    with acting(actor, Act.KEEP_TASKS, "due file taken in", command=command) as entry:
        taking = _begun(entry, signed_in(actor), question, legible("word", word, longest=200))
        with nothing_new_contradicts(*taking.aircraft.values(), *taking.parts.values()):
            readings = sum(_counters(taking, plane) for plane in question.aircraft)
            signed = sum(_task(taking, f"task[{number}].", task) for number, task in enumerate(question.tasks))
    return TakenIn(len(question.tasks), signed, readings)


def _begun(entry: OpenEntry, person: Person, question: due.DueQuestion, word: str) -> _Taking:
    planes = {row.registration: row for row in visible_to(person, Aircraft)}
    parts = {name: row for row, name in names_of_parts(visible_to(person, Part)).items()}
    names, carried = [each.name for each in question.aircraft], [each.name for each in question.parts]
    faults = [_not_here("aircraft", number, name) for number, name in enumerate(names) if name not in planes]
    faults += [_not_here("part", number, name) for number, name in enumerate(carried) if name not in parts]
    faults += [
        Refusal(f"task[{number}]", task.name, "an aircraft or a part of the file", "Add it, or mend the name.")
        for number, task in enumerate(question.tasks)
        if task.aircraft not in names and task.part not in carried
    ]
    if faults:
        raise InputRefused(faults)
    chosen = {name: parts[name] for name in carried}
    return _Taking(entry, person, {name: planes[name] for name in names}, chosen, word)


def _not_here(kind: str, number: int, name: str) -> Refusal:
    remedy = "Enter it first, with this name: nothing of the file was taken in."
    return Refusal(f"{kind}[{number}].name", name, f"an {kind} that is here".replace("an part", "a part"), remedy)


def _task(taking: _Taking, place: str, task: due.Task) -> int:
    owner = taking.aircraft[task.aircraft] if task.aircraft else taking.parts[task.part]
    try:
        row = described_task(taking.person, owner, Line(task))
    except InputRefused as refused:
        raise refused.at(place) from None
    taking.entry.keep(row)
    for done in task.done:
        taking.entry.keep(_signed(taking, row, done))
    return len(task.done)


def _signed(taking: _Taking, task: Task, done: due.Done) -> SignOff:
    return SignOff(
        task=task,
        entered_by=taking.person,
        entered_on=today(taking.person.workshop),
        done_on=done.date,
        hours=done.hours,
        landings=done.landings,
        due_hours=done.due_hours,
        due_landings=done.due_landings,
        due_date=done.due_date,
        paper=taking.word,
    )


def _counters(taking: _Taking, plane: due.Aircraft) -> int:
    """Enter the counters of an aircraft that has none, the oldest first."""
    row = taking.aircraft[plane.name]
    there = CounterReading.objects.filter(aircraft=row).exists() or MeterChange.objects.filter(aircraft=row).exists()
    if there:
        return 0
    if plane.hours_before_meter:
        remedy = "Enter the hours by hand: write the change to this meter as a change of the meter."
        raise InputRefused.of(f"{plane.name}.hours_before_meter", plane.hours_before_meter, "0", remedy)
    before = CounterReading.objects.count()
    for step in _steps(taking, plane):
        _enter(taking, row, step)
    return CounterReading.objects.count() - before


_Step = tuple[date, int, str, Decimal, Decimal | None]


def _steps(taking: _Taking, plane: due.Aircraft) -> list[_Step]:
    """Give the changes and readings in their order; on the day of a change the new meter's reading comes after it."""
    on = plane.counted_on or today(taking.person.workshop)
    now = due.Reading(on, plane.hours, plane.landings)
    steps: list[_Step] = [(each.date, 0, HOURS, each.old, each.new) for each in plane.meter_changes]
    for reading in (*plane.readings, now):
        if reading.hours is not None:
            steps.append((reading.date, 1, HOURS, reading.hours, None))
        if reading.landings is not None:
            steps.append((reading.date, 2, LANDINGS, Decimal(reading.landings), None))
    return sorted(set(steps), key=lambda step: step[:2] + step[3:4])


def _enter(taking: _Taking, row: Aircraft, step: _Step) -> None:
    on, _place, counter, shown, new = step
    if new is None:
        taking.entry.keep(described_count(row, counter, shown, on, taking.person))
        return
    change = MeterChange(aircraft=row, counter=counter, changed_on=on, old_shown=shown, new_shown=new)
    taking.entry.keep(change)
