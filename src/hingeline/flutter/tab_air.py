"""Air forces on a strip with a control surface and a tab behind it.

Rows and columns of plunge, pitch and tab are those of a strip hinged at the tab's hinge line. Only what
the control does to the tab and the tab to the control is new. It comes from the velocity potentials of
one flap, integrated over the other:

    Φ_U(X) = [s t - (X - c) L] / π                              per unit U and angle
    Φ_t(X) = [s_c s + t (X - 2 c) s - (X - c)² L] / 2 π         per unit rate
    s = √(1 - X²),  s_c = √(1 - c²),  t = arccos c,  L = ln |(1 - c X - s s_c)/(X - c)|

The wake's own pressure 2 ρ U Q [X + C (1 - X)]/√(1 - X²) has a part X without C. It belongs to Bn and Kn
(the terms with J) and is larger than the rest: left out, the sign of Kn turns.

Source: the potentials are NACA Report 496 (1935), from memory of the publication; the integrals are ours,
confirmed to ten digits by the pressure series (``pressure_series``), which uses neither.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.strip_air import HingeConstants, StripAir, hinge_constants, strip_forces
from hingeline.flutter.system import Array

PI = float(np.pi)
TINY = 1e-300
POINTS, WEIGHTS = np.polynomial.legendre.leggauss(48)
GRADING = 6
"""Points crowd toward the logarithm of L as the sixth power: 48 of them give fourteen digits."""


@dataclass(frozen=True, slots=True)
class CrossForces:
    """What a unit motion of one flap does to another, over ρ b⁴ p², ρ b³ p U and ρ b² U²."""

    mass: float
    damping: float
    stiffness: float


def strip_forces_with_tab(semichord: float, axis: float, hinge: float, tab_hinge: float, density: float) -> StripAir:
    """Compute the air forces on a strip in plunge, pitch, control surface and tab.

    Parameters
    ----------
    semichord, axis, density : float
        b [m], a [semichords aft of mid-chord], ρ [kg/m³].
    hinge, tab_hinge : float
        c and d, semichords aft of mid-chord, -1 < c < d < 1. The tab turns relative to the control.

    Returns
    -------
    StripAir
        In four freedoms, for one metre of span.

    Raises
    ------
    InputRefused
        If the tab's hinge does not lie between the control's and the trailing edge.

    Examples
    --------
    >>> air = strip_forces_with_tab(1.0, -0.4, 0.4, 0.8, 1.0)
    >>> round(float(air.air_stiffness[2, 3]), 7)
    0.2106785
    """
    check_tab(hinge, tab_hinge)
    surface = strip_forces(semichord, axis, hinge, density)
    tab = strip_forces(semichord, axis, tab_hinge, density)
    on_surface, on_tab = cross_forces(hinge, tab_hinge), cross_forces(tab_hinge, hinge)
    b = semichord
    return StripAir(
        semichord=b,
        apparent_mass=joined(
            surface.apparent_mass, tab.apparent_mass, density * b**4 * on_surface.mass, density * b**4 * on_tab.mass
        ),
        air_damping=joined(
            surface.air_damping, tab.air_damping, density * b**3 * on_surface.damping, density * b**3 * on_tab.damping
        ),
        air_stiffness=joined(
            surface.air_stiffness,
            tab.air_stiffness,
            density * b**2 * on_surface.stiffness,
            density * b**2 * on_tab.stiffness,
        ),
        circulation_force=np.append(surface.circulation_force, tab.circulation_force[2]),
        downwash_of_rates=np.append(surface.downwash_of_rates, tab.downwash_of_rates[2]),
        downwash_of_angles=np.append(surface.downwash_of_angles, tab.downwash_of_angles[2]),
    )


def check_tab(hinge: float, tab_hinge: float) -> None:
    """Refuse a tab that does not lie on the control."""
    if not hinge < tab_hinge < 1:
        raise InputRefused.of(
            "tab_hinge_line",
            tab_hinge,
            f"a place aft of the hinge line at {hinge} and ahead of the trailing edge at 1",
            "The tab lies on the control.",
        )


def joined(surface: Array, tab: Array, on_surface: float, on_tab: float) -> Array:
    """Set the tab's row and column beside the strip's, with the two new entries."""
    whole = np.zeros((4, 4))
    whole[:3, :3] = surface
    whole[:2, 3], whole[3, :2], whole[3, 3] = tab[:2, 2], tab[2, :2], tab[2, 2]
    whole[2, 3], whole[3, 2] = on_surface, on_tab
    return whole


def cross_forces(flap: float, moving: float) -> CrossForces:
    """Compute the hinge moment on one flap that another's motion makes.

    Parameters
    ----------
    flap : float
        c_i: where the flap is hinged on which the moment acts, semichords aft of mid-chord.
    moving : float
        c_j: where the flap is hinged that moves.

    Returns
    -------
    CrossForces
        Mass 2 ∫ (X - c_i) Φ_t, damping 2 [∫ (X - c_i) Φ_U - ∫ Φ_t + J T11/2π],
        stiffness 2 [J T10/π - ∫ Φ_U], integrals over the flap, J = ∫ (X - c_i) X/√(1 - X²).
        The delayed part is not in here: it is R W1ᵀ and R W0ᵀ as for every freedom.
    """
    t = hinge_constants(moving)
    angle, weight = points_over(flap, moving)
    of_angle, of_rate = potentials(angle, moving, t)
    arm, weight = np.cos(angle) - flap, weight * np.sin(angle)
    turn = float(np.arccos(flap))
    wake = turn / 2 + np.sin(2 * turn) / 4 - flap * np.sin(turn)
    return CrossForces(
        mass=float(2 * weight @ (arm * of_rate)),
        damping=float(2 * (weight @ (arm * of_angle - of_rate) + wake * t.t11 / (2 * PI))),
        stiffness=float(2 * (wake * t.t10 / PI - weight @ of_angle)),
    )


def potentials(angle: Array, moving: float, t: HingeConstants) -> tuple[Array, Array]:
    """Give Φ_U and Φ_t of a flap at X = cos(angle), over b U and b²."""
    x, s = np.cos(angle), np.sin(angle)
    turn, s_c = float(np.arccos(moving)), float(np.sqrt(1 - moving**2))
    distance = x - moving
    apart = np.maximum(np.abs(np.sin((angle - turn) / 2)), TINY)  # at the hinge L is infinite and its factor zero
    logarithm = np.log(apart / np.sin((angle + turn) / 2))
    return (
        (s * turn - distance * logarithm) / PI,
        (s_c * s + turn * (x - 2 * moving) * s - distance**2 * logarithm) / (2 * PI),
    )


def points_over(flap: float, moving: float) -> tuple[Array, Array]:
    """Lay points over a flap, in the angle of X = cos(angle), crowded where the moving flap's hinge is near."""
    end, turn = float(np.arccos(flap)), float(np.arccos(moving))
    if turn >= end:
        return graded(end, 0.0)
    inner, outside = graded(turn, 0.0), graded(turn, end)
    return np.concatenate((inner[0], outside[0])), np.concatenate((inner[1], outside[1]))


def graded(crowded: float, other: float) -> tuple[Array, Array]:
    """Lay Gauss points between two angles, crowded toward the first."""
    unit = (POINTS + 1) / 2
    length = other - crowded
    return crowded + length * unit**GRADING, abs(length) * GRADING * unit ** (GRADING - 1) * WEIGHTS / 2
