"""Months added to a date, the anchor day kept."""

from __future__ import annotations

from calendar import monthrange
from datetime import date as Date

SHORTEST = 28


def add_months(base: Date, months: int, day: int | None = None) -> Date:
    """Give the same day some months on, or the last day of a month that is too short for it.

    Parameters
    ----------
    base : date
        Where counting begins.
    months : int
        How many; below 0 they go back.
    day : int, optional
        The anchor day, where ``base`` itself was cut to a short month [day of the month].

    Returns
    -------
    date
        Day ``min(day, length of the month)``.

    Notes
    -----
    Counted from the anchor and never chained: 31 January, a month on 28 February, two months on 31 March. The
    rule of the last valid day: common practice, no source.

    Examples
    --------
    >>> str(add_months(Date(2026, 1, 31), 1)), str(add_months(Date(2026, 2, 28), 1, day=31))
    ('2026-02-28', '2026-03-31')
    """
    year, month = divmod(base.year * 12 + base.month - 1 + months, 12)
    wanted = day or base.day
    # Every month has so many days; only beyond them its length is asked for.
    return Date(year, month + 1, wanted if wanted <= SHORTEST else min(wanted, monthrange(year, month + 1)[1]))


def end_of_month(day: Date) -> Date:
    """Give the last day of the month, to which calendar months run.

    Source: 14 CFR 91.409(a), "calendar months".

    Examples
    --------
    >>> str(end_of_month(add_months(Date(2014, 6, 6), 12)))
    '2015-06-30'
    """
    return day.replace(day=monthrange(day.year, day.month)[1])
