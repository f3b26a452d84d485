"""A file of spread masses: what may stand in it, and how it becomes a ``DynamicTask``."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from hingeline.balance.spread import DynamicTask, MassPoint, Plate, TrialPlace, TrialWeight
from hingeline.units import STANDARD_GRAVITY, Typed
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Name, Quantity, Table
from hingeline_app.files.weighing_file import Acceleration, Length, Mass, SheetTable, Side

FORMAT = "hingeline/dynamic/1"
Items: Any = Field(default=[], max_length=MOST_ITEMS)
FromTo = Annotated[list[Length], Field(min_length=2, max_length=2)]


class PointTable(Table):
    """``[[point]]``."""

    name: Name | None = None
    mass: Mass
    arm: Length
    side: Side
    spanwise: Length


class PlateTable(Table):
    """``[[plate]]``: a rectangle, from and to, aft and outboard positive."""

    name: Name | None = None
    chordwise: FromTo
    spanwise: FromTo
    mass: Mass | None = None
    mass_per_area: Annotated[Typed, Quantity("mass_per_area")] | None = None


class TrialPlaceTable(Table):
    """``[[weight.place]]``."""

    name: Name
    spanwise: Length


class TrialWeightTable(Table):
    """``[weight]``: tried at several places along the span."""

    arm: Length
    side: Side
    mass: Mass | None = None
    place: Annotated[list[TrialPlaceTable], Items]


class DynamicFile(Table):
    """A file of spread masses as a whole."""

    format: Literal["hingeline/dynamic/1"]
    name: Name | None = None
    local_gravity: Acceleration | None = None
    point: Annotated[list[PointTable], Items]
    plate: Annotated[list[PlateTable], Items]
    weight: TrialWeightTable | None = None
    sheet: SheetTable = Field(default_factory=SheetTable)


def read_dynamic(data: bytes) -> DynamicTask:
    """Read a file of spread masses.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, DynamicFile)
    return DynamicTask(
        name=file.name or "",
        points=tuple(_point(table, number) for number, table in enumerate(file.point, 1)),
        plates=tuple(_plate(table, number) for number, table in enumerate(file.plate, 1)),
        weight=None if file.weight is None else _weight(file.weight),
        local_gravity=STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity,
    )


def _point(table: PointTable, number: int) -> MassPoint:
    return MassPoint(**{**dict(table), "name": table.name or f"point {number}"})


def _plate(table: PlateTable, number: int) -> Plate:
    (front, back), (inner, outer) = table.chordwise, table.spanwise
    return Plate(table.name or f"plate {number}", front, back, inner, outer, table.mass, table.mass_per_area)


def _weight(table: TrialWeightTable) -> TrialWeight:
    places = tuple(TrialPlace(place.name, place.spanwise) for place in table.place)
    return TrialWeight(table.arm, table.side, table.mass, places)
