"""How a fault is written, and the bounds that no light aircraft reaches."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date as Date
from decimal import Decimal
from difflib import get_close_matches

from hingeline.errors import Refusal

EARLIEST, LATEST = Date(1900, 1, 1), Date(2199, 12, 31)
MOST_HOURS = Decimal(200_000)
MOST_LANDINGS = 1_000_000
MOST_MONTHS, MOST_DAYS = 1200, 36_500


def fault(field: str, value: object, expected: str, remedy: str) -> Refusal:
    """Write one refusal."""
    return Refusal(field, str(value), expected, remedy)


def near(name: str, known: Iterable[str]) -> str:
    """Ask whether a name near to this one was meant."""
    found = get_close_matches(name, list(known), n=1) if len(name) < 60 else []
    return f' Did you mean "{found[0]}"?' if found else ""


def hours_fault(field: str, value: Decimal | None, *, above_zero: bool = False) -> Iterator[Refusal]:
    """Refuse hours that are below 0, no number, or more than an aircraft flies."""
    if value is None:
        return
    lowest = value.is_finite() and (value > 0 if above_zero else value >= 0)
    if not lowest or value > MOST_HOURS:
        expected = f"hours {'above 0' if above_zero else 'from 0'} to {MOST_HOURS}"
        yield fault(field, value, expected, "Check the digits.")


def count_fault(field: str, value: int | None, what: str, most: int, *, above_zero: bool = False) -> Iterator[Refusal]:
    """Refuse a whole number below 0, or above what can be."""
    if value is not None and not (1 if above_zero else 0) <= value <= most:
        yield fault(field, value, f"{what} from {1 if above_zero else 0} to {most}", "Check the digits.")


def day_fault(field: str, day: Date | None, on: Date) -> Iterator[Refusal]:
    """Refuse a day that has not come yet, or is too long ago."""
    if day is None:
        return
    if day > on:
        yield fault(
            field, day, f"a day up to {on}", "It lies in the future: check the date, or the day that is asked about."
        )
    elif day < EARLIEST:
        yield fault(field, day, f"a day from {EARLIEST}", "Check the year.")
