"""How mass is spread over a surface, and what that makes of its static and dynamic balance.

x is positive aft of the hinge line; y is positive outboard of the flapping or roll axis.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from hingeline.document import document_format
from hingeline.fields import Acceleration, Length, Mass, Moment, Unit
from hingeline.surface import Side, aft
from hingeline.units import STANDARD_GRAVITY

MassPerArea = Annotated[float, Unit("kg/m^2")]
MassMoment = Annotated[float, Unit("kg m", moment=True)]
Inertia = Annotated[float, Unit("kg m^2")]


@dataclass(frozen=True, slots=True)
class MassPoint:
    """A mass small enough to count as a point: a balance weight, a fitting, a strip by its centre.

    Parameters
    ----------
    name : str
    mass : float
        [kg]
    arm : float
        From the hinge line, zero or positive [m].
    side : {"aft", "forward"}
    spanwise : float
        From the flapping or roll axis, outboard positive [m].
    """

    name: str
    mass: Mass
    arm: Length
    side: Side
    spanwise: Length

    @property
    def x(self) -> float:
        """Where it stands, aft positive [m]."""
        return aft(self.side) * self.arm


@dataclass(frozen=True, slots=True)
class Plate:
    """A rectangle of even mass: a skin, a spar, a strip of a tapered surface.

    Parameters
    ----------
    name : str
    chordwise_from, chordwise_to : float
        Its edges from the hinge line, aft positive [m].
    spanwise_from, spanwise_to : float
        Its ends from the flapping or roll axis, outboard positive [m].
    mass : float, optional
        [kg]; this, or ``mass_per_area``.
    mass_per_area : float, optional
        [kg/m²]
    """

    name: str
    chordwise_from: Length
    chordwise_to: Length
    spanwise_from: Length
    spanwise_to: Length
    mass: Mass | None = None
    mass_per_area: MassPerArea | None = None

    @property
    def area(self) -> float:
        """Of one face [m²]."""
        return (self.chordwise_to - self.chordwise_from) * (self.spanwise_to - self.spanwise_from)


@dataclass(frozen=True, slots=True)
class TrialPlace:
    """A place along the span for the trial weight; ``spanwise`` from the flapping or roll axis [m]."""

    name: str
    spanwise: Length


@dataclass(frozen=True, slots=True)
class TrialWeight:
    """A weight that is tried at several places along the span, at one arm.

    Parameters
    ----------
    arm : float
        From the hinge line, positive [m].
    side : {"forward", "aft"}
    mass : float, optional
        [kg]; without it, the mass that balances the surface statically.
    places : tuple of TrialPlace
        Without any: inboard end, middle and outboard end of the surface.
    """

    arm: Length
    side: Side = "forward"
    mass: Mass | None = None
    places: tuple[TrialPlace, ...] = ()


@document_format("hingeline/dynamic-record/1")
@dataclass(frozen=True, slots=True)
class DynamicTask:
    """How the mass of a surface is spread, and a weight to try.

    Parameters
    ----------
    name : str
        Of the surface.
    points : tuple of MassPoint
    plates : tuple of Plate
    weight : TrialWeight, optional
    local_gravity : float
        [m/s^2]
    """

    name: str = ""
    points: tuple[MassPoint, ...] = ()
    plates: tuple[Plate, ...] = ()
    weight: TrialWeight | None = None
    local_gravity: Acceleration = STANDARD_GRAVITY


@dataclass(frozen=True, slots=True)
class Spread:
    """Mass and its moments.

    Parameters
    ----------
    mass : float
        [kg]
    mass_moment : float
        S = ∫ x dm, aft positive [kg m].
    static_moment : float
        S times local gravity, tail-heavy positive [N m].
    inertia : float
        I = ∫ x² dm, about the hinge line [kg m²].
    product_of_inertia : float
        K = ∫ x y dm [kg m²].
    dynamic_coefficient : float, optional
        K/I; None where all mass lies on the hinge line.
    centre_aft, centre_spanwise : float
        Centre of gravity, from the hinge line and from the flapping or roll axis [m].
    """

    mass: Mass
    mass_moment: MassMoment
    static_moment: Moment
    inertia: Inertia
    product_of_inertia: Inertia
    dynamic_coefficient: float | None
    centre_aft: Length
    centre_spanwise: Length


@dataclass(frozen=True, slots=True)
class WithWeight:
    """The surface with the trial weight at one place.

    Parameters
    ----------
    name : str
    spanwise : float
        Of the weight, from the flapping or roll axis [m].
    mass, mass_moment, static_moment, inertia, product_of_inertia, dynamic_coefficient
        As in :class:`Spread`, weight included.
    """

    name: str
    spanwise: Length
    mass: Mass
    mass_moment: MassMoment
    static_moment: Moment
    inertia: Inertia
    product_of_inertia: Inertia
    dynamic_coefficient: float | None


@document_format("hingeline/dynamic-result/1")
@dataclass(frozen=True, slots=True)
class DynamicResult:
    """Static balance beside dynamic balance. An estimate from stated masses and places.

    Parameters
    ----------
    name : str
    mass, mass_moment, static_moment, inertia, product_of_inertia, dynamic_coefficient
        Of the surface as given, without the trial weight, as in :class:`Spread`.
    centre_aft, centre_spanwise : float
        As in :class:`Spread`.
    points : tuple of MassPoint
    plates : tuple of Plate
        As given.
    weight : TrialWeight, optional
        Its mass and its places filled in.
    places : tuple of WithWeight
        One for each place of the trial weight.
    local_gravity : float
        [m/s^2]
    notes, cautions : tuple of str
    """

    name: str
    mass: Mass
    mass_moment: MassMoment
    static_moment: Moment
    inertia: Inertia
    product_of_inertia: Inertia
    dynamic_coefficient: float | None
    centre_aft: Length
    centre_spanwise: Length
    points: tuple[MassPoint, ...]
    plates: tuple[Plate, ...]
    weight: TrialWeight | None
    places: tuple[WithWeight, ...]
    local_gravity: Acceleration
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
