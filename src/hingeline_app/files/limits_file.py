"""A file of printed limit rows: what may stand in it, and how it becomes rows to check."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, ValidationError, WithJsonSchema
from pydantic_core import CoreSchema, core_schema

from hingeline.balance import LimitRow, PrintedRange
from hingeline.errors import InputRefused, Refusal
from hingeline.units import Typed, read
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.plus_sense import NOSE_HEAVY, sense_of
from hingeline_app.files.quantities import MOST_ITEMS, Name, Quantity, Table, quantity_schema
from hingeline_app.files.refusals import refused
from hingeline_app.files.shown import shown

FORMAT = "hingeline/limits/1"
OPEN = "none"

# A word for the sense in a moment, as in "0.2 in-lb nose-heavy", whatever mark is behind it; no unit has such a word.
_WITH_SENSE = re.compile(r"heavy|down", re.IGNORECASE)


class Printed:
    """Marks a field with a lower and an upper number, as printed."""

    def __init__(self, *dimensions: str) -> None:
        self.dimensions = dimensions

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> CoreSchema:
        return core_schema.no_info_plain_validator_function(lambda value: _range(value, self.dimensions))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: Any) -> dict[str, Any]:
        one = {"anyOf": [quantity_schema(*self.dimensions), {"const": OPEN}]}
        ends = {"type": "array", "items": one, "minItems": 2, "maxItems": 2}
        table = {"type": "object", "properties": {"lower": one, "upper": one}, "additionalProperties": False}
        return {"oneOf": [ends, table]}


def _range(value: Any, dimensions: tuple[str, ...]) -> PrintedRange:
    ends = _ends(value)
    refusals: list[Refusal] = []
    read_ends: dict[str, float | None] = {}
    for name, place in (("lower", 0), ("upper", 1)):
        text, field = ends[place], f"[{place}]" if isinstance(value, list) else f".{name}"
        try:
            open_end = text is None or text == OPEN
            read_ends[name] = None if open_end else read(text, dimensions, field=field)
        except InputRefused as fault:
            refusals += fault.refusals
    if refusals:
        raise InputRefused(refusals)
    return PrintedRange(**read_ends)


def _ends(value: Any) -> tuple[Any, Any]:
    if isinstance(value, list) and len(value) == 2:
        return value[0], value[1]
    if isinstance(value, Mapping) and value and set(value) <= {"lower", "upper"}:
        return value.get("lower"), value.get("upper")
    remedy = f'Write ["0.00 N m", "2.10 N m"]; an open side is "{OPEN}".'
    raise InputRefused.of("", shown(value), "a lower and an upper number, in square brackets", remedy)


Sense = Annotated[str, PlainValidator(sense_of), WithJsonSchema({"type": "string", "maxLength": 200})]


Moments = Annotated[PrintedRange, Printed("moment")]
Forces = Annotated[PrintedRange, Printed("force")]
Masses = Annotated[PrintedRange, Printed("mass")]
Length = Annotated[Typed, Quantity("length")]


class RowTable(Table):
    """``[[row]]``."""

    surface: Name
    positive: Sense
    moment: Moments
    force: Forces | None = None
    reading: Masses | None = None
    arm: Length | None = None
    second_arm: Length | None = None
    mass: Masses | None = None
    second_mass: Masses | None = None
    second_unit: Moments | None = None
    chord: Length | None = None
    effectivity: Name | None = None
    source: Name | None = None


class LimitsFile(Table):
    """A file of printed limit rows as a whole."""

    format: Literal["hingeline/limits/1"]
    row: Annotated[list[RowTable], Field(min_length=1, max_length=MOST_ITEMS)]


def read_limits(data: bytes) -> tuple[LimitRow, ...]:
    """Read a file of printed limit rows.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, LimitsFile)
    return tuple(_row(table, f"row[{index}].") for index, table in enumerate(file.row))


def read_row(tables: Mapping[str, Any]) -> LimitRow:
    """Read one row as a form has it, by the rules of the file.

    Raises
    ------
    InputRefused
        With every fault of the row.
    """
    try:
        return _row(RowTable.model_validate(dict(tables)))
    except ValidationError as fault:
        raise refused(fault, RowTable) from None


def _row(table: RowTable, place: str = "") -> LimitRow:
    refusals = list(_senses_in(table, place))
    if refusals:
        raise InputRefused(refusals)
    given = dict(table)
    for name in ("effectivity", "source"):
        given[name] = given[name] or ""
    return LimitRow(**given)


def _senses_in(table: RowTable, place: str) -> Iterator[Refusal]:
    """Go through the moments of a nose-heavy row: a word of their own would turn what the row turns already."""
    if table.positive != NOSE_HEAVY:
        return
    for name in ("moment", "second_unit"):
        for end, number in (getattr(table, name) or PrintedRange()).bounds():
            if isinstance(number, Typed):
                yield from said_twice(f"{place}{name}.{end}", number.text)


def said_twice(place: str, text: str) -> Iterator[Refusal]:
    """Refuse a number of a nose-heavy row that brings a word for its sense."""
    if _WITH_SENSE.search(text):
        expected = "the number as printed, without a word for its sense"
        remedy = "The row's own word says which way its plus points: take this one out, keep a printed minus."
        yield Refusal(place, text, expected, remedy)
