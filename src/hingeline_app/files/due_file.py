"""A due file: what may stand in it, and how it becomes a :class:`~hingeline.due.DueQuestion`."""

from __future__ import annotations

from dataclasses import fields
from datetime import date
from decimal import Decimal
from typing import Annotated, Any, Literal, TypeVar

from pydantic import BaseModel, Field

from hingeline.due import (
    Aircraft,
    Done,
    DueQuestion,
    Ending,
    Fitting,
    Happening,
    Interval,
    MeterChange,
    Part,
    Reading,
    Start,
    Task,
    Tolerance,
)
from hingeline.due.model import CountsFrom, Join, MonthsAre, Source
from hingeline.errors import InputRefused
from hingeline_app.files.bare_numbers import Day, Hours, Whole
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Name, Table

FORMAT = "hingeline/due/1"
MOST_TASKS = 5000

Record = TypeVar("Record")


class MeterChangeTable(Table):
    """One of ``meter_changes``."""

    date: Day
    old: Hours
    new: Hours = Decimal(0)


class ReadingTable(Table):
    """One of ``readings``."""

    date: Day
    hours: Hours | None = None
    landings: Whole | None = None


class DueAircraftTable(Table):
    """``[[aircraft]]``."""

    name: Name
    hours: Hours | None = None
    landings: Whole | None = None
    counted_on: Day | None = None
    hours_before_meter: Hours = Decimal(0)
    meter_changes: Annotated[list[MeterChangeTable], Field(max_length=MOST_ITEMS)] = Field(default_factory=list)
    readings: Annotated[list[ReadingTable], Field(max_length=MOST_ITEMS)] = Field(default_factory=list)


class FittingTable(Table):
    """One of ``fitted``."""

    aircraft: Name
    from_: Hours = Field(alias="from")
    to: Hours | None = None
    from_landings: Whole | None = None
    to_landings: Whole | None = None


class DuePartTable(Table):
    """``[[part]]``."""

    name: Name
    hours_when_new_fitted: Hours | None = None
    landings_when_new_fitted: Whole | None = None
    fitted: Annotated[list[FittingTable], Field(max_length=MOST_ITEMS)] = Field(default_factory=list)


class IntervalTable(Table):
    """``every``."""

    hours: Hours | None = None
    landings: Whole | None = None
    months: Whole | None = None
    days: Whole | None = None


class ToleranceTable(Table):
    """``tolerance``."""

    hours: Hours | None = None
    landings: Whole | None = None
    months: Whole | None = None
    days: Whole | None = None
    percent: Hours | None = None
    at_most_hours: Hours | None = None
    at_most_landings: Whole | None = None
    at_most_days: Whole | None = None


class StartTable(Table):
    """``start``."""

    total_hours: Hours | None = None
    total_landings: Whole | None = None
    within_hours: Hours | None = None
    within_landings: Whole | None = None
    within_months: Whole | None = None
    within_days: Whole | None = None
    effective: Day | None = None
    hours_at_effective: Hours | None = None
    landings_at_effective: Whole | None = None
    not_later_than: Day | None = None
    join: Join | None = None


class DoneTable(Table):
    """One of ``done``."""

    date: Day
    hours: Hours | None = None
    landings: Whole | None = None
    due_hours: Hours | None = None
    due_landings: Whole | None = None
    due_date: Day | None = None


class HappeningTable(Table):
    """``event`` and ``reopened``."""

    date: Day
    what: Name
    hours: Hours | None = None


class EndingTable(Table):
    """``ends_with``."""

    date: Day
    by: Name
    reopened: HappeningTable | None = None


class DueTaskTable(Table):
    """``[[task]]``."""

    name: Name
    aircraft: Name = ""
    part: Name = ""
    source: Source | None = None
    reference: Name = ""
    applies_to: Name = ""
    applies: bool = True
    start: StartTable | None = None
    every: IntervalTable | None = None
    months_are: MonthsAre | None = None
    join: Join | None = None
    tolerance: ToleranceTable | None = None
    allows_tolerance: bool = False
    counts_from: CountsFrom | None = None
    done: Annotated[list[DoneTable], Field(max_length=MOST_ITEMS)] = Field(default_factory=list)
    ends_with: EndingTable | None = None
    before_next_flight: bool = False
    event: HappeningTable | None = None


class DueFile(Table):
    """A due file as a whole."""

    format: Literal["hingeline/due/1"]
    on: Day | None = None
    aircraft: Annotated[list[DueAircraftTable], Field(max_length=MOST_ITEMS)] = Field(default_factory=list)
    part: Annotated[list[DuePartTable], Field(max_length=MOST_TASKS)] = Field(default_factory=list)
    task: Annotated[list[DueTaskTable], Field(max_length=MOST_TASKS)] = Field(default_factory=list)


RECORDS: dict[type[BaseModel], type] = {
    MeterChangeTable: MeterChange,
    ReadingTable: Reading,
    DueAircraftTable: Aircraft,
    FittingTable: Fitting,
    DuePartTable: Part,
    IntervalTable: Interval,
    ToleranceTable: Tolerance,
    StartTable: Start,
    DoneTable: Done,
    HappeningTable: Happening,
    EndingTable: Ending,
    DueTaskTable: Task,
}


def read_due(data: bytes, on: date | None = None) -> DueQuestion:
    """Read a due file.

    Parameters
    ----------
    data : bytes
        TOML in UTF-8.
    on : date, optional
        The day that is asked about, in place of the file's own. The counters stay those of the file's day.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    return as_question(read_tables(data, DueFile), on)


def as_question(file: DueFile, on: date | None = None) -> DueQuestion:
    """Turn the tables of a due file into the library's question.

    Raises
    ------
    InputRefused
        Nobody says which day is asked about.
    """
    day = on or file.on
    if day is None:
        raise InputRefused.of("on", "missing", "the day that is asked about", 'Add it: on = "2027-03-12"; or use --on.')
    aircraft = tuple(_as_record(table, counted_on=table.counted_on or file.on) for table in file.aircraft)
    return DueQuestion(day, aircraft, _as_records(file.part), _as_records(file.task))


def _as_records(tables: list[Any]) -> tuple[Any, ...]:
    return tuple(map(_as_record, tables))


def _as_record(table: BaseModel, **given: Any) -> Any:
    """Make the library's record of a table: their fields have the same names."""
    record = RECORDS[type(table)]
    return record(**{field.name: _plain(getattr(table, field.name)) for field in fields(record)} | given)


def _plain(value: Any) -> Any:
    if isinstance(value, BaseModel):
        return _as_record(value)
    return _as_records(value) if isinstance(value, list) else value
