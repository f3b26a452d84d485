"""What is asked about a surface at the stick, and what is answered, as frozen records."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from hingeline.document import document_format
from hingeline.fields import Force, Length, Mass, Moment, Unit
from hingeline.flutter.static_effects import AngularAcceleration, Manoeuvre, SurfaceMass
from hingeline.flutter.structures import Angle, Density, Speed

Area = Annotated[float, Unit("m^2")]
Gearing = Annotated[float, Unit("rad/m")]


@dataclass(frozen=True, slots=True)
class StatedManoeuvre:
    """A manoeuvre under its name."""

    name: str
    manoeuvre: Manoeuvre


@dataclass(frozen=True, slots=True)
class WeightAhead:
    """The balance weight that may be lost: mass [kg], how far ahead of the hinge line and above it [m]."""

    mass: Mass
    arm: Length
    above: Length = 0.0


@dataclass(frozen=True, slots=True)
class HoldingAir:
    """What answers a hinge moment in flight.

    Parameters
    ----------
    density : float
        [kg/m³]
    speeds : tuple of float
        True airspeeds to look at [m/s].
    area, chord : float
        To which the coefficients refer [m², m].
    by_tab, by_deflection : float
        ∂C_h/∂δ_tab and ∂C_h/∂δ, below zero for an ordinary control [1/rad].
    """

    density: Density
    speeds: tuple[Speed, ...]
    area: Area
    chord: Length
    by_tab: float
    by_deflection: float


@document_format("hingeline/stick-record/1")
@dataclass(frozen=True, slots=True)
class StickTask:
    """A surface, its weight fitted, and how it is geared to the stick.

    Parameters
    ----------
    surface : SurfaceMass
    stick_travel, surface_travel : float
        Of one whole movement, at the grip and at the surface [m, rad].
    manoeuvres : tuple of StatedManoeuvre
    hinge_aft_of_cg : float
        Hinge line aft of the aircraft's centre of gravity [m].
    weight : WeightAhead, optional
        The balance weight that may be lost.
    air : HoldingAir, optional
        Without it trim and floating are not given.
    name : str
    """

    surface: SurfaceMass
    stick_travel: Length
    surface_travel: Angle
    manoeuvres: tuple[StatedManoeuvre, ...]
    hinge_aft_of_cg: Length
    weight: WeightAhead | None = None
    air: HoldingAir | None = None
    name: str = ""


@dataclass(frozen=True, slots=True)
class StickLoad:
    """What the surface's own mass does in one manoeuvre.

    Parameters
    ----------
    name : str
    load_factor : float
        [1]
    pitch_acceleration : float
        [rad/s²]
    deflection : float
        [rad]
    hinge_moment : float
        + trailing edge down [N m].
    stick_force : float
        + pull [N].
    stick_force_per_g : float
        + pull, for one more of load factor at this deflection [N].
    """

    name: str
    load_factor: float
    pitch_acceleration: AngularAcceleration
    deflection: Angle
    hinge_moment: Moment
    stick_force: Force
    stick_force_per_g: Force


@dataclass(frozen=True, slots=True)
class Lost:
    """What changes in level flight when the balance weight is gone.

    Parameters
    ----------
    hinge_moment : float
        + trailing edge down [N m].
    stick_force : float
        + pull [N].
    """

    hinge_moment: Moment
    stick_force: Force


@dataclass(frozen=True, slots=True)
class Trimmed:
    """How that is trimmed out at one speed.

    Parameters
    ----------
    speed : float
        True airspeed [m/s].
    tab_angle : float
        + trailing edge down [rad].
    floating_angle : float
        By which a control let go moves, + trailing edge down [rad].
    """

    speed: Speed
    tab_angle: Angle
    floating_angle: Angle


@document_format("hingeline/stick-result/1")
@dataclass(frozen=True, slots=True)
class StickResult:
    """What an unbalanced surface does at the stick.

    Parameters
    ----------
    name : str
    gearing : float
        Surface angle over stick travel [rad/m].
    loads : tuple of StickLoad
    lost : Lost, optional
    trimmed : tuple of Trimmed
    assumptions, notes, cautions : tuple of str
    """

    name: str
    gearing: Gearing
    loads: tuple[StickLoad, ...]
    lost: Lost | None
    trimmed: tuple[Trimmed, ...]
    assumptions: tuple[str, ...]
    notes: tuple[str, ...]
    cautions: tuple[str, ...]
