"""What an unbalanced surface does without any flutter: hinge moment, stick force, trim when a weight is gone.

None of this is why the weight is there. A tail-heavy elevator pulls at the stick and adds stick force
in a pull-up, as a bob-weight does; the price is flutter.

Signs: x aft and z above of the hinge line; deflection and hinge moment + trailing edge down; pitch
acceleration + nose up; stick force + pull.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, fields
from typing import Annotated

from hingeline.errors import InputRefused, Refusal
from hingeline.fields import Length, Mass, Unit
from hingeline.flutter.structures import Angle, Inertia

STANDARD_GRAVITY = 9.80665
MassMoment = Annotated[float, Unit("kg m", moment=True)]
HeightMoment = Annotated[float, Unit("kg m")]
AngularAcceleration = Annotated[float, Unit("rad/s^2")]


@dataclass(frozen=True, slots=True)
class PointMass:
    """A piece of the surface: its mass [kg], and how far it lies aft of and above the hinge line [m]."""

    mass: Mass
    aft: Length
    above: Length = 0.0


@dataclass(frozen=True, slots=True)
class SurfaceMass:
    """A surface's mass about its hinge line, at no deflection.

    Parameters
    ----------
    static_moment : float
        S = ∫ x dm, + aft [kg m].
    height_moment : float
        V = ∫ z dm, + above [kg m].
    inertia : float
        I [kg m²].
    """

    static_moment: MassMoment
    height_moment: HeightMoment
    inertia: Inertia


@dataclass(frozen=True, slots=True)
class Manoeuvre:
    """What the aircraft does at one moment.

    Parameters
    ----------
    load_factor : float
        n_z, + up, 1 in level flight [1].
    forward_specific_force : float
        n_x over gravity; sin Θ in a steady climb at attitude Θ [1].
    pitch_acceleration : float
        q', + nose up [rad/s²].
    deflection : float
        δ, + trailing edge down [rad].
    """

    load_factor: float = 1.0
    forward_specific_force: float = 0.0
    pitch_acceleration: AngularAcceleration = 0.0
    deflection: Angle = 0.0


@dataclass(frozen=True, slots=True)
class ControlAir:
    """What answers a hinge moment in flight.

    Parameters
    ----------
    density, speed : float
        [kg/m³], true airspeed [m/s].
    area, chord : float
        To which the coefficients refer [m², m].
    by_tab, by_deflection : float
        ∂C_h/∂δ_tab and ∂C_h/∂δ, below zero for an ordinary control [1/rad].
    """

    density: float
    speed: float
    area: float
    chord: float
    by_tab: float
    by_deflection: float


@dataclass(frozen=True, slots=True)
class WeightGone:
    """What changes when a balance weight is no longer there.

    Parameters
    ----------
    hinge_moment : float
        Change, + trailing edge down [N m].
    stick_force : float
        Change, + pull [N].
    tab_angle : float
        That trims it out [rad].
    floating_angle : float
        By which a free control moves [rad].
    """

    hinge_moment: float
    stick_force: float
    tab_angle: float
    floating_angle: float


def surface_mass(pieces: Iterable[PointMass]) -> SurfaceMass:
    """Add up the pieces of a surface.

    Parameters
    ----------
    pieces : iterable of PointMass

    Returns
    -------
    SurfaceMass
    """
    known = tuple(pieces)
    return SurfaceMass(
        math.fsum(one.mass * one.aft for one in known),
        math.fsum(one.mass * one.above for one in known),
        math.fsum(one.mass * (one.aft**2 + one.above**2) for one in known),
    )


def deflected(surface: SurfaceMass, deflection: float) -> tuple[float, float]:
    """Give the static moment aft and above of a surface that is turned.

    Parameters
    ----------
    surface : SurfaceMass
    deflection : float
        δ, + trailing edge down [rad].

    Returns
    -------
    (float, float)
        X = S cos δ + V sin δ, Z = V cos δ - S sin δ [kg m].
    """
    c, s = math.cos(deflection), math.sin(deflection)
    aft = surface.static_moment * c + surface.height_moment * s
    return aft, surface.height_moment * c - surface.static_moment * s


def mass_hinge_moment(surface: SurfaceMass, manoeuvre: Manoeuvre, hinge_aft_of_cg: float = 0.0) -> float:
    """Compute the moment of a surface's own mass about its hinge line.

    Parameters
    ----------
    surface : SurfaceMass
    manoeuvre : Manoeuvre
    hinge_aft_of_cg : float
        L, hinge line aft of the aircraft's centre of gravity [m].

    Returns
    -------
    float
        H, + trailing edge down [N m].

    Raises
    ------
    InputRefused
        A number is not finite.

    Notes
    -----
    H = g (n_z X + n_x Z) - (I + L X) q' (own derivation, confirmed by point masses and virtual work). Terms in q²
    and in rolling are left out. In level flight a tail-heavy surface gives + S g.

    Examples
    --------
    >>> round(mass_hinge_moment(SurfaceMass(0.324, 0.009, 0.18249), Manoeuvre(), 4.1), 4)
    3.1774
    """
    refuse_not_finite(surface, manoeuvre)
    aft, above = deflected(surface, manoeuvre.deflection)
    weight = STANDARD_GRAVITY * (manoeuvre.load_factor * aft + manoeuvre.forward_specific_force * above)
    return weight - (surface.inertia + hinge_aft_of_cg * aft) * manoeuvre.pitch_acceleration


def stick_force(hinge_moment: float, gearing: float) -> float:
    """Give the force at the stick that holds a hinge moment.

    Parameters
    ----------
    hinge_moment : float
        + trailing edge down [N m].
    gearing : float
        G: the elevator goes up by G times the stick's travel aft [rad/m].

    Returns
    -------
    float
        F = G H, + pull [N]: virtual work.
    """
    return gearing * hinge_moment


def stick_force_per_g(surface: SurfaceMass, deflection: float, gearing: float) -> float:
    """Give by how much the surface's own mass raises the stick force per unit of load factor.

    Parameters
    ----------
    surface : SurfaceMass
    deflection : float
        [rad]
    gearing : float
        [rad/m]

    Returns
    -------
    float
        G g X, + pull [N].
    """
    return stick_force(STANDARD_GRAVITY * deflected(surface, deflection)[0], gearing)


def weight_gone(
    before: SurfaceMass, after: SurfaceMass, manoeuvre: Manoeuvre, gearing: float, air: ControlAir,
    hinge_aft_of_cg: float = 0.0,
) -> WeightGone:  # fmt: skip
    """Compute what is felt when a balance weight is lost.

    Parameters
    ----------
    before, after : SurfaceMass
        With the weight and without.
    manoeuvre : Manoeuvre
    gearing : float
        [rad/m]
    air : ControlAir
    hinge_aft_of_cg : float
        [m]

    Returns
    -------
    WeightGone

    Raises
    ------
    InputRefused
        Nothing in the air answers the moment: no dynamic pressure, area or hinge moment coefficient.

    Notes
    -----
    dδ = -dH/(½ ρ U² S c b): it goes as 1/U², so that it is felt most when slow (own derivation).
    """
    refuse_no_answer(air)
    change = mass_hinge_moment(after, manoeuvre, hinge_aft_of_cg) - mass_hinge_moment(
        before, manoeuvre, hinge_aft_of_cg
    )
    scale = air.density / 2 * air.speed**2 * air.area * air.chord
    return WeightGone(
        change, stick_force(change, gearing), -change / (scale * air.by_tab), -change / (scale * air.by_deflection)
    )


def refuse_not_finite(*records: SurfaceMass | Manoeuvre) -> None:
    """Refuse a number that is none."""
    refusals = [
        Refusal(field.name, str(getattr(record, field.name)), "a finite number", "Leave nothing undefined.")
        for record in records
        for field in fields(record)
        if not math.isfinite(getattr(record, field.name))
    ]
    if refusals:
        raise InputRefused(refusals)


def refuse_no_answer(air: ControlAir) -> None:
    """Refuse air that cannot hold a hinge moment."""
    refusals = list(_without_answer(air))
    if refusals:
        raise InputRefused(refusals)


def _without_answer(air: ControlAir) -> Iterator[Refusal]:
    for field in fields(air):
        value = getattr(air, field.name)
        if field.name.startswith("by_") and not (math.isfinite(value) and value != 0):
            yield Refusal(field.name, str(value), "a hinge moment coefficient other than zero",
                          "Without it no angle holds the moment.")  # fmt: skip
        elif not field.name.startswith("by_") and not (math.isfinite(value) and value > 0):
            yield Refusal(field.name, str(value), "a finite number above zero", "Without it the air does nothing.")
