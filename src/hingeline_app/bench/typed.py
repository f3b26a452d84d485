"""A quantity as it was typed on a page, in the spelling that a file's strict reader takes for the same number."""

from __future__ import annotations

from hingeline.errors import InputRefused
from hingeline.units import read


def as_a_file_takes(text: str, *dimensions: str, field: str) -> str:
    """Give the text, with a decimal comma turned into a point.

    Raises
    ------
    InputRefused
        It is no such quantity, or can be read in two ways.
    """
    text = " ".join(text.split())
    value = read(text, dimensions, field=field, page=True)
    for spelling in (text, text.replace("−", "-").replace(",", ".")):
        try:
            if float(read(spelling, dimensions, field=field)) == float(value):
                return spelling
        except InputRefused:
            continue
    raise InputRefused.of(field, text, "a number with its unit", "Write it with a decimal point, such as 255.0 mm.")


def with_unit_typed(number: str, unit: str) -> str:
    """Join a number and the unit beside it; a unit that was typed with the number counts."""
    number = number.strip()
    return number if number and number[-1].isalpha() else f"{number} {unit}".strip()
