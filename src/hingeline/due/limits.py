"""The limits of a task as they stand now: those of its start, or those of its repetition.

Inside a limit every counter is a decimal number, a date its ordinal day, so that one rule serves all three.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date as Date
from datetime import timedelta
from decimal import Decimal
from typing import Literal, NamedTuple

from hingeline.due import words
from hingeline.due.counters import Counted
from hingeline.due.model import Done, Interval, Join, Start, Task
from hingeline.due.months import add_months
from hingeline.due.next_point import Counting, Day, count_dates, count_hours, count_landings, date_window, next_date
from hingeline.due.tolerances import Amounts

Counter = Literal["hours", "landings", "date"]


class Limit(NamedTuple):
    """One limit.

    Parameters
    ----------
    counter : str
        hours, landings or date.
    at : Decimal or None
        Where it is reached; None: not known.
    early, late : Decimal or None
        The window.
    span : float
        How long it runs, so that limits of different counters can be compared.
    why : str
        Where it comes from.
    counting : Counting or None
        What it is counted from.
    missing : str
        What is not known.
    """

    counter: Counter
    at: Decimal | None
    early: Decimal | None
    late: Decimal | None
    span: float
    why: str
    counting: Counting | None = None
    missing: str = ""


NO_LIMIT = Limit("date", None, None, None, 0.0, "")


class Limits(NamedTuple):
    """All limits of a task: a group that is joined, and those that hold in any case."""

    group: tuple[Limit, ...]
    join: Join
    in_any_case: tuple[Limit, ...] = ()

    @property
    def all(self) -> tuple[Limit, ...]:
        """Both."""
        return self.group + self.in_any_case


def _limit(
    counter: Counter,
    at: Decimal | None,
    tolerance: Decimal,
    span: Decimal | int,
    why: str,
    counting: Counting | None = None,
    missing: str = "",
) -> Limit:
    if at is None:
        return Limit(counter, None, None, None, float(span), why, counting, missing)
    if not tolerance:
        return Limit(counter, at, at, at, float(span), why, counting)
    return Limit(counter, at, at - tolerance, at + tolerance, float(span), why, counting)


def _date_limit(due: Date, tolerance: Amounts, span: int, why: str, counting: Counting | None = None) -> Limit:
    early, late = date_window(due, tolerance)
    at, first, last = (Decimal(day.toordinal()) for day in (due, early, late))
    return Limit("date", at, first, last, float(max(span, 1)), why, counting)


# -------------------------------------------------------------------- of the start


def limits_of_start(start: Start, counted: Counted, tolerance: Amounts) -> Limits:
    """Give the limits that hold until the task was done once."""
    group = (*_hours_of_start(start, counted, tolerance), *_landings_of_start(start, counted, tolerance),
             *_dates_of_start(start, tolerance))  # fmt: skip
    last, effective = start.not_later_than, start.effective
    if last is None:
        return Limits(group, start.join or "first")
    days = (last - effective).days if effective is not None else 365
    cap = _date_limit(last, tolerance, days, f"not later than {words.day(last)}")
    return Limits(group, start.join or "first", (cap,)) if group else Limits((cap,), "first")


def _hours_of_start(start: Start, counted: Counted, tolerance: Amounts) -> Iterator[Limit]:
    if start.total_hours is not None:
        why = f"at {words.hours(start.total_hours)} in all"
        yield _limit("hours", start.total_hours, tolerance.hours, start.total_hours, why)
    if start.within_hours is not None:
        known = start.hours_at_effective
        base, told = _on_effective(start, counted, known, "hours")
        why = f"within {words.amount(start.within_hours)} h {words.from_effective(start.effective)}"
        at, why, missing = (None, why, told) if base is None else (base + start.within_hours, why + told, "")
        yield _limit("hours", at, tolerance.hours, start.within_hours, why, None, missing)


def _landings_of_start(start: Start, counted: Counted, tolerance: Amounts) -> Iterator[Limit]:
    if start.total_landings is not None:
        total = Decimal(start.total_landings)
        yield _limit("landings", total, tolerance.landings, total, f"at {total} landings in all")
    if start.within_landings is not None:
        known = None if start.landings_at_effective is None else Decimal(start.landings_at_effective)
        base, told = _on_effective(start, counted, known, "landings")
        why = f"within {start.within_landings} landings {words.from_effective(start.effective)}"
        at, why, missing = (None, why, told) if base is None else (base + start.within_landings, why + told, "")
        yield _limit("landings", at, tolerance.landings, start.within_landings, why, None, missing)


def _on_effective(start: Start, counted: Counted, known: Decimal | None, counter: str) -> tuple[Decimal | None, str]:
    """Give the total on the effective day, or the last one known up to it: that errs on the early side."""
    effective = start.effective
    assert effective is not None
    if known is not None:
        return known, f" ({words.total(known, counter)} then)"
    now = counted.hours if counter == "hours" else counted.landings
    if effective >= counted.counted_on and now is not None:
        return now, f" ({words.total(now, counter)}, counted on {words.day(counted.counted_on)})"
    past = counted.past_hours if counter == "hours" else counted.past_landings
    found = past.up_to(effective)
    if found is None:
        return None, f"the {counter} on {words.day(effective)}, when it took effect"
    return found, f" (the last known up to that day, {words.total(found, counter)})"


def _dates_of_start(start: Start, tolerance: Amounts) -> Iterator[Limit]:
    effective = start.effective
    if effective is not None and start.within_days is not None:
        due, told = effective + timedelta(start.within_days), f"{start.within_days} days"
        span = start.within_days
    elif effective is not None and start.within_months is not None:
        due, told = add_months(effective, start.within_months), words.months(start.within_months)
        span = (due - effective).days
    else:
        return
    yield _date_limit(due, tolerance, span, f"within {told} {words.from_effective(effective)}")


def first_due(limits: Limits, counter: Counter) -> Decimal | None:
    """Give where a task is due by one counter: the first or the later of its limits; None where one is not known."""
    found = [limit.at for limit in limits.group if limit.counter == counter]
    if None in found:
        return None
    known = [at for at in found if at is not None]
    joined = (min if limits.join == "first" else max)(known, default=None)
    caps = [limit.at for limit in limits.in_any_case if limit.counter == counter and limit.at is not None]
    return min([each for each in (joined, *caps) if each is not None], default=None)


# -------------------------------------------------------------------- of the repetition


def limits_of_repetition(
    task: Task, every: Interval, history: Sequence[Done], counted: Counted, tolerance: Amounts
) -> Limits:
    """Give the limits that follow from the history and the rule of the task."""
    # What is counted from done alone asks nobody when it was due for the first time.
    start = None if task.counts_from in (None, "done") else task.start
    begun = None if start is None else limits_of_start(start, counted, tolerance)
    group = []
    if every.hours is not None:
        counting = count_hours(task, history, _first(begun, "hours"), tolerance)
        group.append(_next_limit("hours", counting, every.hours, tolerance.hours, history))
    if every.landings is not None:
        counting = count_landings(task, history, _first(begun, "landings"), tolerance)
        group.append(_next_limit("landings", counting, Decimal(every.landings), tolerance.landings, history))
    if every.days is not None or every.months is not None:
        group.append(_repeated_date(task, every, history, begun, tolerance))
    return Limits(tuple(group), task.join or "first")


def _first(begun: Limits | None, counter: Counter) -> Decimal | None:
    return None if begun is None else first_due(begun, counter)


def _next_limit(
    counter: Counter, counting: Counting, interval: Decimal, tolerance: Decimal, history: Sequence[Done]
) -> Limit:
    base = counting.base
    why = words.counted_from(counter, counting, history[-1])
    if not isinstance(base, Decimal):
        return _limit(counter, None, tolerance, interval, why, counting, words.missing_base(counter, history[-1]))
    return _limit(counter, base + interval, tolerance, interval, why, counting)


def _repeated_date(
    task: Task, every: Interval, history: Sequence[Done], begun: Limits | None, tolerance: Amounts
) -> Limit:
    counting = count_dates(task, history, _first_day(task, begun), tolerance)
    base = counting.base
    assert isinstance(base, Day)
    due = next_date(base, every, task.months_are)
    assert due is not None
    why = words.counted_from("date", counting, history[-1])
    return _date_limit(due.date, tolerance, (due.date - base.date).days, why, counting)


def _first_day(task: Task, begun: Limits | None) -> Day | None:
    """Give the first due date with its anchor: the effective day's where months count from there."""
    at = _first(begun, "date")
    if at is None or task.start is None:
        return None
    due, start = Date.fromordinal(int(at)), task.start
    by_months = start.within_months is not None and start.effective is not None
    if by_months and start.effective and due == add_months(start.effective, start.within_months or 0):
        return Day(due, start.effective.day)
    return Day.of(due)
