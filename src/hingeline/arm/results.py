"""What an arm's model says: every number an estimate, none a permission."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated, Literal

from hingeline.arm.quantities import Angle, Frequency, Stress, Time
from hingeline.document import MeasuredLength, document_format
from hingeline.fields import Acceleration, Force, Length, Mass, Unit
from hingeline.uncertainty import BudgetRow, Measured

Direction = Literal["normal", "fore and aft", "along hinge"]
GovernedBy = Literal["fracture", "plastic collapse", "end of the model's range"]
SizeIs = Literal["size", "depth", "half length round the tube"]

MeasuredStress = Annotated[Measured, Unit("Pa")]
MeasuredArea = Annotated[Measured, Unit("m^2")]
MeasuredSecondMoment = Annotated[Measured, Unit("m^4")]
MeasuredModulus = Annotated[Measured, Unit("m^3")]
MeasuredMoment = Annotated[Measured, Unit("N m")]


@dataclass(frozen=True, slots=True)
class SectionResult:
    """What is left of the section at the root, and what of it is gone."""

    area: MeasuredArea
    second_moment: MeasuredSecondMoment
    section_modulus: MeasuredModulus
    ratio_to_sound: float
    wall_left: MeasuredLength | None
    part_of_wall_lost: float | None
    depth_word: str | None


@dataclass(frozen=True, slots=True)
class WallResult:
    """The wall that is left against the smallest that the approved data allows."""

    smallest: Length
    source: str
    margin: Length
    probability_within: float | None
    statement_simple: Literal["inside", "outside"]


@dataclass(frozen=True, slots=True)
class WallReadingResult:
    """A reading of the wall gauge: the wall with the gauge's U, the nominal one, what is gone; the lowest counts."""

    position: str
    wall: MeasuredLength
    nominal: Length
    lost: MeasuredLength
    part_lost: float
    counts: bool


@dataclass(frozen=True, slots=True)
class LoadCase:
    """One design load: moment at the root, largest stress, margins with their U; the stress of the sound arm."""

    direction: Direction
    factor: float
    moment: MeasuredMoment
    stress: MeasuredStress
    margin_yield: float | None
    margin_ultimate: float | None
    margin_yield_uncertainty: float | None
    margin_ultimate_uncertainty: float | None
    sound_stress: Stress


@dataclass(frozen=True, slots=True)
class NaturalFrequency:
    """First natural frequency of the arm with its weight: the exact root, and Rayleigh's beside it."""

    value: float
    unit: str
    standard_uncertainty: float | None
    expanded_uncertainty: float | None
    coverage_factor: float | None
    degrees_of_freedom: float | None
    rayleigh: Frequency
    ratio_to_sound: float


@dataclass(frozen=True, slots=True)
class Effectiveness:
    """Apparent over real mass of the weight at an oscillation; a negative phase lags behind the surface."""

    frequency: Frequency
    frequency_ratio: float
    magnitude: float
    phase: Angle


@dataclass(frozen=True, slots=True)
class OscillationStress:
    """What an oscillation of a given size does to the root, the arm's own bending included."""

    amplitude: Angle
    acceleration: Acceleration
    stress: Stress
    margin_yield: float | None
    amplitude_for_limit: Angle


@dataclass(frozen=True, slots=True)
class FrequencyGuide:
    """The arm's frequency beside those of the fixed surface: a guide from memory, never a verdict."""

    highest_surface_frequency: Frequency
    guide_frequency: Frequency
    ratio: float
    provenance: str


@dataclass(frozen=True, slots=True)
class BoltResult:
    """The worse of two bolts under the normal load: ultimate, and times the fitting factor, each number of it."""

    load: Force
    shear_stress: Stress
    margin_shear: float
    bearing_stress: Stress
    margin_bearing: float


@dataclass(frozen=True, slots=True)
class LoadLife:
    """Cycles that one load would take a sound piece, and what it uses up in an hour."""

    amplitude_without_mean: Stress
    cycles: float
    used_per_hour: float


@dataclass(frozen=True, slots=True)
class StressLifeResult:
    """Stress life of a sound piece: it ranks loads, and promises nothing of a piece that corroded."""

    loads: tuple[LoadLife, ...]
    used_per_hour: float


@dataclass(frozen=True, slots=True)
class CoursePoint:
    """A crack's size after so many cycles."""

    size: Length
    cycles: float


@dataclass(frozen=True, slots=True)
class DetectionResult:
    """How the approved interval meets the crack's growth.

    The chance to find it lies between that of the best single visit and that of independent visits.
    """

    method: str | None
    planning_size: Length | None
    planning_source: str | None
    planning_provenance: str | None
    cycles_from_planning_size: float | None
    size_found_nine_in_ten: Length | None
    visits: tuple[CoursePoint, ...]
    chance_at_best_visit: float | None
    chance_if_independent: float | None


@dataclass(frozen=True, slots=True)
class LifeQuantile:
    """A part of all draws has fewer cycles than this."""

    probability: float
    cycles: float


@dataclass(frozen=True, slots=True)
class LifeDistribution:
    """How the cycles scatter with what is uncertain: drawn, with a seed."""

    samples: int
    seed: int
    varied: tuple[str, ...]
    quantiles: tuple[LifeQuantile, ...]
    already_critical: float
    part_shorter_than_approved: float | None


@dataclass(frozen=True, slots=True)
class CrackResult:
    """The growth of an assumed crack, beside the approved interval.

    ``interval_shown`` is never longer than the approved one; without an approved interval there is none.
    """

    critical_size: Length
    governed_by: GovernedBy
    size_is: SizeIs
    fracture_size: Length | None
    collapse_size: Length
    initial_size: Length
    final_size: Length
    largest_stress: Stress
    limit_stress: Stress
    cycles: float
    cycles_second_way: float
    second_way: str
    approved_interval: Time | None
    interval_shown: Time | None
    shorter_than_approved: bool | None
    course: tuple[CoursePoint, ...]
    detection: DetectionResult | None
    distribution: LifeDistribution | None


@document_format("hingeline/arm-result/1")
@dataclass(frozen=True, slots=True)
class ArmResult:
    """What a model of an arm says. It explains and ranks; the approved data decides."""

    name: str
    basis: Literal["estimate"]
    section: SectionResult
    wall: WallResult | None
    arm_mass: Mass
    loads: tuple[LoadCase, ...]
    loads_are: Literal["limit", "ultimate"]
    natural_frequency: NaturalFrequency
    effectiveness: Effectiveness | None
    oscillation: OscillationStress | None
    frequency_guide: FrequencyGuide | None
    bolts: BoltResult | None
    stress_life: StressLifeResult | None
    crack: CrackResult | None
    budget: tuple[BudgetRow, ...]
    local_gravity: Acceleration
    notes: tuple[str, ...]
    assumptions: tuple[str, ...]
    cautions: tuple[str, ...]
    readings: tuple[WallReadingResult, ...] = ()
