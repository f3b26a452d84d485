"""Which point the next one is counted from: the rule belongs to the task, not to the program.

Texts differ. A task done at 107.5 h that was due at 100 h comes next at 200 h by one text and at 207.5 h by
another; so every task carries the rule of its own source.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from datetime import date as Date
from datetime import timedelta
from decimal import Decimal
from typing import NamedTuple, TypeVar

from hingeline.due.model import CountsFrom, Done, Interval, Task
from hingeline.due.months import add_months, end_of_month
from hingeline.due.tolerances import Amounts

USUAL_RULE: CountsFrom = "done"
Where = TypeVar("Where", Decimal, Date)


class Day(NamedTuple):
    """A date that keeps the anchor day which a short month cut off."""

    date: Date
    anchor: int

    @classmethod
    def of(cls, day: Date) -> Day:
        """Give a date that is its own anchor."""
        return cls(day, day.day)


class Counting(NamedTuple):
    """Where the next point is counted from, for one counter.

    Parameters
    ----------
    base : Decimal or Day or None
        None: not known.
    by : str
        'done', or 'due': which of the two it is.
    due : Decimal or Day or None
        Where it was due then.
    """

    base: Decimal | Day | None
    by: str
    due: Decimal | Day | None = None


def counts_from_due(
    rule: CountsFrom, done: Where, due: Where, early: Where, late: Where, *, alone: bool = True
) -> bool:
    """Say whether the next one is counted from where this one was due, rather than from where it was done.

    Parameters
    ----------
    rule : str
        As in the task.
    done, due : Decimal or date
        Of one counter.
    early, late : Decimal or date
        The window: the due point less and plus the tolerance that is allowed.
    alone : bool
        The task has no other counter.

    Returns
    -------
    bool
        From due; otherwise from done.

    Notes
    -----
    "due": always; but where another counter brought the task before this one's window, from done, for else
    nearly two intervals could lie between (ours, no source). "late from due, early from done": the earlier of the
    two counts, also beyond the tolerance (engine maintenance manual, 100 h ± 10 h: done at 110 h next at 200 h, at
    87 h next at 187 h).
    "inside from due, outside from done": TM 1-1500-328-23, 2-10.

    Examples
    --------
    >>> hours = [Decimal(each) for each in (92, 100, 95, 105)]
    >>> counts_from_due("inside from due, outside from done", *hours)
    False
    """
    if rule == "due":
        return alone or done >= early
    if rule == "late from due, early from done":
        return done >= due
    return rule == "inside from due, outside from done" and early <= done <= late


def count_hours(task: Task, history: Sequence[Done], first_due: Decimal | None, tolerance: Amounts) -> Counting:
    """Go through the history in hours and say where the next point is counted from [h]."""
    every = None if task.every is None else task.every.hours
    return _count(task, history, first_due, tolerance.hours, every, _hours)


def count_landings(task: Task, history: Sequence[Done], first_due: Decimal | None, tolerance: Amounts) -> Counting:
    """Go through the history in landings and say where the next point is counted from."""
    every = None if task.every is None else _decimal(task.every.landings)
    return _count(task, history, first_due, tolerance.landings, every, _landings)


def _hours(done: Done) -> tuple[Decimal | None, Decimal | None]:
    return done.hours, done.due_hours


def _landings(done: Done) -> tuple[Decimal | None, Decimal | None]:
    return _decimal(done.landings), _decimal(done.due_landings)


def _decimal(number: int | None) -> Decimal | None:
    return None if number is None else Decimal(number)


def _count(
    task: Task,
    history: Sequence[Done],
    due: Decimal | None,
    tolerance: Decimal,
    every: Decimal | None,
    numbers: Callable[[Done], tuple[Decimal | None, Decimal | None]],
) -> Counting:
    rule = task.counts_from or USUAL_RULE
    if rule == USUAL_RULE:
        at, recorded = numbers(history[-1])
        return Counting(at, "done", recorded)
    found, alone = Counting(None, "done"), _alone(task)
    for done in history:
        at, recorded = numbers(done)
        due = due if recorded is None else recorded
        found = _one(rule, at, due, tolerance, alone=alone)
        due = None if found.base is None or every is None else found.base + every  # type: ignore[operator]
    return found


def _alone(task: Task) -> bool:
    """Whether the task has one counter only."""
    every = task.every
    return (
        every is None or sum(each is not None for each in (every.hours, every.landings, every.months, every.days)) < 2
    )


def _one(rule: CountsFrom, at: Decimal | None, due: Decimal | None, tolerance: Decimal, *, alone: bool) -> Counting:
    if due is None:
        return Counting(at, "done")
    if at is None:
        return Counting(due if rule == "due" and alone else None, "due", due)
    from_due = counts_from_due(rule, at, due, due - tolerance, due + tolerance, alone=alone)
    return Counting(due, "due", due) if from_due else Counting(at, "done", due)


def count_dates(task: Task, history: Sequence[Done], first_due: Day | None, tolerance: Amounts) -> Counting:
    """Go through the history in dates and say where the next date is counted from."""
    rule = task.counts_from or USUAL_RULE
    last = history[-1]
    if rule == USUAL_RULE:
        return Counting(Day.of(last.date), "done", None if last.due_date is None else Day.of(last.due_date))
    found, due, alone = Counting(None, "done"), first_due, _alone(task)
    for done in history:
        due = _as_recorded(done, due)
        found = _one_date(rule, done.date, due, tolerance, alone=alone)
        assert isinstance(found.base, Day)
        due = None if task.every is None else next_date(found.base, task.every, task.months_are)
    return found


def _as_recorded(done: Done, due: Day | None) -> Day | None:
    """Give the due date that was recorded; where the history gives the same one, it knows the anchor day."""
    recorded = done.due_date
    return due if recorded is None or (due is not None and due.date == recorded) else Day.of(recorded)


def _one_date(rule: CountsFrom, done: Date, due: Day | None, tolerance: Amounts, *, alone: bool) -> Counting:
    if due is None:
        return Counting(Day.of(done), "done")
    early, late = date_window(due.date, tolerance)
    from_due = counts_from_due(rule, done, due.date, early, late, alone=alone)
    return Counting(due, "due", due) if from_due else Counting(Day.of(done), "done", due)


def date_window(due: Date, tolerance: Amounts) -> tuple[Date, Date]:
    """Give the first and the last day of the window of a due date."""
    if not (tolerance.days or tolerance.months):
        return due, due
    days, months = timedelta(tolerance.days), tolerance.months
    return add_months(due, -months) - days, add_months(due, months) + days


def next_date(base: Day, every: Interval, months_are: str | None) -> Day | None:
    """Give the next due date, or None where the interval has no calendar part.

    Examples
    --------
    >>> next_date(Day(Date(2026, 2, 28), 31), Interval(months=1), None)
    Day(date=datetime.date(2026, 3, 31), anchor=31)
    """
    if every.days is not None:
        return Day.of(base.date + timedelta(every.days))
    if every.months is None:
        return None
    due = add_months(base.date, every.months, base.anchor)
    return Day(end_of_month(due) if months_are == "calendar" else due, base.anchor)
