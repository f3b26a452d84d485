"""What the rule of a task must fulfil: intervals, tolerance, start, ending."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date as Date
from decimal import Decimal
from functools import lru_cache
from typing import get_args

from hingeline.due.model import CountsFrom, Interval, Join, MonthsAre, Source, Start, Task, Tolerance
from hingeline.due.refusing import (
    EARLIEST,
    LATEST,
    MOST_DAYS,
    MOST_LANDINGS,
    MOST_MONTHS,
    count_fault,
    day_fault,
    fault,
    hours_fault,
)
from hingeline.due.tolerances import DAYS_OF_A_MONTH
from hingeline.errors import Refusal

_WORDS = {
    "source": get_args(Source),
    "join": get_args(Join),
    "months_are": get_args(MonthsAre),
    "counts_from": get_args(CountsFrom),
}
_BY_DATE = (
    ("every", "months"), ("every", "days"), ("start", "within_months"), ("start", "within_days"),
    ("start", "not_later_than"),
)  # fmt: skip
_LIMITS_OF = (
    ("hours", (("every", "hours"), ("start", "total_hours"), ("start", "within_hours")), "a limit in hours beside it"),
    (
        "landings",
        (("every", "landings"), ("start", "total_landings"), ("start", "within_landings")),
        "a limit in landings beside it",
    ),
    ("months", _BY_DATE, "a limit by date beside it"),
    ("days", _BY_DATE, "a limit by date beside it"),
)
"""By counter of a tolerance: where the task may have its limit, and what is expected where it has none."""
_WITHIN = ("within_hours", "within_landings", "within_months", "within_days")


def task_faults(place: str, task: Task, on: Date) -> Iterator[Refusal]:
    """Find what is wrong with the rule of a task."""
    for name, known in _WORDS.items():
        value = getattr(task, name)
        if value is not None and value not in known:
            yield fault(f"{place}.{name}", value, f"one of {', '.join(known)}", "Write one of these words.")
    if not _surely_holds(task):
        yield from _rule_faults(place, task)
    yield from _events(place, task, on)
    yield from _without_a_limit(place, task)


def _surely_holds(task: Task) -> bool:
    try:
        return _rule_holds(task.every, task.tolerance, task.start)
    except TypeError:  # a number that signals, and has no hash: its fault is named below
        return False


@lru_cache(maxsize=4096)
def _rule_holds(every: Interval | None, tolerance: Tolerance | None, start: Start | None) -> bool:
    """Say that nothing is wrong with a rule; the same few stand at many tasks."""
    return not any(_rule_faults("", Task("", every=every, tolerance=tolerance, start=start)))


def _rule_faults(place: str, task: Task) -> Iterator[Refusal]:
    if task.every is not None:
        yield from _interval_faults(f"{place}.every", task.every)
    if task.tolerance is not None:
        yield from _tolerance_faults(f"{place}.tolerance", task.tolerance, task)
    if task.start is not None:
        yield from _start_faults(f"{place}.start", task.start)


def _without_a_limit(place: str, task: Task) -> Iterator[Refusal]:
    if not task.applies or task.every or task.start or task.before_next_flight or task.done or task.ends_with:
        return
    remedy = "Write every, start, or before_next_flight = true; where it does not apply, applies = false."
    yield fault(place, task.name, "a limit", remedy)


def _interval_faults(place: str, every: Interval) -> Iterator[Refusal]:
    yield from hours_fault(f"{place}.hours", every.hours, above_zero=True)
    yield from count_fault(f"{place}.landings", every.landings, "landings", MOST_LANDINGS, above_zero=True)
    yield from count_fault(f"{place}.months", every.months, "months", MOST_MONTHS, above_zero=True)
    yield from count_fault(f"{place}.days", every.days, "days", MOST_DAYS, above_zero=True)
    if every.months is not None and every.days is not None:
        remedy = "Where a text has both they are two tasks: keep one here."
        yield fault(f"{place}.days", every.days, "months or days, not both", remedy)
    if every == Interval():
        yield fault(place, "nothing", "hours, landings, months or days", "Say how often.")


def _tolerance_faults(place: str, tolerance: Tolerance, task: Task) -> Iterator[Refusal]:
    for name in ("hours", "at_most_hours"):
        yield from hours_fault(f"{place}.{name}", getattr(tolerance, name))
    for name in ("landings", "at_most_landings"):
        yield from count_fault(f"{place}.{name}", getattr(tolerance, name), "landings", MOST_LANDINGS)
    yield from count_fault(f"{place}.months", tolerance.months, "months", MOST_MONTHS)
    for name in ("days", "at_most_days"):
        yield from count_fault(f"{place}.{name}", getattr(tolerance, name), "days", MOST_DAYS)
    percent = tolerance.percent
    if percent is not None and not (percent.is_finite() and 0 <= percent <= 50):
        yield fault(f"{place}.percent", percent, "a percentage from 0 to 50", "10 is ten per cent.")
    if tolerance.months is not None and tolerance.days is not None:
        yield fault(f"{place}.days", tolerance.days, "months or days, not both", "Keep one.")
    yield from _of_nothing(place, tolerance, task)


def _of_nothing(place: str, tolerance: Tolerance, task: Task) -> Iterator[Refusal]:
    """Refuse hours of tolerance without a limit in hours, and a tolerance as long as its interval in its own unit.

    What else is doubtful was read by an earlier version, and stays readable: it is told.
    """
    yield from faults_of_no_limit(place, task, ("hours",))
    every = task.every or Interval()
    for name in ("hours", "landings", "months", "days"):
        yield from _as_long(f"{place}.{name}", getattr(tolerance, name), getattr(every, name))


def doubtful_tolerance(place: str, task: Task) -> Iterator[Refusal]:
    """Find what a tolerance says that is surely not meant: refused where it is typed, told where it was kept.

    An amount in a counter that the task has no limit in counts for nothing; one as long as the interval, counted in
    the other unit of the calendar, lets a task come due twice as late.
    """
    yield from faults_of_no_limit(place, task)
    every = task.every or Interval()
    for name in ("months", "days"):
        if task.tolerance is not None and getattr(every, name) is None:
            yield from _as_long(f"{place}.{name}", getattr(task.tolerance, name), _interval_as(name, every))


def _as_long(field: str, amount: Decimal | int | None, interval: Decimal | int | None) -> Iterator[Refusal]:
    if amount is None or interval is None or not _are_numbers(amount, interval):
        return
    if amount >= interval > 0:
        yield fault(field, amount, f"less than the interval of {interval}", "Check both.")


def faults_of_no_limit(
    place: str, task: Task, counters: Sequence[str] = ("hours", "landings", "months", "days")
) -> Iterator[Refusal]:
    """Find the amounts of a tolerance in counters that the task has no limit in: they count for nothing."""
    for name, limits, words in _LIMITS_OF:
        amount = getattr(task.tolerance, name, None) if name in counters else None
        if amount is not None and all(getattr(getattr(task, part), limit, None) is None for part, limit in limits):
            yield fault(f"{place}.{name}", amount, words, "Leave it out, or add the limit.")


def _interval_as(name: str, every: Interval) -> int | None:
    """Give the interval in the other unit of the calendar, a month of thirty days, as a part in per cent is."""
    if name == "days":
        return every.months and every.months * DAYS_OF_A_MONTH
    return every.days and -(-every.days // DAYS_OF_A_MONTH)


def _are_numbers(*amounts: Decimal | int) -> bool:
    """Whether they can be compared: what is no number is told at its own place."""
    return all(Decimal(each).is_finite() for each in amounts)


def _start_faults(place: str, start: Start) -> Iterator[Refusal]:
    for name in ("total_hours", "within_hours", "hours_at_effective"):
        yield from hours_fault(f"{place}.{name}", getattr(start, name), above_zero=name == "total_hours")
    for name in ("total_landings", "within_landings", "landings_at_effective"):
        yield from count_fault(f"{place}.{name}", getattr(start, name), "landings", MOST_LANDINGS)
    yield from count_fault(f"{place}.within_months", start.within_months, "months", MOST_MONTHS)
    yield from count_fault(f"{place}.within_days", start.within_days, "days", MOST_DAYS)
    for name in ("effective", "not_later_than"):
        day = getattr(start, name)
        if day is not None and not EARLIEST <= day <= LATEST:
            yield fault(f"{place}.{name}", day, f"a day from {EARLIEST} to {LATEST}", "Check the year.")
    if start.join is not None and start.join not in get_args(Join):
        yield fault(f"{place}.join", start.join, "first or later", "Write one of these words.")
    yield from _whole_start(place, start)


def _whole_start(place: str, start: Start) -> Iterator[Refusal]:
    within = [name for name in _WITHIN if getattr(start, name) is not None]
    if within and start.effective is None:
        yield fault(f"{place}.effective", "missing", f"the day that {within[0]} counts from", "Add it.")
    if start.within_months is not None and start.within_days is not None:
        yield fault(f"{place}.within_days", start.within_days, "months or days, not both", "Keep one.")
    limits = (*_WITHIN, "total_hours", "total_landings", "not_later_than")
    if all(getattr(start, name) is None for name in limits):
        yield fault(place, "nothing", f"one of {', '.join(limits)}", "Say when it is due for the first time.")


def _events(place: str, task: Task, on: Date) -> Iterator[Refusal]:
    if task.event is not None:
        yield from day_fault(f"{place}.event.date", task.event.date, on)
        yield from hours_fault(f"{place}.event.hours", task.event.hours)
        if not task.before_next_flight:
            yield fault(f"{place}.event", task.event.what, "before_next_flight = true beside it", "Add it.")
    ending = task.ends_with
    if ending is None:
        return
    yield from day_fault(f"{place}.ends_with.date", ending.date, on)
    if not ending.by.strip():
        yield fault(f"{place}.ends_with.by", ending.by, "what ended it", 'Write for example by = "new arm fitted".')
    if ending.reopened is not None:
        yield from day_fault(f"{place}.ends_with.reopened.date", ending.reopened.date, on)
        yield from hours_fault(f"{place}.ends_with.reopened.hours", ending.reopened.hours)
        if ending.reopened.date < ending.date:
            yield fault(f"{place}.ends_with.reopened.date", ending.reopened.date, f"a day from {ending.date}",
                        "It cannot be opened again before it was closed.")  # fmt: skip
