"""A ballast file: what may stand in it, and how it becomes a :class:`~hingeline.balance.ballast.BallastTask`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field, PlainValidator, WithJsonSchema
from pydantic_core import core_schema

from hingeline.balance import BalanceWeight, Limits, Surface
from hingeline.balance.ballast import BallastTask, Place
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import Measured
from hingeline.units import STANDARD_GRAVITY, Typed, read
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Given, MeasuredIn, Name, Quantity, Table
from hingeline_app.files.weighing_file import (
    Acceleration,
    Length,
    LimitsTable,
    Mass,
    OfArm,
    OfMass,
    SheetTable,
    Side,
    SurfaceTable,
)

FORMAT = "hingeline/ballast/1"
AIMS = ("nearest", "middle")

Items: Any = Field(default=[], max_length=MOST_ITEMS)
Inertia = Annotated[Typed, Quantity("inertia")]


def _target(text: Any, info: core_schema.ValidationInfo[Any]) -> str | Typed:
    if text in AIMS:
        return str(text)
    if isinstance(text, str) and not any(character.isdigit() for character in text):
        remedy = 'Write "nearest", "middle", or a moment such as "1.85 N m".'
        raise InputRefused.of("", text[:60], "nearest, middle, or a moment", remedy)
    return read(text, "moment", local_gravity=(info.context or {}).get("local_gravity", STANDARD_GRAVITY))


_TARGET_SCHEMA = {"type": "string", "maxLength": 200, "description": "nearest, middle, or a moment with its unit"}
Target = Annotated[Any, PlainValidator(_target), WithJsonSchema(_TARGET_SCHEMA)]


class PlaceTable(Table):
    """``[[place]]``."""

    name: Name
    arm: Length
    side: Side
    spanwise: Length | None = None
    largest_mass: Mass | None = None
    smallest_mass: Mass | None = None
    smallest_step: Mass | None = None
    fixed_mass: Mass | None = None
    pieces: Annotated[list[Mass], Items]
    present_mass: Mass | None = None
    arm_uncertainty: OfArm | None = None
    mass_uncertainty: OfMass | None = None


class ChangeUncertaintyTable(Table):
    """``[uncertainty]``: of what is changed, at every place that states none of its own."""

    arm: OfArm | None = None
    mass: OfMass | None = None
    coverage: float = 0.95


class BallastFile(Table):
    """A ballast file as a whole."""

    format: Literal["hingeline/ballast/1"]
    local_gravity: Acceleration | None = None
    moment: Annotated[Given, MeasuredIn("moment")]
    inertia: Inertia | None = None
    product_of_inertia: Inertia | None = None
    target: Target = "nearest"
    surface: SurfaceTable | None = None
    limits: LimitsTable = Field(default_factory=lambda: LimitsTable(band=[]))
    place: Annotated[list[PlaceTable], Items]
    uncertainty: ChangeUncertaintyTable = Field(default_factory=ChangeUncertaintyTable)
    sheet: SheetTable = Field(default_factory=SheetTable)


@dataclass(frozen=True, slots=True)
class BallastJob:
    """What a ballast file holds: the task, and the words for its worksheet."""

    task: BallastTask
    sheet: Mapping[str, str]


def read_ballast(data: bytes) -> BallastJob:
    """Read a ballast file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, BallastFile)
    refusals = list(_not_for_a_plan(file.limits))
    if refusals:
        raise InputRefused(refusals)
    sheet = {name: text for name, text in file.sheet.model_dump().items() if text}
    return BallastJob(_task(file), sheet)


def _not_for_a_plan(limits: LimitsTable) -> Iterator[Refusal]:
    for name in ("band", "mass", "reading"):
        if getattr(limits, name):
            remedy = "Give the moment limits that hold for this surface; the new weighing checks the rest."
            yield Refusal(f"limits.{name}", "given", "lower and upper limits of the moment alone", remedy)


def _task(file: BallastFile) -> BallastTask:
    aimed = file.target if isinstance(file.target, Typed) else None
    return BallastTask(
        moment=_measured(file.moment),
        limits=Limits(file.limits.lower, file.limits.upper, file.limits.rule, source=file.limits.source or ""),
        places=tuple(_place(table, file.uncertainty) for table in file.place),
        target="moment" if aimed is not None else file.target,
        target_moment=aimed,
        inertia=file.inertia,
        product_of_inertia=file.product_of_inertia,
        surface=None if file.surface is None else _surface(file.surface),
        coverage=file.uncertainty.coverage,
        local_gravity=STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity,
    )


def _measured(given: Given) -> Measured:
    try:
        return given.measured
    except InputRefused as refused:
        raise refused.at("moment.") from None


def _place(table: PlaceTable, uncertainty: ChangeUncertaintyTable) -> Place:
    given = dict(table)
    given["pieces"] = tuple(table.pieces)
    given["arm_uncertainty"] = table.arm_uncertainty or uncertainty.arm
    given["mass_uncertainty"] = table.mass_uncertainty or uncertainty.mass
    for name in ("fixed_mass", "present_mass"):
        given[name] = 0.0 if given[name] is None else given[name]
    return Place(**given)


def _surface(table: SurfaceTable) -> Surface:
    given = dict(table)
    weights = tuple(BalanceWeight(**dict(weight)) for weight in given.pop("balance_weight"))
    return Surface(**given, balance_weights=weights)
