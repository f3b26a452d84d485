"""Whether an act makes something that the due room cannot count: such an act is refused, in the room's own words.

What contradicted itself before is told in the Hangar, at its own check, and stops no other: it can be mended there.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from uuid import UUID

from hingeline import due
from hingeline.errors import InputRefused, Refusal
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, Part, Task
from hingeline_app.records.queries.due_question import Asked, asked_of

Fault = tuple[str, str, str]
"""Whose it is (the row of a task, or nothing), at which field, and the value: where it stands in a list is left out."""

_OF_TASK = re.compile(r"task\[(\d+)\]\.?")
_IN_HISTORY = re.compile(r"\bdone\[\d+\]\.?")


@contextmanager
def nothing_new_contradicts(*owners: Aircraft | Part, about: Task | None = None) -> Iterator[None]:
    """Refuse an act behind the door that makes a contradiction; ``about`` is the task that the act's form is about.

    Raises
    ------
    InputRefused
        With every fault that was not there before the act.
    """
    before = {fault for owner in owners for fault, _told in _contradictions(owner, None)}
    yield
    made = [told for owner in owners for fault, told in _contradictions(owner, about) if fault not in before]
    if made:
        raise InputRefused(made)


def _contradictions(owner: Aircraft | Part, about: Task | None) -> list[tuple[Fault, Refusal]]:
    """Give what an owner's checks contradict: what it is, and how it is told."""
    asked = asked_of(owner.workshop, today(owner.workshop), owner)
    question = asked.question
    try:
        due.what_is_due(question.aircraft, question.parts, question.tasks, question.on)
    except InputRefused as refused:
        return [_told(each, asked, about) for each in refused.refusals]
    return []


def _told(refusal: Refusal, asked: Asked, about: Task | None) -> tuple[Fault, Refusal]:
    of = _OF_TASK.match(refusal.field)
    if of is None:
        return ("", refusal.field, refusal.value), refusal
    place, row = _IN_HISTORY.sub("", refusal.field[of.end() :]), asked.rows[int(of[1])]
    name = place if _is_about(row, about) else asked.question.tasks[int(of[1])].name
    return (str(row), place, refusal.value), replace(refusal, field=name)


def _is_about(row: UUID, about: Task | None) -> bool:
    return about is not None and row == about.pk
