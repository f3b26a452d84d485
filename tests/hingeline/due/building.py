"""Short ways to write aircraft and tasks in tests."""

from __future__ import annotations

from datetime import date
from decimal import Decimal
from typing import Any

from hingeline.due import Aircraft, Done, DueResult, Part, Task, TaskState, what_is_due

ON = date(2027, 3, 12)


def d(number: float | str) -> Decimal:
    """An exact decimal, as it is written."""
    return Decimal(str(number))


def day(text: str) -> date:
    """A date."""
    return date.fromisoformat(text)


def done(on: str, hours: float | None = None, landings: int | None = None, **more: Any) -> Done:
    """A sign-off; ``due_hours`` as a number, ``due_date`` as a text."""
    if "due_hours" in more:
        more["due_hours"] = d(more["due_hours"])
    if "due_date" in more:
        more["due_date"] = day(more["due_date"])
    return Done(day(on), None if hours is None else d(hours), landings, **more)


def plane(hours: float | None = 1000.0, landings: int | None = None, **more: Any) -> Aircraft:
    """The one aircraft of these tests."""
    return Aircraft("T2-03", None if hours is None else d(hours), landings, **more)


def task(**more: Any) -> Task:
    """A task of that aircraft, from a programme, so that a tolerance may be used."""
    given: dict[str, Any] = {"aircraft": "T2-03", "source": "programme", **more}
    return Task("check", **given)


def asked(one: Task, aircraft: Aircraft | None = None, on: date = ON, parts: tuple[Part, ...] = ()) -> TaskState:
    """The state of one task."""
    return result_of([one], aircraft, on, parts).tasks[0]


def result_of(
    tasks: list[Task], aircraft: Aircraft | None = None, on: date = ON, parts: tuple[Part, ...] = ()
) -> DueResult:
    """The states of several."""
    return what_is_due([aircraft or plane()], parts, tasks, on)
