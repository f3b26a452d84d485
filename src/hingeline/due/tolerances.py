"""What a task may be early or late: the amounts by counter, and whether they may be used at all."""

from __future__ import annotations

from decimal import Decimal
from typing import NamedTuple

from hingeline.due.model import Interval, Task, Tolerance

DAYS_OF_A_MONTH = 30
NOT_EXTENDED = ("directive", "limitation", None)


class Amounts(NamedTuple):
    """Tolerance by counter; the date has days or months."""

    hours: Decimal = Decimal(0)
    landings: Decimal = Decimal(0)
    days: int = 0
    months: int = 0


NONE = Amounts()
NO_INTERVAL = Interval()


def may_be_extended(task: Task) -> bool:
    """Whether the tolerance of a task may be used: not for a directive or a limitation, unless its text gives one.

    Source: the Netherlands' information leaflet on permitted variations: never for directives, unless the
    directive says so, nor for the limitations section.
    """
    return task.allows_tolerance or task.source not in NOT_EXTENDED


def amounts_of(task: Task) -> Amounts:
    """Give the tolerance that is allowed."""
    if task.tolerance is None or not may_be_extended(task):
        return NONE
    return amounts(task.tolerance, task.every or NO_INTERVAL)


def amounts(tolerance: Tolerance, every: Interval) -> Amounts:
    """Give the tolerance by counter; a percentage is one of the interval.

    Parameters
    ----------
    tolerance : Tolerance
        As the approved data has it.
    every : Interval
        What a percentage is of.

    Returns
    -------
    Amounts
        0 for a counter that has none.

    Notes
    -----
    Ten per cent, at most five hours or thirty days, a month counted as thirty days and days rounded down:
    TM 1-1500-328-23 (1999), paragraph 2-10.

    Examples
    --------
    >>> amounts(Tolerance(percent=Decimal(10), at_most_hours=Decimal(5)), Interval(hours=Decimal(25), months=6))
    Amounts(hours=Decimal('2.5'), landings=Decimal('0'), days=18, months=0)
    """
    percent = tolerance.percent
    hours = tolerance.hours if tolerance.hours is not None else _part(percent, every.hours, tolerance.at_most_hours)
    landings = (
        Decimal(tolerance.landings)
        if tolerance.landings is not None
        else _whole(_part(percent, every.landings, tolerance.at_most_landings))
    )
    if tolerance.days is not None or tolerance.months is not None:
        return Amounts(hours, landings, tolerance.days or 0, tolerance.months or 0)
    days = every.days if every.days is not None else every.months and every.months * DAYS_OF_A_MONTH
    return Amounts(hours, landings, int(_part(percent, days, tolerance.at_most_days)))


def _part(percent: Decimal | None, interval: Decimal | int | None, most: Decimal | int | None) -> Decimal:
    if percent is None or interval is None:
        return Decimal(0)
    part = percent * interval / 100
    return part if most is None else min(part, Decimal(most))


def _whole(number: Decimal) -> Decimal:
    return Decimal(int(number))
