"""Tasks of the approved programme: entered, corrected with a reason, ended, taken out where they were a mistake.

What is entered is worked out at once by the due room, behind the door: what contradicts the counters is refused there.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import date
from typing import Any
from uuid import UUID

from hingeline import due
from hingeline.due.task_checks import doubtful_tolerance, task_faults
from hingeline.errors import InputRefused
from hingeline_app.records.actions.contradictions import nothing_new_contradicts
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import Aircraft, Issue, Part, Person, Task
from hingeline_app.records.queries.visible import Nowhere, found
from hingeline_app.records.roles import Act
from hingeline_app.records.task_rules import rule_of, task_of
from hingeline_app.records.write_door import Actor, Command, OpenEntry

MOST_POINTS, LONGEST_ARM_FILE = 20, 20_000


@dataclass(frozen=True)
class Line:
    """A line of the approved programme, as it is entered: the due room's task, and what stands beside it."""

    task: due.Task
    issue: UUID | None = None
    check_points: Sequence[str] = ()
    arm_file: str = ""


def add_tasks(actor: Actor, owners: Sequence[UUID], line: Line, command: Command | None = None) -> list[Task]:
    """Enter a line of the approved programme for aircraft and parts; each gets a task of its own.

    Raises
    ------
    InputRefused
        No owner, a rule that cannot be, a name that stands there already.
    """
    if not owners:
        raise InputRefused.of("owners", "none", "at least one aircraft or part", "Choose whose check it is.")
    with acting(actor, Act.KEEP_TASKS, "tasks added", command=command) as entry:
        person = signed_in(actor)
        return [_added(entry, person, owner_of(person, owner), line) for owner in owners]


def _added(entry: OpenEntry, person: Person, owner: Aircraft | Part, line: Line) -> Task:
    _refuse_doubtful(line)
    task = described_task(person, owner, line)
    with nothing_new_contradicts(owner, about=task):
        entry.keep(task)
    return task


def owner_of(person: Person, identifier: UUID) -> Aircraft | Part:
    """Give the aircraft or the part of an identifier.

    Raises
    ------
    Nowhere
        There is neither for this person.
    """
    try:
        return found(person, Aircraft, identifier)
    except Nowhere:
        return found(person, Part, identifier)


def described_task(person: Person, owner: Aircraft | Part, line: Line) -> Task:
    """Make a task of what was typed; not kept yet."""
    task = Task(
        workshop=person.workshop,
        name=legible("name", line.task.name, longest=200),
        added_by=person,
        **({"aircraft": owner} if isinstance(owner, Aircraft) else {"part": owner}),
    )
    _describe(task, person, line)
    return task


def _describe(task: Task, person: Person, line: Line) -> None:
    _refuse_second(task)
    rule = replace(
        line.task,
        reference=legible("reference", line.task.reference, longest=200, needed=False),
        applies_to=legible("applies to", line.task.applies_to, longest=200, needed=False),
    )
    _refuse_faults(rule, person)
    task.rule = rule_of(rule)
    task.issue = found(person, Issue, line.issue) if line.issue else None
    points = [legible("check points", each, longest=200, needed=False) for each in line.check_points]
    task.check_points = [each for each in points if each][:MOST_POINTS]
    if len(line.arm_file) > LONGEST_ARM_FILE:
        raise InputRefused.of(
            "arm file", f"{len(line.arm_file)} characters", f"at most {LONGEST_ARM_FILE}", "Shorten it."
        )
    task.arm_file = line.arm_file


def _refuse_faults(rule: due.Task, person: Person) -> None:
    """Refuse a rule that cannot be, at its fields; whether it says enough depends on its history: asked after it."""
    faults = [each for each in task_faults("", rule, today(person.workshop)) if each.field]
    if faults:
        raise InputRefused([replace(each, field=each.field.removeprefix(".")) for each in faults])


def _refuse_doubtful(line: Line) -> None:
    """Refuse to type a tolerance that is surely not meant. One of a file that was read before is taken, and told."""
    doubtful = tuple(doubtful_tolerance("tolerance", line.task))
    if doubtful:
        raise InputRefused(doubtful)


def _refuse_second(task: Task) -> None:
    same = Task.objects.filter(aircraft=task.aircraft, part=task.part, name=task.name, withdrawn_because="")
    if same.exclude(pk=task.pk).exists():
        raise InputRefused.of("name", task.name, "a new task", "There is one of this name: correct it, or rename this.")


def correct_task(actor: Actor, task: UUID, line: Line, reason: str, command: Command | None = None) -> Task:
    """Correct a task's rule, for instance after a new issue of its document; the ledger keeps what it was."""
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_TASKS, "task corrected", says, command=command) as entry:
        kept = standing_task(signed_in(actor), task)
        kept.name = legible("name", line.task.name, longest=200)
        _refuse_doubtful(line)
        _describe(kept, signed_in(actor), line)
        with nothing_new_contradicts(owner_of_task(kept), about=kept):
            entry.keep(kept)
    return kept


def end_task(actor: Actor, task: UUID, on: date, by: str, command: Command | None = None) -> Task:
    """Close a task by what ends it for good, for instance a new part fitted."""
    with acting(actor, Act.KEEP_TASKS, "task ended", command=command) as entry:
        kept = standing_task(signed_in(actor), task)
        ending = due.Ending(on, legible("by", by, longest=200))
        kept.rule = rule_of(replace(task_of(kept.rule, kept.name), ends_with=ending))
        with nothing_new_contradicts(owner_of_task(kept), about=kept):
            entry.keep(kept)
    return kept


def withdraw_task(actor: Actor, task: UUID, reason: str) -> Task:
    """Take a task out that was entered by mistake; it stays in the ledger."""
    says = {"reason": remark("reason", reason, needed=True)}
    with acting(actor, Act.KEEP_TASKS, "task withdrawn", says) as entry:
        kept = standing_task(signed_in(actor), task)
        kept.withdrawn_because = says["reason"]
        entry.keep(kept)
    return kept


def standing_task(person: Person, task: UUID) -> Task:
    """Give a task that was not taken out.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    kept = found(person, Task, task)
    if kept.withdrawn_because:
        raise Nowhere("this task was taken out")
    return kept


def owner_of_task(task: Task) -> Aircraft | Part:
    """Give whose task it is."""
    owner: Any = task.aircraft or task.part
    return owner  # type: ignore[no-any-return]
