"""A flutter file: how it becomes a :class:`~hingeline.flutter.model.FlutterTask`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any

from pydantic import BaseModel, ValidationError

from hingeline.flutter.checks import TABLES, refuse_unusable
from hingeline.flutter.dotted import fields_of
from hingeline.flutter.model import (
    Aileron,
    AileronWeight,
    Air,
    FieldSource,
    FlutterTask,
    FreePlay,
    MeasuredMode,
    Modes,
    ModeStrip,
    ModeWeight,
    ScatteredField,
    Section,
    Tailplane,
    TailplaneWeight,
    Wing,
)
from hingeline_app.files.flutter_tables import (
    AileronTable,
    AileronWeightTable,
    AirTable,
    FlutterFile,
    FreePlayTable,
    MeasuredModeTable,
    ModesTable,
    ModeStripTable,
    ModeWeightTable,
    SectionTable,
    TailplaneTable,
    TailplaneWeightTable,
    WingTable,
)
from hingeline_app.files.formats import refuse_other_format
from hingeline_app.files.job_text import read_job
from hingeline_app.files.quantities import Given
from hingeline_app.files.refusals import refused

FORMAT = "hingeline/flutter/1"

RECORDS: dict[type[BaseModel], type] = {
    AirTable: Air,
    SectionTable: Section,
    TailplaneWeightTable: TailplaneWeight,
    TailplaneTable: Tailplane,
    AileronWeightTable: AileronWeight,
    AileronTable: Aileron,
    WingTable: Wing,
    MeasuredModeTable: MeasuredMode,
    ModeStripTable: ModeStrip,
    ModeWeightTable: ModeWeight,
    ModesTable: Modes,
    FreePlayTable: FreePlay,
}
# Lists of tables are named by one of them in a file, by all of them in a record.
LISTS = {"weight": "weights", "strip": "strips", "mode": "modes"}


def read_flutter(data: bytes) -> FlutterTask:
    """Read a flutter file.

    Parameters
    ----------
    data : bytes
        TOML in UTF-8.

    Returns
    -------
    FlutterTask
        In SI; each number that states its own uncertainty stands in ``scatter`` too.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    return task_of(read_job(data))


def task_of(document: Mapping[str, Any]) -> FlutterTask:
    """Take a flutter file that is a plain dictionary already.

    Raises
    ------
    InputRefused
        With every fault of the document.
    """
    refuse_other_format(document, FORMAT)
    try:
        file = FlutterFile.model_validate(document)
    except ValidationError as fault:
        raise refused(fault, FlutterFile) from None
    task = _task(file)
    refuse_unusable(task)
    found: FlutterTask = _plain(task)
    return found


def _task(file: FlutterFile) -> FlutterTask:
    given = {name: record_of(getattr(file, name)) for name in (*TABLES, "air", "free_play")}
    factor = file.lift_slope_factor
    task = FlutterTask(
        **given,
        speeds=tuple(file.speeds),
        wake=file.wake,
        structural_damping=file.structural_damping,
        damping_ratios=file.damping_ratios,
        lift_slope_factor=1.0 if factor is None else factor.value,
        lift_slope_source=file.lift_slope_source,
        name=file.name or "",
    )
    known = set(fields_of(task))
    sources = tuple(FieldSource(full_name(name, known), text) for name, text in file.sources.items())
    return replace(task, scatter=scatter_of(file, known), sources=sources)


def record_of(table: BaseModel | None) -> Any:
    """Turn a table into its record; what was left out takes the record's default."""
    if table is None:
        return None
    given: dict[str, Any] = {}
    for name, value in dict(table).items():
        if value is not None:
            given[LISTS.get(name, name) if _is_tables(value) else name] = _value(value)
    return RECORDS[type(table)](**given)


def _is_tables(value: Any) -> bool:
    return isinstance(value, list) and all(isinstance(item, BaseModel) for item in value)


def _value(value: Any) -> Any:
    if isinstance(value, Given):
        return value.value
    if isinstance(value, list):
        return tuple(_value(item) for item in value)
    return record_of(value) if isinstance(value, BaseModel) else value


def scatter_of(file: FlutterFile, known: set[str]) -> tuple[ScatteredField, ...]:
    """Gather what is uncertain: numbers that say so themselves, and the table ``[scatter]``, which leads."""
    relative = {full_name(name, known): part for name, part in file.scatter.items()}
    stated = {name: size for name, size in stated_in("", file) if name not in relative}
    return (
        *(ScatteredField(name, standard_uncertainty=size) for name, size in stated.items()),
        *(ScatteredField(name, relative=part) for name, part in relative.items()),
    )


def stated_in(place: str, item: Any) -> Iterator[tuple[str, float]]:
    """Give the standard uncertainty of each number that states one, by its dotted name."""
    if isinstance(item, Given):
        if item.stated is not None:
            yield place, item.stated.of(float(item.value))
    elif isinstance(item, list):
        for index, one in enumerate(item):
            yield from stated_in(f"{place}[{index}]", one)
    elif isinstance(item, BaseModel):
        for name, field in type(item).model_fields.items():
            below = field.alias or name
            yield from stated_in(f"{place}.{below}" if place else below, getattr(item, name))


def full_name(name: str, known: set[str]) -> str:
    """Give the whole dotted name of a field; its table may be left out where only one has it."""
    if name in known:
        return name
    ends = [one for one in known if one.partition(".")[2] == name]
    return ends[0] if len(ends) == 1 else name


def _plain(item: Any) -> Any:
    """Forget how numbers were typed, now that nothing is refused any more: documents keep SI alone."""
    if isinstance(item, bool) or item is None or isinstance(item, str):
        return item
    if isinstance(item, tuple):
        return tuple(_plain(one) for one in item)
    if is_dataclass(item) and not isinstance(item, type):
        return type(item)(**{field.name: _plain(getattr(item, field.name)) for field in fields(item)})
    return float(item) if isinstance(item, float) else item
