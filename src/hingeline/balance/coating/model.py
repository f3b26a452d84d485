"""What is painted on or stripped off a surface, and what that will do to its balance.

Inside, a moment that makes the surface tail-heavy (trailing edge down) is
positive, x is positive aft of the hinge line, and a mass taken off is negative.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated, Literal

from hingeline.balance.model import Limits, MomentLimits, Rule, Statement
from hingeline.document import MeasuredMoment, document_format
from hingeline.fields import Acceleration, Length, Mass, NewtonMetre, Unit
from hingeline.surface import Side
from hingeline.uncertainty import BudgetRow, Measured
from hingeline.uncertainty.stated import Stated
from hingeline.units import STANDARD_GRAVITY

Area = Annotated[float, Unit("m^2")]
MassPerArea = Annotated[float, Unit("kg/m^2")]
Density = Annotated[float, Unit("kg/m^3")]
Volume = Annotated[float, Unit("m^3")]
MeasuredMass = Annotated[Measured, Unit("kg")]


@dataclass(frozen=True, slots=True)
class Layer:
    """One coat, primer, filler or patch that is put on, or stripped off.

    Its mass comes from exactly one of: ``mass_per_area``; ``film`` and ``density``; ``wet_volume``,
    ``volume_solids``, ``solids_density`` and ``transfer``.

    Parameters
    ----------
    name : str
    arm : float
        Of the coated area's centroid from the hinge line, zero or positive [m].
    side : {"aft", "forward"}
    area : float, optional
        Of one face [m²]. Needed unless the mass comes from ``wet_volume``.
    count : float
        Faces times coats; negative: stripped. What is uncertain in this layer is common to its ``count``.
    mass_per_area : float, optional
        Dry, of one coat on one face [kg/m²].
    film : float, optional
        Dry thickness of one coat [m].
    density : float, optional
        Of the dry film [kg/m³].
    wet_volume : float, optional
        Paint used up for one of ``count`` [m³].
    volume_solids : float, optional
        Part of the wet volume that stays as a dry film [1].
    solids_density : float, optional
        Of what stays [kg/m³].
    transfer : float, optional
        Part of the paint that reaches the surface [1].
    area_uncertainty, arm_uncertainty, mass_per_area_uncertainty, film_uncertainty, density_uncertainty : Stated
        Each optional, in the unit of its quantity or as a fraction of it.
    wet_volume_uncertainty, volume_solids_uncertainty, solids_density_uncertainty, transfer_uncertainty : Stated
        The same.
    """

    name: str
    arm: Length
    side: Side = "aft"
    area: Area | None = None
    count: float = 1.0
    mass_per_area: MassPerArea | None = None
    film: Length | None = None
    density: Density | None = None
    wet_volume: Volume | None = None
    volume_solids: float | None = None
    solids_density: Density | None = None
    transfer: float | None = None
    area_uncertainty: Stated | None = None
    arm_uncertainty: Stated | None = None
    mass_per_area_uncertainty: Stated | None = None
    film_uncertainty: Stated | None = None
    density_uncertainty: Stated | None = None
    wet_volume_uncertainty: Stated | None = None
    volume_solids_uncertainty: Stated | None = None
    solids_density_uncertainty: Stated | None = None
    transfer_uncertainty: Stated | None = None


@dataclass(frozen=True, slots=True)
class CoatedSurface:
    """One surface, or one half of it, with what is put on and stripped off.

    Parameters
    ----------
    layers : tuple of Layer
    name : str
    moment : Measured, optional
        Static moment as last weighed, before the work, tail-heavy positive [N m].
    mass : Measured, optional
        As last weighed, before the work [kg]. Needed where limits depend on it.
    limits : Limits
        Of moment and mass; friction and reading limits are not used.
    """

    layers: tuple[Layer, ...]
    name: str = ""
    moment: MeasuredMoment | None = None
    mass: MeasuredMass | None = None
    limits: Limits = field(default_factory=Limits)


@document_format("hingeline/coating-record/1")
@dataclass(frozen=True, slots=True)
class CoatingTask:
    """What will be painted and stripped, on one surface or on several that differ.

    Parameters
    ----------
    surfaces : tuple of CoatedSurface
    coverage : float
        Coverage probability of U where the measured moment states no coverage factor.
    local_gravity : float
        [m/s^2]
    """

    surfaces: tuple[CoatedSurface, ...]
    coverage: float = 0.95
    local_gravity: Acceleration = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Allowance:
    """How much more of a layer a surface can take until it stands at a limit.

    Parameters
    ----------
    counts : float
        Further coats on one face; 0 where nothing is left.
    mass : float
        [kg]
    mass_per_area : float, optional
        The same mass over the layer's area, once [kg/m²].
    stops_at : str
        The limit that is met first.
    """

    counts: float
    mass: Mass
    mass_per_area: MassPerArea | None
    stops_at: Literal["lower limit", "upper limit", "mass limit"]


@dataclass(frozen=True, slots=True)
class LayerResult:
    """One layer, worked out.

    Parameters
    ----------
    name : str
    count : float
    side : {"aft", "forward"}
    arm : float
        [m]
    mass_per_area : float, optional
        Of one coat on one face [kg/m²]; None where no area is given.
    mass : Measured
        Change of the surface's mass, negative where stripped [kg].
    moment : Measured
        Change of the static moment [N m].
    can_still_take : Allowance, optional
        Until a limit; None where the layer is stripped, no moment is given, or no limit lies ahead within
        ten thousand coats.
    can_still_take_guarded : Allowance, optional
        The same until the guarded limit; None also where no uncertainty is known.
    """

    name: str
    count: float
    side: Side
    arm: Length
    mass_per_area: MassPerArea | None
    mass: MeasuredMass
    moment: MeasuredMoment
    can_still_take: Allowance | None
    can_still_take_guarded: Allowance | None


@dataclass(frozen=True, slots=True)
class CoatedResult:
    """What the work will do to one surface. Predicted, not weighed.

    Parameters
    ----------
    name : str
    mass_change : Measured
        Of all layers [kg].
    moment_change : Measured
        Of all layers [N m].
    moment_before, mass_before : Measured, optional
        As given [N m, kg].
    moment_after, mass_after : Measured, optional
        Predicted [N m, kg].
    limits : MomentLimits
        As approved for the predicted mass, and drawn in by the predicted U.
    limits_source : str
    rule : {"simple", "guarded"}
    predicted_statement, predicted_statement_simple, predicted_statement_guarded : str, optional
        As for a weighing, of the predicted moment and mass; the worse of both.
    predicted_margin : float, optional
        From the predicted moment to the nearest limit, positive inside [N m].
    layers : tuple of LayerResult
    budget : tuple of BudgetRow
        What the U of the predicted moment, or else of its change, is made of, largest first.
    notes : tuple of str
    """

    name: str
    mass_change: MeasuredMass
    moment_change: MeasuredMoment
    moment_before: MeasuredMoment | None
    mass_before: MeasuredMass | None
    moment_after: MeasuredMoment | None
    mass_after: MeasuredMass | None
    limits: MomentLimits
    limits_source: str
    rule: Rule
    predicted_statement: Statement | None
    predicted_statement_simple: Statement | None
    predicted_statement_guarded: Statement | None
    predicted_margin: NewtonMetre | None
    layers: tuple[LayerResult, ...]
    budget: tuple[BudgetRow, ...]
    notes: tuple[str, ...]


@document_format("hingeline/coating-result/1")
@dataclass(frozen=True, slots=True)
class CoatingResult:
    """What painting and stripping will do. Predicted, not weighed.

    Parameters
    ----------
    mass_change, moment_change, moment_after : Measured, optional
        Of the only surface [kg, N m, N m]; None where there are several.
    predicted_statement, predicted_statement_simple, predicted_statement_guarded : str, optional
        The same.
    surfaces : tuple of CoatedResult
    local_gravity : float
        [m/s^2]
    notes, cautions : tuple of str
    """

    mass_change: MeasuredMass | None
    moment_change: MeasuredMoment | None
    moment_after: MeasuredMoment | None
    predicted_statement: Statement | None
    predicted_statement_simple: Statement | None
    predicted_statement_guarded: Statement | None
    surfaces: tuple[CoatedResult, ...]
    local_gravity: Acceleration
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
