"""What a correction is asked to do, and what comes out of it.

Inside, a moment that makes the surface tail-heavy (trailing edge down) is
positive, x is positive aft of the hinge line, and a mass taken off is negative.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from hingeline.balance.model import Limits, MomentLimits, Rule, Statement
from hingeline.document import MeasuredMoment, document_format
from hingeline.fields import Acceleration, Force, Length, Mass, Moment, NewtonMetre, OwnUnit, Unit
from hingeline.surface import Side, Surface, aft
from hingeline.uncertainty import BudgetRow
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY

Target = Literal["nearest", "middle", "moment"]
Inertia = Annotated[float, Unit("kg m^2")]


@dataclass(frozen=True, slots=True)
class Place:
    """A place where the approved data allows mass to be added or taken off.

    Parameters
    ----------
    name : str
    arm : float
        Of the weight's centre from the hinge line, positive [m].
    side : {"forward", "aft"}
    spanwise : float, optional
        Of the weight's centre from the flapping or roll axis, outboard positive [m].
    largest_mass : float, optional
        Allowed there in all: what is present, what is added, bracket and screws [kg].
    smallest_mass : float, optional
        The weight's own lower limit: what is there in all must not be less, if anything is [kg]. A plan never
        takes a weight that is present below it, nor off: whether it may be left out, the approved data says.
    smallest_step : float, optional
        Mass is added and taken off in whole steps of this [kg]; without it, in any amount.
    fixed_mass : float
        Bracket and screws, which come along when mass is added at a place that carried none [kg].
    pieces : tuple of float
        The stock of weights that fit there, each to be used once [kg].
    present_mass : float
        Carried there now, and can be taken off [kg].
    arm_uncertainty : Stated, optional
        Of the arm, in m or a fraction of it.
    mass_uncertainty : Stated, optional
        Of the mass that is added or taken off, in kg or a fraction of it.
    """

    name: str
    arm: Length
    side: Side = "forward"
    spanwise: Length | None = None
    largest_mass: Mass | None = None
    smallest_mass: Mass | None = None
    smallest_step: Mass | None = None
    fixed_mass: Mass = 0.0
    pieces: tuple[Mass, ...] = ()
    present_mass: Mass = 0.0
    arm_uncertainty: Stated | None = None
    mass_uncertainty: Stated | None = None

    @property
    def x(self) -> float:
        """Where the weight's centre stands, aft positive [m]."""
        return aft(self.side) * self.arm

    @property
    def bracket_to_fit(self) -> float:
        """Bracket and screws that adding here would bring along: none where a weight is carried already [kg]."""
        return 0.0 if self.present_mass > 0.0 else self.fixed_mass


@document_format("hingeline/ballast-record/1")
@dataclass(frozen=True, slots=True)
class BallastTask:
    """A surface whose balance is to be corrected, and what the approved data allows.

    Parameters
    ----------
    moment : Measured
        Static moment as weighed, tail-heavy positive [N m].
    limits : Limits
        Lower and upper moment, rule and source are used.
    places : tuple of Place
    target : {"nearest", "middle", "moment"}
        The nearest end of the band of the rule, the middle of the limits, or ``target_moment``.
    target_moment : float, optional
        Tail-heavy positive [N m].
    inertia : float, optional
        About the hinge line, before the change [kg m²].
    product_of_inertia : float, optional
        K = ∫ x y dm, x aft of the hinge line, y from the flapping or roll axis, before the change [kg m²].
    surface : Surface, optional
        Its mass gives the centre of gravity before and after.
    coverage : float
        Coverage probability of U where the measured moment states no coverage factor.
    local_gravity : float
        [m/s^2]
    """

    moment: MeasuredMoment
    limits: Limits
    places: tuple[Place, ...]
    target: Target = "nearest"
    target_moment: Moment | None = None
    inertia: Inertia | None = None
    product_of_inertia: Inertia | None = None
    surface: Surface | None = None
    coverage: float = 0.95
    local_gravity: Acceleration = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class WeightLoad:
    """Inertia loads on all that a place carries after the change: information for its attachment [N]."""

    normal: Force
    fore_and_aft: Force
    along_hinge: Force


