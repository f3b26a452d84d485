"""The pieces of a reason: dates, amounts and where something is counted from, in the trade's words."""

from __future__ import annotations

from datetime import date as Date
from decimal import Decimal
from functools import lru_cache
from typing import Any

from hingeline.due.model import Done, Interval, Task, Tolerance
from hingeline.due.tolerances import may_be_extended

_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")


@lru_cache(maxsize=4096)
def day(date: Date) -> str:
    """Write a date that nobody can read the wrong way round.

    Examples
    --------
    >>> day(Date(2027, 3, 12))
    '12 Mar 2027'
    """
    return f"{date.day} {_MONTHS[date.month - 1]} {date.year}"


def amount(number: Decimal) -> str:
    """Write a number of hours without zeros that say nothing.

    Examples
    --------
    >>> amount(Decimal("100.0")), amount(Decimal("2.50")), amount(Decimal("-2.5"))
    ('100', '2.5', '−2.5')
    """
    text = f"{number:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "\u2212" + text[1:] if text[0] == "-" else text


def hours(number: Decimal) -> str:
    """Write a total of hours, with one decimal at least.

    Examples
    --------
    >>> hours(Decimal("1300")), hours(Decimal("613.25"))
    ('1300.0 h', '613.25 h')
    """
    text = amount(number)
    return f"{text} h" if "." in text else f"{text}.0 h"


def total(number: Decimal, counter: str) -> str:
    """Write a total with its unit."""
    return hours(number) if counter == "hours" else landings(number)


def landings(number: Decimal | int) -> str:
    """Write a number of landings."""
    return f"{int(number)} landing{'' if number == 1 else 's'}"


def months(number: int) -> str:
    """Write a number of months."""
    return f"{number} month{'' if number == 1 else 's'}"


def days(number: int) -> str:
    """Write a number of days."""
    return f"{number} day{'' if number == 1 else 's'}"


def from_effective(effective: Date | None) -> str:
    """Say from when."""
    return f"from {day(effective)}" if effective else ""


@lru_cache(maxsize=4096)
def interval(every: Interval, join: str) -> str:
    """Write how often.

    Examples
    --------
    >>> interval(Interval(hours=Decimal(100), months=12), "first")
    '100 h or 12 months, whichever comes first'
    """
    named = []
    if every.hours is not None:
        named.append(f"{amount(every.hours)} h")
    if every.landings is not None:
        named.append(landings(every.landings))
    if every.months is not None:
        named.append(months(every.months))
    if every.days is not None:
        named.append(days(every.days))
    which = "first" if join == "first" else "later"
    return named[0] if len(named) == 1 else f"{' or '.join(named)}, whichever comes {which}"


def counted_from(counter: str, counting: Any, last: Done) -> str:
    """Say what a limit is counted from."""
    base = counting.base
    if base is None:
        return ""
    at = day(base.date) if counter == "date" else total(base, counter)
    if counting.by == "done":
        when = "" if counter == "date" else f" on {day(last.date)}"
        return f"counted from {at}, when it was done{when}"
    return f"counted from {at}, when it was due (done {_done_at(counter, last)})"


def _done_at(counter: str, last: Done) -> str:
    on = f"on {day(last.date)}"
    if counter == "hours" and last.hours is not None:
        return f"at {hours(last.hours)} {on}"
    if counter == "landings" and last.landings is not None:
        return f"at {landings(last.landings)} {on}"
    return on


def missing_base(counter: str, last: Done) -> str:
    """Say what the history lacks."""
    return f"the {counter} at which it was done on {day(last.date)}"


def tolerance(given: Tolerance) -> str:
    """Write a tolerance as the data has it.

    Examples
    --------
    >>> tolerance(Tolerance(hours=Decimal(10), months=1))
    '10 h and 1 month'
    """
    named = []
    if given.percent is not None:
        named.append(f"{amount(given.percent)} %")
    if given.hours is not None:
        named.append(f"{amount(given.hours)} h")
    if given.landings is not None:
        named.append(landings(given.landings))
    if given.months is not None:
        named.append(months(given.months))
    if given.days is not None:
        named.append(days(given.days))
    return " and ".join(named)


def unused_tolerance(task: Task) -> str:
    """Say that a tolerance is not used, where one is given and must not be."""
    if task.tolerance is None or may_be_extended(task):
        return ""
    named = {"directive": "a directive is not extended", "limitation": "a limitation is not extended"}
    why = named.get(task.source or "", "without a source nothing is extended")
    return f"The tolerance of {tolerance(task.tolerance)} is not used: {why}."
