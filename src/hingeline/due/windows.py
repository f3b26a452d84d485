"""What a visit could take along: tasks that come due near to each other."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date as Date
from decimal import Decimal

from hingeline.due import words
from hingeline.due.refusing import fault
from hingeline.due.results import DueResult, TaskState
from hingeline.errors import InputRefused

AT_HAND = ("overdue", "due", "coming", "unknown")


@dataclass(frozen=True, slots=True)
class Visit:
    """Tasks of one aircraft that fall together.

    Parameters
    ----------
    aircraft : str
        Its name.
    places : tuple of int
        Where the tasks stand in the result, the first to come first.
    tasks : tuple of str
        Their names.
    from_date, to_date : date or None
        When the first and the last of them are expected; None where nobody can say.
    line : str
        What falls together, and by how much.
    """

    aircraft: str
    places: tuple[int, ...]
    tasks: tuple[str, ...]
    from_date: Date | None
    to_date: Date | None
    line: str


@dataclass(frozen=True, slots=True)
class _Expected:
    place: int
    task: TaskState
    date: Date | None
    hours: Decimal | None


def falls_together(result: DueResult, *, hours: Decimal = Decimal(10), days: int = 30) -> tuple[Visit, ...]:
    """Group the tasks of each aircraft that come due within some hours or days of the first of them.

    Parameters
    ----------
    result : DueResult
        What is due.
    hours : Decimal
        Tasks that hours bind fall together within so many [h].
    days : int
        Tasks with an expected date fall together within so many [d].

    Returns
    -------
    tuple of Visit
        Of two tasks or more, aircraft in their order and then by time.

    Raises
    ------
    InputRefused
        A window below 0.

    Notes
    -----
    What is overdue, due or unknown is expected at once. Each task is in one visit at most: the groups are taken
    from the front. Ours, no source. A visit takes tasks early; it never moves one later.

    Examples
    --------
    >>> from datetime import date as Date
    >>> from decimal import Decimal
    >>> from hingeline.due import Aircraft, Done, Interval, Task, falls_together, what_is_due
    >>> done = (Done(Date(2026, 11, 2), Decimal(500)),)
    >>> tasks = [Task(name, "T2-03", source="manual", every=Interval(hours=Decimal(every)), counts_from="done",
    ...     done=done) for name, every in (("arm", 120), ("hinges", 125), ("cables", 200))]
    >>> result = what_is_due([Aircraft("T2-03", Decimal(613))], [], tasks, Date(2027, 3, 12))
    >>> [visit.tasks for visit in falls_together(result)]
    [('arm', 'hinges')]
    """
    faults = [fault(name, value, "0 or more", "Give how far apart.")
              for name, value in (("hours", hours), ("days", days)) if value < 0]  # fmt: skip
    if faults:
        raise InputRefused(faults)
    waiting: dict[str, list[_Expected]] = {}
    for place, task in enumerate(result.tasks):
        if task.aircraft and task.state in AT_HAND:
            waiting.setdefault(task.aircraft, []).append(_expected(place, task, result.on))
    return tuple(visit for name, tasks in waiting.items() for visit in _visits(name, tasks, hours, days))


def _expected(place: int, task: TaskState, on: Date) -> _Expected:
    if task.state != "coming":
        return _Expected(place, task, on, Decimal(0))
    date = task.forecast.mid if task.forecast is not None else task.due_date if task.binding == "date" else None
    return _Expected(place, task, date, task.remaining.hours if task.binding == "hours" else None)


def _visits(aircraft: str, tasks: list[_Expected], hours: Decimal, days: int) -> Iterable[Visit]:
    left = sorted(tasks, key=_first)
    while left:
        first = left[0]
        group = [each for each in left if _near(first, each, hours, days)]
        left = [each for each in left if each not in group]
        if len(group) > 1:
            yield _visit(aircraft, group)


def _first(each: _Expected) -> tuple[Date, Decimal, int]:
    return each.date or Date.max, each.hours if each.hours is not None else Decimal("Infinity"), each.place


def _near(first: _Expected, each: _Expected, hours: Decimal, days: int) -> bool:
    by_date = first.date is not None and each.date is not None and (each.date - first.date).days <= days
    by_hours = first.hours is not None and each.hours is not None and each.hours - first.hours <= hours
    return each is first or by_date or by_hours


def _visit(aircraft: str, group: Sequence[_Expected]) -> Visit:
    dates = [each.date for each in group if each.date is not None]
    names = tuple(each.task.name for each in group)
    early, late = (min(dates), max(dates)) if dates else (None, None)
    when = "" if early is None or late is None else _when(early, late)
    line = f"{len(group)} tasks fall together{when}: {', '.join(names)}."
    return Visit(aircraft, tuple(each.place for each in group), names, early, late, line)


def _when(early: Date, late: Date) -> str:
    if early == late:
        return f", expected on {words.day(early)}"
    return f", expected from {words.day(early)} to {words.day(late)}"