@dataclass(frozen=True, slots=True)
class Change:
    """What is done at one place.

    Parameters
    ----------
    place : str
    arm : float
        [m]
    side : {"forward", "aft"}
    mass : float
        Weights added, without bracket and screws; negative: taken off [kg].
    pieces : tuple of float
        Those used of the stock, which together make ``mass`` [kg].
    fixed_mass : float
        Bracket and screws that come along [kg].
    mass_after : float
        What the place carries then in all [kg].
    moment : float
        Change of the static moment [N m].
    load : WeightLoad, optional
        None where nothing is left.
    """

    place: str
    arm: Length
    side: Side
    mass: Mass
    pieces: tuple[Mass, ...]
    fixed_mass: Mass
    mass_after: Mass
    moment: Moment
    load: WeightLoad | None


@dataclass(frozen=True, slots=True)
class Plan:
    """One way to correct the balance, worked out in full. Predicted, not weighed.

    Parameters
    ----------
    changes : tuple of Change
        Empty where nothing needs to be done.
    feasible : bool
        Whether the predicted moment lies in the band of the rule; without limits, whether the target is met.
    moment_after : Measured
        Predicted [N m].
    from_target : float
        How far from the moment aimed at [N m].
    target_moment : float
        The moment aimed at [N m].
    limits : MomentLimits
        As approved, and drawn in by the predicted U.
    predicted_statement, predicted_statement_simple, predicted_statement_guarded : str, optional
        As for a weighing, of the predicted moment.
    predicted_margin : float, optional
        To the nearest limit, positive inside [N m].
    predicted_probability_within : float, optional
    total_mass_change : float
        What the surface gains, brackets included; negative: loses [kg].
    sum_of_changes : float
        Everything added and everything taken off, brackets included, each counted positive [kg].
    mass_after : float, optional
        Of the surface [kg].
    centre_of_gravity_after : float, optional
        Aft of the hinge line [m].
    inertia_after, product_after : float, optional
        [kg m²]
    coefficient_after : float, optional
        K/I.
    budget : tuple of BudgetRow
        What the predicted U is made of, largest first.
    """

    changes: tuple[Change, ...]
    feasible: bool
    moment_after: MeasuredMoment
    from_target: NewtonMetre
    target_moment: Moment
    limits: MomentLimits
    predicted_statement: Statement | None
    predicted_statement_simple: Statement | None
    predicted_statement_guarded: Statement | None
    predicted_margin: NewtonMetre | None
    predicted_probability_within: float | None
    total_mass_change: Mass
    sum_of_changes: Mass
    mass_after: Mass | None
    centre_of_gravity_after: Length | None
    inertia_after: Inertia | None
    product_after: Inertia | None
    coefficient_after: float | None
    budget: tuple[BudgetRow, ...]


@dataclass(frozen=True, slots=True)
class Remedy:
    """One change of what is allowed that would mend it. It is for the approved data to allow it, not for us.

    Parameters
    ----------
    place : str
        Empty where it is no place's.
    what : str
        "largest_mass", "smallest_mass", "smallest_step", "pieces", "arm", "new place" or "uncertainty".
    now, needed : float, optional
        [``unit``]
    unit : str
    sentence : str
    """

    place: str
    what: str
    now: OwnUnit | None
    needed: OwnUnit | None
    unit: str
    sentence: str


@document_format("hingeline/ballast-result/1")
@dataclass(frozen=True, slots=True)
class BallastResult:
    """The best plan in full, what was before it, the best three, and what would mend it where none is possible.

    The fields from ``changes`` to ``budget`` are those of the first of ``plans``; see :class:`Plan`.
    """

    surface: Surface | None
    places: tuple[Place, ...]
    local_gravity: Acceleration
    moment_before: MeasuredMoment
    statement_before_simple: Statement | None
    statement_before_guarded: Statement | None
    target: Target
    rule: Rule
    limits_source: str
    mass_before: Mass | None
    centre_of_gravity_before: Length | None
    inertia_before: Inertia | None
    product_before: Inertia | None
    coefficient_before: float | None

    changes: tuple[Change, ...]
    feasible: bool
    moment_after: MeasuredMoment
    from_target: NewtonMetre
    target_moment: Moment
    limits: MomentLimits
    predicted_statement: Statement | None
    predicted_statement_simple: Statement | None
    predicted_statement_guarded: Statement | None
    predicted_margin: NewtonMetre | None
    predicted_probability_within: float | None
    total_mass_change: Mass
    sum_of_changes: Mass
    mass_after: Mass | None
    centre_of_gravity_after: Length | None
    inertia_after: Inertia | None
    product_after: Inertia | None
    coefficient_after: float | None
    budget: tuple[BudgetRow, ...]

    reason: str | None
    remedies: tuple[Remedy, ...]
    plans: tuple[Plan, ...]
    notes: tuple[str, ...] = field(default=())
    cautions: tuple[str, ...] = field(default=())
