"""Hours, whole numbers and days as they stand in a file that counts: bare, and exact."""

from __future__ import annotations

import re
from datetime import date
from decimal import Decimal
from typing import Annotated, Any

from pydantic import PlainValidator, WithJsonSchema

from hingeline.errors import InputRefused
from hingeline_app.files.shown import shown

MOST_HOURS = 200_000
MOST_DECIMALS = 4

_DAY = re.compile("[0-9]{4}-[0-9]{2}-[0-9]{2}")


def _hours(value: Any) -> Decimal:
    if isinstance(value, bool) or not isinstance(value, int | float):
        remedy = "Write hours as a plain number, without quotes and without a unit: 1312.3."
        raise InputRefused.of("", shown(value), "a bare number of hours", remedy)
    # The shortest text of a float of so few digits is the text that was typed.
    number = Decimal(repr(value))
    if not 0 <= number <= MOST_HOURS:
        raise InputRefused.of("", shown(value), f"hours from 0 to {MOST_HOURS}", "Check the digits.")
    if number != round(number, MOST_DECIMALS):
        expected = f"at most {MOST_DECIMALS} decimals"
        raise InputRefused.of("", shown(value), expected, "Write what the meter shows; six minutes are 0.1.")
    return number


def _whole(value: Any) -> int:
    if isinstance(value, bool) or not isinstance(value, int):
        remedy = "Write a whole number, without quotes, without a point and without a unit."
        raise InputRefused.of("", shown(value), "a whole number", remedy)
    if not 0 <= value <= 1_000_000:
        raise InputRefused.of("", shown(value), "a whole number from 0 to 1000000", "Check the digits.")
    return value


def _day(value: Any) -> date:
    remedy = 'Write year, month and day: "2027-03-12".'
    if not isinstance(value, str) or not _DAY.fullmatch(value):
        raise InputRefused.of("", shown(value), "a date", remedy)
    return as_day(value, "")


def as_day(text: str, field: str) -> date:
    """Read a date.

    Raises
    ------
    InputRefused
        No calendar has it.
    """
    try:
        if not _DAY.fullmatch(text):
            raise ValueError
        return date.fromisoformat(text)
    except ValueError:
        remedy = "Write year, month and day: 2027-03-12."
        raise InputRefused.of(field, shown(text), "a day that exists", remedy) from None


Hours = Annotated[
    Decimal,
    PlainValidator(_hours),
    WithJsonSchema({"type": "number", "minimum": 0, "maximum": MOST_HOURS, "description": "hours, bare"}),
]
Whole = Annotated[
    int,
    PlainValidator(_whole),
    WithJsonSchema({"type": "integer", "minimum": 0, "maximum": 1_000_000}),
]
Day = Annotated[
    date,
    PlainValidator(_day),
    WithJsonSchema({"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$", "description": "a date"}),
]
