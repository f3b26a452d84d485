"""What a weighing is, and what comes out of it.

Inside, a moment that makes the surface tail-heavy (trailing edge down) is
positive, and x is positive aft of the hinge line.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from hingeline.balance.limits import Limits as Limits
from hingeline.balance.limits import MassLimits as MassLimits
from hingeline.balance.limits import MomentBand as MomentBand
from hingeline.balance.limits import ReadingLimits as ReadingLimits
from hingeline.balance.limits import Rule as Rule
from hingeline.document import MeasuredLength, MeasuredMassMoment, MeasuredMoment, document_format
from hingeline.fields import (
    Acceleration,
    Force,
    Length,
    Mass,
    Moment,
    NewtonMetre,
    OwnUnit,
    Shown,
    Unit,
)
from hingeline.surface import Side, Surface
from hingeline.uncertainty import BudgetRow
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY

Statement = Literal["inside", "outside", "too close to tell"]
PartState = Literal["not fitted", "fitted, not counted"]
Reading = Annotated[float, Unit(field="reading_unit")]
OwnMoment = Annotated[float, Unit(field="unit", moment=True)]


@dataclass(frozen=True, slots=True)
class Support:
    """What holds the surface level and shows a force.

    Parameters
    ----------
    arm : float
        Horizontal, from the hinge line to the contact, positive [m].
    side : {"aft", "forward"}
    readings : tuple of float
        As shown, a mass or a force [``reading_unit``]; one for each lift and reset.
    rising, falling : tuple of float
        Instead of ``readings``: while the surface is slowly raised, and lowered.
    reading_unit : {"kg", "N"}
    pushes : {"up", "down"}
        down: a hook that pulls.
    tare : float
        What the scale shows without the surface [``reading_unit``].
    scale : str, optional
        Supports that name one scale share its calibration error.
    arm_uncertainty, tare_uncertainty : Stated, optional
        For this support alone; else the one of the weighing.
    """

    arm: Length
    side: Side = "aft"
    readings: tuple[Reading, ...] = ()
    rising: tuple[Reading, ...] = ()
    falling: tuple[Reading, ...] = ()
    reading_unit: Literal["kg", "N"] = "kg"
    pushes: Literal["up", "down"] = "up"
    tare: Reading = 0.0
    scale: str | None = None
    arm_uncertainty: Stated | None = None
    tare_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class HungMass:
    """A known mass hung on the surface to level it.

    Parameters
    ----------
    mass : float
        [kg]
    arm : float
        From the hinge line, positive [m].
    side : {"aft", "forward"}
    mass_uncertainty, arm_uncertainty : Stated, optional
    """

    mass: Mass
    arm: Length
    side: Side = "forward"
    mass_uncertainty: Stated | None = None
    arm_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class Part:
    """What the limits assume but was off, or was on but must not count.

    Parameters
    ----------
    name : str
    state : {"not fitted", "fitted, not counted"}
        Its moment is added, or taken away.
    mass : float
        [kg]
    arm : float
        From the hinge line, zero or positive [m].
    side : {"aft", "forward"}
    mass_uncertainty, arm_uncertainty : Stated, optional
    """

    name: str
    state: PartState
    mass: Mass
    arm: Length
    side: Side = "aft"
    mass_uncertainty: Stated | None = None
    arm_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class StatedUncertainty:
    """What is known of the means of measurement. The readings' own scatter is always used.

    Parameters
    ----------
    scale, friction, air : Stated, optional
        Once a support, independent from support to support [kg, N, or a fraction of the net reading].
    calibration : Stated, optional
        Shared by all supports on one scale [kg, N, or a fraction].
    arm : Stated, optional
        Of each support, hung mass and part, independent [m, or a fraction].
    level : Stated, optional
        Acts through mass and vertical offset [rad].
    gravity : Stated, optional
        [m/s^2, or a fraction]
    mass_uncertainty, tare_uncertainty : Stated, optional
        Of each hung mass and part; of each tare.
    repeatability : Stated, optional
        Of one reading; used only where a single reading was taken.
    coverage : float
        Coverage probability of the expanded uncertainty.
    k : float, optional
        Coverage factor, instead of ``coverage``.
    """

    scale: Stated | None = None
    calibration: Stated | None = None
    arm: Stated | None = None
    friction: Stated | None = None
    air: Stated | None = None
    level: Stated | None = None
    gravity: Stated | None = None
    mass_uncertainty: Stated | None = None
    tare_uncertainty: Stated | None = None
    repeatability: Stated | None = None
    coverage: float = 0.95
    k: float | None = None


@document_format("hingeline/weighing-record/1")
@dataclass(frozen=True, slots=True)
class Weighing:
    """One weighing of one surface about its hinge line, surface level.

    Parameters
    ----------
    surface : Surface
    supports : tuple of Support
    hung : tuple of HungMass
    parts : tuple of Part
    uncertainty : StatedUncertainty
    limits : Limits
    local_gravity : float
        [m/s^2]
    """

    surface: Surface
    supports: tuple[Support, ...] = ()
    hung: tuple[HungMass, ...] = ()
    parts: tuple[Part, ...] = ()
    uncertainty: StatedUncertainty = field(default_factory=StatedUncertainty)
    limits: Limits = field(default_factory=Limits)
    local_gravity: Acceleration = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Term:
    """One term of the sum that makes the static moment [N m, tail-heavy positive]."""

    name: str
    moment: Moment


@dataclass(frozen=True, slots=True)
class WeighedSupport:
    """A support as it was read, with the force that follows from it."""

    side: Side
    pushes: str
    arm: Length
    readings: tuple[Shown, ...]
    rising: tuple[Shown, ...]
    falling: tuple[Shown, ...]
    tare: Shown
    net: Shown
    force: Force
    scale: str | None = None


@dataclass(frozen=True, slots=True)
class FrictionMoment:
    """Half the difference between rising and falling, about the hinge line [``unit``].

    ``allowed`` and ``within`` are None where the approved data states no allowance.
    """

    value: float
    unit: str = "N m"
    allowed: NewtonMetre | None = None
    within: bool | None = None


@dataclass(frozen=True, slots=True)
class MomentLimits:
    """The band as approved, and drawn in by U at both ends [N m]."""

    lower: Moment | None = None
    upper: Moment | None = None
    guarded_lower: Moment | None = None
    guarded_upper: Moment | None = None


@dataclass(frozen=True, slots=True)
class Decision:
    """What is true of one quantity that has limits [``unit``]."""

    of: Literal["static moment", "mass", "reading"]
    unit: str
    value: OwnMoment
    expanded_uncertainty: OwnUnit | None
    lower: OwnMoment | None
    upper: OwnMoment | None
    margin: OwnUnit | None
    probability_within: float | None
    statement_simple: Statement
    statement_guarded: Statement | None


@dataclass(frozen=True, slots=True)
class ReadingWindow:
    """The gross readings that would be just at each limit, in the first reading's unit.

    ``rises_with_moment`` is False where the reading falls as the tail grows heavier: a support forward of
    the hinge line, or a hook that pulls aft of it. Then the lower limit stands at the larger reading.
    """

    at_lower: Shown | None
    at_upper: Shown | None
    at_guarded_lower: Shown | None
    at_guarded_upper: Shown | None
    rises_with_moment: bool = True


@dataclass(frozen=True, slots=True)
class Improvement:
    """How small one cause alone would have to become for the statement to be reached."""

    source: str
    unit: str
    standard_uncertainty: OwnUnit
    needed: OwnUnit | None


@dataclass(frozen=True, slots=True)
class Planning:
    """What would settle a weighing that is too close to tell."""

    needed_expanded_uncertainty: NewtonMetre
    more_readings: int | None
    improvements: tuple[Improvement, ...]
    advice: str


@dataclass(frozen=True, slots=True)
class Comparison:
    """The two computations of this weighing, side by side."""

    second_route: Literal["from the typed text", "from the floats given", "from typed text and floats"]
    largest_difference: NewtonMetre
    allowed: NewtonMetre


@document_format("hingeline/weighing-result/1")
@dataclass(frozen=True, slots=True)
class WeighingResult:
    """What is true after a weighing: see ``docs/nomenclature.md`` for each name."""

    surface: Surface
    supports: tuple[WeighedSupport, ...]
    hung: tuple[HungMass, ...]
    parts: tuple[Part, ...]
    local_gravity: Acceleration
    terms: tuple[Term, ...]
    static_moment: MeasuredMoment
    mass_moment: MeasuredMassMoment
    friction_moment: FrictionMoment | None
    centre_of_gravity: MeasuredLength | None
    budget: tuple[BudgetRow, ...]
    limits: MomentLimits
    limits_source: str
    rule: Rule
    margin: NewtonMetre | None
    probability_within: float | None
    statement: Statement | None
    statement_simple: Statement | None
    statement_guarded: Statement | None
    statements: tuple[Decision, ...]
    reading_window: ReadingWindow | None
    planning: Planning | None
    comparison: Comparison
    notes: tuple[str, ...]
    cautions: tuple[str, ...]


@document_format("hingeline/weighing-plan/1")
@dataclass(frozen=True, slots=True)
class WeighingPlan:
    """What the scale may show, worked out before the surface is touched."""

    surface: Surface
    limits: MomentLimits
    limits_source: str
    rule: Rule
    reading_window: ReadingWindow
    expected_expanded_uncertainty: NewtonMetre | None
    budget: tuple[BudgetRow, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
