"""What may stand in an arm file, table by table."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from pydantic import Field

from hingeline.units import Typed
from hingeline_app.files.quantities import MOST_ITEMS, Given, MeasuredIn, Name, Quantity, Table
from hingeline_app.files.weighing_file import Acceleration, Length, SheetTable

FORMAT = "hingeline/arm/1"

Items: Any = Field(default=[], max_length=MOST_ITEMS)
Stress = Annotated[Typed, Quantity("pressure")]
Angle = Annotated[Typed, Quantity("angle")]
Frequency = Annotated[Typed, Quantity("frequency")]
MeasuredStress = Annotated[Given, MeasuredIn("pressure")]
MeasuredLength = Annotated[Given, MeasuredIn("length")]


class MaterialTable(Table):
    """What ``[tube]`` and ``[bar]`` share: material, length and root."""

    length: MeasuredLength
    modulus: Stress
    density: Annotated[Typed, Quantity("density")]
    yield_strength: Stress = Field(alias="yield")
    ultimate_strength: Stress = Field(alias="ultimate")
    flow_stress: Stress | None = None
    root_stiffness: Annotated[Typed, Quantity("rotational_stiffness")] | None = None
    hinge_to_root: Length | None = None


class TubeTable(MaterialTable):
    """``[tube]``."""

    outside_diameter: MeasuredLength
    wall: MeasuredLength
    hole: Length | None = None


class BarTable(MaterialTable):
    """``[bar]``: width along the hinge line, height normal to the surface."""

    width: MeasuredLength
    height: MeasuredLength


class WallReadingTable(Table):
    """``[[loss.reading]]``: what a wall gauge showed at one place, with its ±."""

    position: Name
    wall: MeasuredLength


class LossTable(Table):
    """``[loss]``: metal that is gone: its depth, or readings of a wall gauge, of which the lowest counts."""

    where: Literal["outside", "inside", "local"]
    depth: MeasuredLength | None = None
    half_angle: Angle | None = None
    reading: Annotated[list[WallReadingTable], Items]


class LimitTable(Table):
    """``[limit]``: the smallest wall by the approved data."""

    wall: Length
    source: Name | None = None


class WeightTable(Table):
    """``[weight]``."""

    mass: Annotated[Given, MeasuredIn("mass")]
    beyond_tip: Length | None = None
    inertia: Annotated[Typed, Quantity("inertia")] | None = None
    off_axis: Length | None = None


class LoadsTable(Table):
    """``[loads]``: in g."""

    normal: float = 24.0
    fore_and_aft: float = 12.0
    along_hinge: float = 12.0
    are: Literal["limit", "ultimate"] = "limit"


class OscillationTable(Table):
    """``[oscillation]``."""

    frequency: Frequency
    damping_ratio: float = 0.0
    amplitude: Angle | None = None


class CrackTable(Table):
    """``[crack]``."""

    geometry: Literal["constant", "surface", "tube through"]
    geometry_factor: float | None = None
    initial: MeasuredLength | None = None
    depth: Length | None = None
    half_length: Length | None = None
    half_angle: Annotated[Given, MeasuredIn("angle")] | None = None
    final: Length | None = None
    stress_range: MeasuredStress
    largest_stress: MeasuredStress | None = None
    toughness: Annotated[Given, MeasuredIn("toughness")]
    growth_constant: float
    growth_exponent: float
    growth_units: Literal["m, MPa m^0.5", "in, ksi in^0.5", "mm, N mm^-1.5"] = "m, MPa m^0.5"
    growth_log_deviation: float = 0.35
    cycles_per_hour: float
    factor: float = 3.0
    approved_interval: Annotated[Typed, Quantity("time")] | None = None


class DetectionTable(Table):
    """``[detection]``."""

    method: Name | None = None
    half_found: Length | None = None
    spread: float | None = None


class CyclicLoadTable(Table):
    """``[[stress_life.load]]``."""

    amplitude: Stress
    mean: Stress | None = None
    cycles_per_hour: float


class StressLifeTable(Table):
    """``[stress_life]``."""

    strength: Stress
    exponent: float
    load: Annotated[list[CyclicLoadTable], Items]


class BoltsTable(Table):
    """``[bolts]``: two, as a couple."""

    spacing: Length
    diameter: Length
    shear_strength: Stress
    bearing_strength: Stress
    shear_planes: int = 2
    fitting_factor: float = 1.15


class ArmUncertaintyTable(Table):
    """``[uncertainty]``."""

    coverage: float | None = None
    k: float | None = None


class ArmFile(Table):
    """An arm file as a whole."""

    format: Literal["hingeline/arm/1"]
    name: Name | None = None
    local_gravity: Acceleration | None = None
    surface_frequencies: Annotated[list[Frequency], Items]
    tube: TubeTable | None = None
    bar: BarTable | None = None
    loss: LossTable | None = None
    limit: LimitTable | None = None
    weight: WeightTable
    loads: LoadsTable = Field(default_factory=LoadsTable)
    oscillation: OscillationTable | None = None
    crack: CrackTable | None = None
    detection: DetectionTable | None = None
    stress_life: StressLifeTable | None = None
    bolts: BoltsTable | None = None
    uncertainty: ArmUncertaintyTable = Field(default_factory=ArmUncertaintyTable)
    sheet: SheetTable = Field(default_factory=SheetTable)
