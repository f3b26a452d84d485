"""A quantity as it was typed on a page, in the spelling that a file's strict reader takes for the same number."""

from __future__ import annotations

import re

from hingeline.errors import InputRefused
from hingeline.units import read

# A comma with three digits behind it: a decimal comma, or thousands.
_EITHER = re.compile(r"^[-+−]?[1-9]\d{0,2},\d{3}(?!\d)")


def ask_which(text: str, field: str) -> None:
    """Ask about a comma that can be read in two ways.

    Raises
    ------
    InputRefused
        It is one: both readings are in it.
    """
    found = _EITHER.match(text.strip())
    if found:
        point, plain = found[0].replace(",", "."), found[0].replace(",", "")
        raise InputRefused.of(
            field, text.strip(), f"either {point} or {plain}", f"Which one? Type {point}, or {plain}."
        )


def as_a_file_takes(text: str, *dimensions: str, field: str) -> str:
    """Give the text, with a decimal comma turned into a point.

    Raises
    ------
    InputRefused
        It is no such quantity, or can be read in two ways.
    """
    text = " ".join(text.split())
    ask_which(text, field)
    value = read(text, dimensions, field=field, page=True)
    for spelling in (text, text.replace("−", "-").replace(",", ".")):
        try:
            if float(read(spelling, dimensions, field=field)) == float(value):
                return spelling
        except InputRefused:
            continue
    raise InputRefused.of(field, text, "a number with its unit", "Write it with a decimal point, such as 255.0 mm.")


def kept_as_a_file_takes(text: str, dimension: str) -> str | None:
    """Give a quantity of the records in the spelling of files; None where none is kept.

    A workshop that began from tables may keep "307,0mm", as the table had it and as pages read it.

    Raises
    ------
    InputRefused
        It is no such quantity.
    """
    if not text:
        return None
    try:
        read(text, dimension)
    except InputRefused:
        typed = read(text, dimension, page=True)
        return f"{typed.number} {typed.unit}"
    return text


def with_unit_typed(number: str, unit: str) -> str:
    """Join a number and the unit beside it; a unit that was typed with the number counts."""
    number = number.strip()
    return number if number and number[-1].isalpha() else f"{number} {unit}".strip()
