"""A weighing file: what may stand in it, and how it becomes a :class:`~hingeline.balance.Weighing`."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from typing import Annotated, Any, Literal

from pydantic import Field

from hingeline.balance import (
    BalanceWeight,
    HungMass,
    Limits,
    MassLimits,
    MomentBand,
    Part,
    ReadingLimits,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
)
from hingeline.balance.checks import refuse_unusable
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY, Typed
from hingeline_app.files.job_models import read_tables
from hingeline_app.files.quantities import MOST_ITEMS, Name, Quantity, StatedIn, Table

FORMAT = "hingeline/weighing/1"

Side = Literal["aft", "forward"]
Length = Annotated[Typed, Quantity("length")]
Mass = Annotated[Typed, Quantity("mass")]
Moment = Annotated[Typed, Quantity("moment")]
Reading = Annotated[Typed, Quantity("mass", "force")]
Acceleration = Annotated[Typed, Quantity("acceleration")]
OfReading = Annotated[Stated, StatedIn("mass", "force", "ratio")]
OfArm = Annotated[Stated, StatedIn("length", "ratio")]
OfMass = Annotated[Stated, StatedIn("mass", "ratio")]
OfAngle = Annotated[Stated, StatedIn("angle")]
OfGravity = Annotated[Stated, StatedIn("acceleration", "ratio")]
Items: Any = Field(default=[], max_length=MOST_ITEMS)


class BalanceWeightTable(Table):
    """``[[surface.balance_weight]]``: fitted and weighed with the surface; for the picture."""

    mass: Mass
    arm: Length
    side: Side = "forward"


class SurfaceTable(Table):
    """``[surface]``."""

    name: Name
    mass: Mass | None = None
    mass_uncertainty: OfMass | None = None
    hinge_to_trailing_edge: Length | None = None
    vertical_offset: Length | None = None
    balance_weight: Annotated[list[BalanceWeightTable], Items]


class SupportTable(Table):
    """``[[support]]``."""

    arm: Length
    side: Side
    pushes: Literal["up", "down"] = "up"
    readings: Annotated[list[Reading], Items]
    rising: Annotated[list[Reading], Items]
    falling: Annotated[list[Reading], Items]
    tare: Reading | None = None
    scale: Name | None = None
    arm_uncertainty: OfArm | None = None
    tare_uncertainty: OfReading | None = None


class HungTable(Table):
    """``[[hung]]``."""

    mass: Mass
    arm: Length
    side: Side
    mass_uncertainty: OfMass | None = None
    arm_uncertainty: OfArm | None = None


class PartTable(Table):
    """``[[part]]``."""

    name: Name
    state: Literal["not fitted", "fitted, not counted"]
    mass: Mass
    arm: Length
    side: Side
    mass_uncertainty: OfMass | None = None
    arm_uncertainty: OfArm | None = None


class UncertaintyTable(Table):
    """``[uncertainty]``."""

    scale: OfReading | None = None
    calibration: OfReading | None = None
    arm: OfArm | None = None
    friction: OfReading | None = None
    air: OfReading | None = None
    level: OfAngle | None = None
    gravity: OfGravity | None = None
    mass_uncertainty: OfMass | None = None
    tare_uncertainty: OfReading | None = None
    repeatability: OfReading | None = None
    coverage: float | None = None
    k: float | None = None


class BandTable(Table):
    """``[[limits.band]]``: moment limits for surfaces of a certain mass."""

    mass: Annotated[list[Mass], Field(min_length=2, max_length=2)]
    lower: Moment | None = None
    upper: Moment | None = None


class MassLimitsTable(Table):
    """``[limits.mass]``."""

    lower: Mass | None = None
    upper: Mass | None = None


class ReadingLimitsTable(Table):
    """``[limits.reading]``: at the document's own point, tail-heavy positive."""

    lower: Reading | None = None
    upper: Reading | None = None


class LimitsTable(Table):
    """``[limits]``."""

    lower: Moment | None = None
    upper: Moment | None = None
    rule: Literal["simple", "guarded"] = "simple"
    friction_fraction: float | None = None
    source: Name | None = None
    band: Annotated[list[BandTable], Items]
    mass: MassLimitsTable | None = None
    reading: ReadingLimitsTable | None = None


class SheetTable(Table):
    """``[sheet]``: what the worksheet's title block shows."""

    workshop: Name | None = None
    aircraft: Name | None = None
    part: Name | None = None
    serial: Name | None = None
    job: Name | None = None
    weighing: Name | None = None
    date: Name | None = None
    scale_calibrated: Name | None = None
    document: Name | None = None


class WeighingFile(Table):
    """A weighing file as a whole."""

    format: Literal["hingeline/weighing/1"]
    local_gravity: Acceleration | None = None
    surface: SurfaceTable
    support: Annotated[list[SupportTable], Items]
    hung: Annotated[list[HungTable], Items]
    part: Annotated[list[PartTable], Items]
    uncertainty: UncertaintyTable = Field(default_factory=UncertaintyTable)
    limits: LimitsTable = Field(default_factory=lambda: LimitsTable(band=[]))
    sheet: SheetTable = Field(default_factory=SheetTable)


