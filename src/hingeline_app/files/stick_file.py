"""A stick file: what may stand in it, and how it becomes a :class:`~hingeline.flutter.stick_model.StickTask`."""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field

from hingeline.flutter.static_effects import Manoeuvre, SurfaceMass
from hingeline.flutter.stick_model import HoldingAir, StatedManoeuvre, StickTask, WeightAhead
from hingeline.units import Typed
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Name, Quantity, Table

FORMAT = "hingeline/stick/1"
Length = Annotated[Typed, Quantity("length")]
Mass = Annotated[Typed, Quantity("mass")]
MassMoment = Annotated[Typed, Quantity("mass_moment")]
Angle = Annotated[Typed, Quantity("angle")]


class StickSurfaceTable(Table):
    """``[surface]``: with its balance weight fitted."""

    static_moment: MassMoment
    height_moment: MassMoment | None = None
    inertia: Annotated[Typed, Quantity("inertia")]


class LostWeightTable(Table):
    """``[weight]``: the balance weight that may be lost."""

    mass: Mass
    arm: Length
    above: Length | None = None


class StickTable(Table):
    """``[stick]``: one whole movement, at the grip and at the surface."""

    stick_travel: Length
    surface_travel: Angle


class ManoeuvreTable(Table):
    """``[[manoeuvre]]``."""

    name: Name
    load_factor: float = 1.0
    forward_specific_force: float = 0.0
    pitch_acceleration: Annotated[Typed, Quantity("angular_acceleration")] | None = None
    deflection: Angle | None = None


class HoldingAirTable(Table):
    """``[air]``."""

    density: Annotated[Typed, Quantity("density")]
    speeds: Annotated[list[Annotated[Typed, Quantity("speed")]], Field(max_length=MOST_ITEMS)]
    area: Annotated[Typed, Quantity("area")]
    chord: Length
    by_tab: float
    by_deflection: float


class StickFile(Table):
    """A stick file as a whole."""

    format: Literal["hingeline/stick/1"]
    name: Name | None = None
    hinge_aft_of_cg: Length
    surface: StickSurfaceTable
    stick: StickTable
    weight: LostWeightTable | None = None
    manoeuvre: Annotated[list[ManoeuvreTable], Field(max_length=MOST_ITEMS)]
    air: HoldingAirTable | None = None


def read_stick(data: bytes) -> StickTask:
    """Read a stick file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, StickFile)
    surface = file.surface
    return StickTask(
        surface=SurfaceMass(float(surface.static_moment), _or_zero(surface.height_moment), float(surface.inertia)),
        stick_travel=float(file.stick.stick_travel),
        surface_travel=float(file.stick.surface_travel),
        manoeuvres=tuple(map(_manoeuvre, file.manoeuvre)),
        hinge_aft_of_cg=float(file.hinge_aft_of_cg),
        weight=None if file.weight is None else _weight(file.weight),
        air=None if file.air is None else _air(file.air),
        name=file.name or "",
    )


def _or_zero(value: Typed | None) -> float:
    return 0.0 if value is None else float(value)


def _manoeuvre(table: ManoeuvreTable) -> StatedManoeuvre:
    acceleration, deflection = _or_zero(table.pitch_acceleration), _or_zero(table.deflection)
    given = Manoeuvre(table.load_factor, table.forward_specific_force, acceleration, deflection)
    return StatedManoeuvre(table.name, given)


def _weight(table: LostWeightTable) -> WeightAhead:
    return WeightAhead(float(table.mass), float(table.arm), _or_zero(table.above))


def _air(table: HoldingAirTable) -> HoldingAir:
    speeds = tuple(map(float, table.speeds))
    area, chord = float(table.area), float(table.chord)
    return HoldingAir(float(table.density), speeds, area, chord, table.by_tab, table.by_deflection)
