"""Checks ahead: the state of every task a person may see, worked out by the due room and kept until something changes.

What was worked out is kept for the workshop as its ledger stands. An entry makes anew what it touched: the checks of
its aircraft, or all where it is more than some aircraft. The next day makes everything anew.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from decimal import Decimal
from threading import Lock
from typing import Protocol, TypeVar
from uuid import UUID

from hingeline import due
from hingeline.due.results import (
    CAUTIONS,
    AircraftTotals,
    DuePoint,
    DueResult,
    PartTotals,
    Remaining,
    State,
    TaskState,
    Window,
)
from hingeline.errors import InputRefused
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, Person, Workshop
from hingeline_app.records.queries.changed_since import aircraft_changed, entries_of
from hingeline_app.records.queries.due_question import Asked, asked_of, in_order
from hingeline_app.records.queries.visible import visible_to

MOST_KEPT = 4


class HasName(Protocol):
    """An aircraft or a part, as asked about or as counted."""

    @property
    def name(self) -> str:
        """Give its name."""


Named = TypeVar("Named", bound=HasName)
STATES: tuple[State, ...] = ("overdue", "due", "unknown", "coming", "not applicable", "closed")


@dataclass(frozen=True)
class CheckAhead:
    """A task with its row's identifier, its rule and its state.

    ``used`` is the part of its interval that is used, ``span`` how long the limit runs that binds, ``words`` what it
    is searched by.
    """

    identifier: UUID
    task: due.Task
    state: TaskState
    used: float | None
    span: Decimal | None
    words: str


@dataclass(frozen=True)
class ChecksAhead:
    """What is due on a day; ``refused`` says what contradicts itself, so that nothing can be worked out from it."""

    on: date
    question: due.DueQuestion
    checks: tuple[CheckAhead, ...]
    result: DueResult
    refused: tuple[str, ...] = ()


_kept: dict[UUID, tuple[int, ChecksAhead]] = {}
_lock = Lock()


def checks_ahead(viewer: Person) -> ChecksAhead:
    """Give the checks ahead that a person may see, the most urgent first."""
    whole = of_workshop(viewer.workshop, today(viewer.workshop))
    if visible_to(viewer, Workshop).exists():
        return whole
    return _only(whole, set(visible_to(viewer, Aircraft).values_list("registration", flat=True)))


def of_workshop(workshop: Workshop, on: date) -> ChecksAhead:
    """Give all checks ahead of a workshop: what entries since then left as it was is not worked out again."""
    position = entries_of(workshop)
    with _lock:
        before = _kept.get(workshop.pk)
    if before is not None and before[0] == position and before[1].on == on:
        return before[1]
    found = _brought_up(workshop, before, position, on)
    with _lock:
        for old in [key for key in _kept if key != workshop.pk][: max(0, len(_kept) - MOST_KEPT + 1)]:
            del _kept[old]
        _kept[workshop.pk] = position, found
    return found


def _brought_up(workshop: Workshop, before: tuple[int, ChecksAhead] | None, position: int, on: date) -> ChecksAhead:
    if before is None or before[1].on != on or before[0] > position:
        return worked_out(asked_of(workshop, on))
    changed = aircraft_changed(workshop, before[0], position)
    if changed is None:
        return worked_out(asked_of(workshop, on))
    anew = [worked_out(asked_of(workshop, on, plane)) for plane in changed]
    return _replaced(before[1], {plane.registration for plane in changed}, anew) if anew else before[1]


def _replaced(before: ChecksAhead, names: set[str], anew: Sequence[ChecksAhead]) -> ChecksAhead:
    """Put what was worked out anew of some aircraft, and of what they carry, in the place of what it was."""
    checks = [each for each in before.checks if each.state.aircraft not in names]
    checks += [each for part in anew for each in part.checks]
    ordered = sorted(checks, key=lambda each: in_order(each.task.name, each.identifier))
    question = due.DueQuestion(
        before.on,
        _named([each for each in before.question.aircraft if each.name not in names],
               [each for part in anew for each in part.question.aircraft]),
        _named([each for each in before.question.parts if not _is_on(each, names)],
               [each for part in anew for each in part.question.parts]),
        tuple(each.task for each in ordered),
    )  # fmt: skip
    result = DueResult(
        before.on,
        tuple(each.state for each in ordered),
        _named([each for each in before.result.aircraft if each.name not in names],
               [each for part in anew for each in part.result.aircraft]),
        _named([each for each in before.result.parts if each.aircraft not in names],
               [each for part in anew for each in part.result.parts]),
    )  # fmt: skip
    refused = [each for each in before.refused if not _names(each, names)]
    refused += [each for part in anew for each in part.refused]
    urgent = sorted(checks, key=lambda each: urgency(each, before.on))
    return ChecksAhead(before.on, question, tuple(urgent), result, tuple(dict.fromkeys(refused)))


def _named(stay: Sequence[Named], come: Sequence[Named]) -> tuple[Named, ...]:
    return tuple(sorted([*stay, *come], key=lambda each: each.name))


def _only(whole: ChecksAhead, seen: set[str]) -> ChecksAhead:
    """Leave what is fitted to an aircraft that this person may see."""
    checks = tuple(each for each in whole.checks if each.state.aircraft in seen)
    pairs = [pair for pair in zip(whole.question.tasks, whole.result.tasks, strict=True) if pair[1].aircraft in seen]
    question = only(whole.question, seen, [task for task, _state in pairs])
    parts = {each.name for each in question.parts}
    result = DueResult(
        whole.on,
        tuple(state for _task, state in pairs),
        tuple(each for each in whole.result.aircraft if each.name in seen),
        tuple(each for each in whole.result.parts if each.name in parts),
    )
    return ChecksAhead(whole.on, question, checks, result, tuple(each for each in whole.refused if _names(each, seen)))


def _names(sentence: str, seen: set[str]) -> bool:
    return sentence.partition(":")[0] in seen


def only(question: due.DueQuestion, seen: set[str], tasks: Sequence[due.Task]) -> due.DueQuestion:
    """Give the part of a question that these tasks need, and what else these aircraft carry."""
    named = {task.part for task in tasks if task.part}
    parts = [part for part in question.parts if part.name in named or _is_on(part, seen)]
    aircraft = [each for each in question.aircraft if each.name in seen]
    return due.DueQuestion(question.on, tuple(aircraft), tuple(parts), tuple(tasks))


def _is_on(part: due.Part, seen: set[str]) -> bool:
    return any(fitting.to is None and fitting.aircraft in seen for fitting in part.fitted)


def worked_out(asked: Asked) -> ChecksAhead:
    """Ask the due room; where something contradicts itself, that alone is unknown, and says why."""
    question, refused = asked.question, list[str]()
    try:
        result = due.what_is_due(question.aircraft, question.parts, question.tasks, question.on)
    except InputRefused:
        result = _one_by_one(question, refused)
    rows = zip(asked.rows, question.tasks, result.tasks, strict=True)
    checks = sorted((_check(row, task, state) for row, task, state in rows), key=lambda each: urgency(each, result.on))
    return ChecksAhead(question.on, question, tuple(checks), result, tuple(dict.fromkeys(refused)))


def _check(identifier: UUID, task: due.Task, state: TaskState) -> CheckAhead:
    told = (state.state, state.aircraft, state.part, task.name, task.source or "", task.reference, task.applies_to)
    return CheckAhead(identifier, task, state, used_part(task, state), span_of(task, state), " ".join(told).casefold())


def urgency(check: CheckAhead, on: date) -> tuple[int, int, float, str, str]:
    """Give the place of a check in the list: overdue, due, unknown, coming with the nearest first, then the rest.

    Days that are expected and days that are fixed stand in one order; what nobody can put a day to comes after
    them, the most used first.
    """
    state = check.state
    expected = state.forecast.mid if state.forecast is not None else state.due_date
    day = (expected - on).days if expected is not None else 100_000
    return _ORDER[state.state], day, -(check.used or 0.0), state.aircraft or state.part, check.task.name


_ORDER = {state: place for place, state in enumerate(STATES)}


def _one_by_one(question: due.DueQuestion, refused: list[str]) -> DueResult:
    aircraft, parts, tasks = list[AircraftTotals](), list[PartTotals](), list[TaskState]()
    hosts = {part.name: next((one.aircraft for one in part.fitted if one.to is None), "") for part in question.parts}
    for plane in question.aircraft:
        own = [part for part in question.parts if hosts[part.name] == plane.name]
        found = _tried([plane], own, [], question.on, plane.name, refused)
        aircraft += found.aircraft if found else []
        parts += found.parts if found else []
    for task in question.tasks:
        host = task.aircraft or hosts.get(task.part, "")
        planes = [each for each in question.aircraft if each.name == host]
        own = [each for each in question.parts if each.name == task.part]
        found = _tried(planes, own, [task], question.on, host or task.part, refused)
        tasks.append(found.tasks[0] if found else _not_worked_out(task, host, refused[-1]))
    return DueResult(question.on, tuple(tasks), tuple(aircraft), tuple(parts), CAUTIONS)


def _tried(
    planes: Sequence[due.Aircraft],
    parts: Sequence[due.Part],
    tasks: Sequence[due.Task],
    on: date,
    whose: str,
    refused: list[str],
) -> DueResult | None:
    try:
        return due.what_is_due(planes, parts, tasks, on)
    except InputRefused as faults:
        first = faults.refusals[0]
        what = f", {tasks[0].name}" if tasks else ""
        refused.append(f"{whose}: {first.value}{what}: expected {first.expected}. {first.remedy}")
        return None


def _not_worked_out(task: due.Task, host: str, why: str) -> TaskState:
    because = f"Not known: what was entered contradicts itself. {why}"
    return TaskState(
        task.name, host, task.part, task.source, task.reference, task.applies_to, "unknown", None,
        DuePoint(), None, Remaining(), Window(), None, None, because,
    )  # fmt: skip


def used_part(task: due.Task, state: TaskState) -> float | None:
    """Give the part of the interval that is used, of the limit that binds; None where there is no such part."""
    span = span_of(task, state)
    left = {"hours": state.remaining.hours, "landings": state.remaining.landings, "date": state.remaining.days}
    remains = left.get(state.binding or "")
    if span is None or remains is None or span <= 0:
        return 1.0 if state.binding == "event" else None
    return max(0.0, float(1 - Decimal(remains) / span))


def span_of(task: due.Task, state: TaskState) -> Decimal | None:
    """Give how long the limit that binds runs: its interval, or what its start gives."""
    if state.binding == "date":
        begun = state.last_done or (task.start.effective if task.start else None)
        return None if begun is None or state.due_date is None else Decimal((state.due_date - begun).days)
    every, start = task.every, task.start
    names = ("hours", "within_hours", "total_hours") if state.binding == "hours" else (
        "landings", "within_landings", "total_landings")  # fmt: skip
    given = getattr(every, names[0], None) if task.done else None
    for name in names[1:]:
        given = given if given is not None else getattr(start, name, None)
    return None if given is None else Decimal(given)


def nearby(whole: ChecksAhead, check: CheckAhead) -> tuple[str, ...]:
    """Say what could be done on one visit with a check: what falls together with it, and by how much."""
    own = tuple(state for state in whole.result.tasks if state.aircraft and state.aircraft == check.state.aircraft)
    visits = due.falls_together(DueResult(whole.on, own, (), ()))
    place = next((number for number, state in enumerate(own) if state is check.state), None)
    return tuple(visit.line for visit in visits if place in visit.places)
