"""What a table of people, aircraft, parts, counters or history holds: its columns, and how each cell is read."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any, NamedTuple

from hingeline.errors import InputRefused


class Column(NamedTuple):
    """A column: how its cells are read, whether each must be filled, and whether letters such as NA mean themselves."""

    read: Callable[[str], Any]
    needed: bool = True
    are_letters: bool = False


COUNT = re.compile(r"[0-9]{1,9}([.,][0-9]{1,2})?")
NO_VALUE = re.compile(r"#.*[!?A]|-+|n/?a|none|null|nan", re.IGNORECASE)


def text(cell: str) -> str:
    """Give a text as it stands."""
    return cell


def day(cell: str) -> date:
    """Read a day. Only one order of its parts is understood: none is guessed.

    Raises
    ------
    InputRefused
        It is no day written as 2026-03-12.
    """
    try:
        if len(cell) == 10 and cell.isascii():
            return date.fromisoformat(cell)
    except ValueError:
        pass
    raise InputRefused.of("", cell, "a day as 2026-03-12", "Write the year, the month and the day.")


def count(cell: str) -> Decimal:
    """Read what a meter shows: plain digits, a point or a comma, two decimals at most.

    Raises
    ------
    InputRefused
        It is anything else.
    """
    if not COUNT.fullmatch(cell):
        remedy = "Use plain digits and one decimal mark; leave thousands marks out."
        raise InputRefused.of("", cell, "a number such as 1414.5", remedy)
    return Decimal(cell.replace(",", "."))


def words(cell: str) -> tuple[str, ...]:
    """Read several words with a semicolon between them."""
    return tuple(word.strip() for word in cell.split(";") if word.strip())


OPTIONAL_TEXT = Column(text, needed=False)
KINDS: Mapping[str, Mapping[str, Column]] = {
    "people": {
        "name": Column(text),
        "initials": Column(text, are_letters=True),
        "licence number": OPTIONAL_TEXT,
        "licence expires": Column(day, needed=False),
        "roles": Column(words, needed=False),
    },
    "aircraft": {
        "type": Column(text),
        "registration": Column(text),
        "serial number": Column(text),
        "built on": Column(day, needed=False),
    },
    "surfaces": {
        "registration": Column(text),
        "surface": Column(text),
        "serial number": OPTIONAL_TEXT,
        "hinge to trailing edge": OPTIONAL_TEXT,
    },
    "counters": {
        "registration": Column(text),
        "counter": Column(text),
        "read on": Column(day),
        "shown": Column(count),
    },
    "parts": {
        "part": Column(text),
        "part number": OPTIONAL_TEXT,
        "serial number": Column(text),
        "hours when new fitted": Column(count, needed=False),
        "registration": OPTIONAL_TEXT,
        "surface": OPTIONAL_TEXT,
        "fitted on": Column(day, needed=False),
        "fitted at hours": Column(count, needed=False),
    },
    "history": {
        "registration": Column(text),
        "surface": OPTIONAL_TEXT,
        "original date": Column(day),
        "original signer": Column(text),
        "original licence": OPTIONAL_TEXT,
        "says": Column(text),
        "moment": OPTIONAL_TEXT,
    },
}


def cell_value(column: Column, cell: str) -> Any:
    """Read one cell.

    Raises
    ------
    InputRefused
        It is blank and must not be, says that there is no value, or cannot be read.
    """
    if not cell:
        if column.needed:
            raise InputRefused.of("", "", "a value", "The cell is blank: fill it. No row is skipped.")
        return None
    if NO_VALUE.fullmatch(cell) and not (column.are_letters and cell.isalpha()):
        raise InputRefused.of("", cell, "a value, or a blank cell where none is needed", "It says that there is none.")
    return column.read(cell)
