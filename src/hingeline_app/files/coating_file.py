"""A coating file: what may stand in it, and how it becomes a :class:`~hingeline.balance.coating.CoatingTask`."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from hingeline.balance import Limits, MassLimits, MomentBand
from hingeline.balance.coating import CoatedSurface, CoatingTask, Layer
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import Measured
from hingeline.units import STANDARD_GRAVITY
from hingeline_app.files.job_models import apart, read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Given, MeasuredIn, Name, Part, Table
from hingeline_app.files.weighing_file import Acceleration, BandTable, MassLimitsTable, Moment, SheetTable, Side

FORMAT = "hingeline/coating/1"
Items: Any = Field(default=[], max_length=MOST_ITEMS)


class LayerTable(Table):
    """``[[layer]]``."""

    name: Name
    area: Annotated[Given, MeasuredIn("area")] | None = None
    arm: Annotated[Given, MeasuredIn("length")]
    side: Side
    count: float = 1.0
    mass_per_area: Annotated[Given, MeasuredIn("mass_per_area")] | None = None
    film: Annotated[Given, MeasuredIn("length")] | None = None
    density: Annotated[Given, MeasuredIn("density")] | None = None
    wet_volume: Annotated[Given, MeasuredIn("volume")] | None = None
    volume_solids: Annotated[Given, Part()] | None = None
    solids_density: Annotated[Given, MeasuredIn("density")] | None = None
    transfer: Annotated[Given, Part()] | None = None


class CoatingLimitsTable(Table):
    """``[limits]``."""

    lower: Moment | None = None
    upper: Moment | None = None
    rule: Literal["simple", "guarded"] = "simple"
    source: Name | None = None
    band: Annotated[list[BandTable], Items]
    mass: MassLimitsTable | None = None


class CoatedSurfaceTable(Table):
    """``[[surface]]``: one of several surfaces, or halves of one, that differ."""

    name: Name
    moment: Annotated[Given, MeasuredIn("moment")] | None = None
    mass: Annotated[Given, MeasuredIn("mass")] | None = None
    limits: CoatingLimitsTable | None = None
    layer: Annotated[list[LayerTable], Items]


class CoatingFile(Table):
    """A coating file as a whole: one surface at the top, or several as tables."""

    format: Literal["hingeline/coating/1"]
    local_gravity: Acceleration | None = None
    coverage: float = 0.95
    name: Name | None = None
    moment: Annotated[Given, MeasuredIn("moment")] | None = None
    mass: Annotated[Given, MeasuredIn("mass")] | None = None
    limits: CoatingLimitsTable | None = None
    layer: Annotated[list[LayerTable], Items]
    surface: Annotated[list[CoatedSurfaceTable], Items]
    sheet: SheetTable = Field(default_factory=SheetTable)


def read_coating(data: bytes, *, kept: bool = False) -> CoatingTask:
    """Read a coating file.

    Parameters
    ----------
    data : bytes
    kept : bool
        It was kept with a result: what is refused today because it could be meant in two ways is read as it was then.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, CoatingFile, kept=kept)
    _refuse_both_forms(file)
    return CoatingTask(
        surfaces=tuple(_surface(place, table) for place, table in _placed(file)),
        coverage=file.coverage,
        local_gravity=STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity,
    )


def read_as_then(data: bytes) -> tuple[Refusal, ...]:
    """Give what a kept coating file says in a way that is refused today, and was read as a part of the value then.

    Raises
    ------
    InputRefused
        With every fault of the file that was one then too.
    """
    try:
        read_coating(data)
    except InputRefused as refused:
        read_coating(data, kept=True)
        return refused.refusals
    return ()


def _refuse_both_forms(file: CoatingFile) -> None:
    if not file.surface:
        return
    beside = [name for name in ("name", "moment", "mass", "limits", "layer") if getattr(file, name)]
    if beside:
        expected = "one surface at the top of the file, or [[surface]] tables"
        remedy = "Put it under the [[surface]] that it belongs to: [[surface.layer]] and so on."
        raise InputRefused(Refusal(name, "beside [[surface]]", expected, remedy) for name in beside)


def _placed(file: CoatingFile) -> list[tuple[str, CoatedSurfaceTable | CoatingFile]]:
    """Give each table of a surface with the place where it stands."""
    if not file.surface:
        return [("", file)]
    return [(f"surface[{index}].", table) for index, table in enumerate(file.surface)]


def _surface(place: str, table: CoatedSurfaceTable | CoatingFile) -> CoatedSurface:
    return CoatedSurface(
        layers=tuple(Layer(**apart(dict(layer))) for layer in table.layer),
        name=table.name or "",
        moment=_measured(f"{place}moment.", table.moment),
        mass=_measured(f"{place}mass.", table.mass),
        limits=Limits() if table.limits is None else _limits(table.limits),
    )


def _measured(place: str, given: Given | None) -> Measured | None:
    """Give the measured value; what cannot be one, such as a negative U, is refused at its place."""
    try:
        return None if given is None else given.measured
    except InputRefused as fault:
        raise fault.at(place) from None


def _limits(table: CoatingLimitsTable) -> Limits:
    return Limits(
        lower=table.lower,
        upper=table.upper,
        rule=table.rule,
        source=table.source or "",
        bands=tuple(MomentBand(band.mass[0], band.mass[1], band.lower, band.upper) for band in table.band),
        mass=None if table.mass is None else MassLimits(table.mass.lower, table.mass.upper),
    )