@dataclass(frozen=True, slots=True)
class WeighingJob:
    """What a weighing file holds: the weighing, and the words for its worksheet."""

    weighing: Weighing
    sheet: Mapping[str, str]


def read_weighing(data: bytes) -> WeighingJob:
    """Read a weighing file.

    Raises
    ------
    InputRefused
        With every fault of the file.
    """
    file = read_tables(data, WeighingFile)
    weighing = _weighing(file)
    _refuse_mixed_units(file, weighing)
    sheet = {name: text for name, text in file.sheet.model_dump().items() if text}
    return WeighingJob(weighing, sheet)


def _refuse_mixed_units(file: WeighingFile, weighing: Weighing) -> None:
    """Refuse what the weighing no longer shows: that units were mixed; with its other faults, in one go."""
    refusals = [
        refusal for index, support in enumerate(file.support) for refusal in _mixed_in(f"support[{index}]", support)
    ]
    limits = file.limits.reading
    if limits is not None:
        refusals += _mixed("limits.reading", [limits.lower, limits.upper], "one kind")
    if file.uncertainty.coverage is not None and file.uncertainty.k is not None:
        refusals.append(Refusal("uncertainty.k", f"{file.uncertainty.k:g}", "either coverage or k", "Leave one out."))
    if refusals:
        raise InputRefused([*refusals, *_other_faults(weighing, {refusal.field for refusal in refusals})])


def _other_faults(weighing: Weighing, known: set[str]) -> list[Refusal]:
    try:
        refuse_unusable(weighing, before=True)
    except InputRefused as refused_too:
        return [refusal for refusal in refused_too.refusals if refusal.field not in known]
    return []


def _mixed_in(place: str, support: SupportTable) -> Iterator[Refusal]:
    readings = [*support.readings, *support.rising, *support.falling]
    units = dict.fromkeys(reading.unit for reading in readings)
    if len(units) > 1:
        yield Refusal(f"{place}.readings", ", ".join(units), "one unit for all readings of a support",
                      "Write them all in the unit that the scale shows.")  # fmt: skip
    yield from _mixed(place + ".tare", [*readings[:1], support.tare], "a tare of the readings' kind")


def _mixed(place: str, numbers: Sequence[Typed | None], expected: str) -> Iterator[Refusal]:
    kinds = dict.fromkeys(number.dimension for number in numbers if number is not None)
    if len(kinds) > 1:
        yield Refusal(place, " beside ".join(kinds), expected, "Give both as masses or both as forces.")


def _weighing(file: WeighingFile) -> Weighing:
    return Weighing(
        surface=_surface(file.surface),
        supports=tuple(_support(table) for table in file.support),
        hung=tuple(HungMass(**dict(table)) for table in file.hung),
        parts=tuple(Part(**dict(table)) for table in file.part),
        uncertainty=_uncertainty(file.uncertainty),
        limits=_limits(file.limits),
        local_gravity=STANDARD_GRAVITY if file.local_gravity is None else file.local_gravity,
    )


def _surface(table: SurfaceTable) -> Surface:
    given = dict(table)
    weights = tuple(BalanceWeight(**dict(weight)) for weight in given.pop("balance_weight"))
    return Surface(**given, balance_weights=weights)


def _support(table: SupportTable) -> Support:
    given = dict(table)
    for name in ("readings", "rising", "falling"):
        given[name] = tuple(given[name])
    first = next(iter([*table.readings, *table.rising, *table.falling, table.tare]), None)
    given["reading_unit"] = "N" if first is not None and first.dimension == "force" else "kg"
    given["tare"] = 0.0 if table.tare is None else table.tare
    return Support(**given)


def _uncertainty(table: UncertaintyTable) -> StatedUncertainty:
    given = dict(table)
    given["coverage"] = 0.95 if table.coverage is None else table.coverage
    return StatedUncertainty(**given)


def _limits(table: LimitsTable) -> Limits:
    return Limits(
        lower=table.lower,
        upper=table.upper,
        rule=table.rule,
        friction_fraction=table.friction_fraction,
        source=table.source or "",
        bands=tuple(MomentBand(band.mass[0], band.mass[1], band.lower, band.upper) for band in table.band),
        mass=None if table.mass is None else MassLimits(table.mass.lower, table.mass.upper),
        reading=_reading_limits(table.reading),
    )


def _reading_limits(table: ReadingLimitsTable | None) -> ReadingLimits | None:
    if table is None:
        return None
    first = table.lower if table.lower is not None else table.upper
    return ReadingLimits(table.lower, table.upper, "N" if first is not None and first.dimension == "force" else "kg")
