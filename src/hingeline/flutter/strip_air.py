"""Air forces on a strip with a trailing control surface, in thin-aerofoil theory.

The strip is a flat plate of semichord b in two-dimensional incompressible flow of speed U. X is measured
aft from mid-chord in semichords: the reference axis lies at X = a, the hinge at X = c, the trailing edge
at X = 1. Freedoms in this order: plunge h of the reference axis (positive down), pitch α (nose up),
control β relative to the plate (trailing edge down), and where there is one, tab δ relative to the control.

Forces stand on the left of the equation of motion, so that they add to mass and stiffness:

    p² Ma + p U (Bn + C Bc) + U² (Kn + C Kc),   Bc = R W1ᵀ,  Kc = R W0ᵀ,  C = C(p b/U)

Everything carries the density and holds for one metre of span. Not in here: three-dimensional flow,
compressibility, viscosity, thickness, gaps at the hinge, aerodynamic balance ahead of the hinge.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.system import Array

PI = float(np.pi)


@dataclass(frozen=True, slots=True)
class StripAir:
    """The air forces of one strip for one metre of span, in n freedoms.

    The matrices may be stacked: with leading axes, one strip for each index.

    Parameters
    ----------
    semichord : float
        b [m]: the wake function is read at p b/U.
    apparent_mass : array (n, n)
        Ma: p² Ma is the force of the air that is carried along. Symmetric.
    air_damping : array (n, n)
        Bn: p U Bn is the part of the force from rates that is not delayed.
    air_stiffness : array (n, n)
        Kn: U² Kn is the part of the force from angles that is not delayed.
    circulation_force : array (n,)
        R: what the circulation does to each freedom; 2 π ρ b in plunge. A lift-slope factor acts here.
    downwash_of_rates, downwash_of_angles : array (n,)
        W1 and W0: the downwash at three-quarter chord is (p W1 + U W0) · q.
    """

    semichord: float
    apparent_mass: Array
    air_damping: Array
    air_stiffness: Array
    circulation_force: Array
    downwash_of_rates: Array
    downwash_of_angles: Array

    @property
    def delayed_damping(self) -> Array:
        """Bc = R W1ᵀ: p U C Bc is the delayed force from rates."""
        return outer(self.circulation_force, self.downwash_of_rates)

    @property
    def delayed_stiffness(self) -> Array:
        """Kc = R W0ᵀ: U² C Kc is the delayed force from angles."""
        return outer(self.circulation_force, self.downwash_of_angles)

    def in_freedoms(self, motion: Array, width: float = 1.0) -> StripAir:
        """Express the forces in other freedoms.

        Parameters
        ----------
        motion : array (n, m)
            T: the strip's own freedoms are T times the new ones. Column j is the strip's motion in freedom j.
        width : float
            Width of the strip [m].

        Returns
        -------
        StripAir
            Ma → width · Tᵀ Ma T, R → width · Tᵀ R, W → Tᵀ W: by virtual work.
        """
        back = motion.T
        return StripAir(
            self.semichord,
            width * (back @ self.apparent_mass @ motion),
            width * (back @ self.air_damping @ motion),
            width * (back @ self.air_stiffness @ motion),
            width * (self.circulation_force @ motion),
            self.downwash_of_rates @ motion,
            self.downwash_of_angles @ motion,
        )


def outer(left: Array, right: Array) -> Array:
    """Multiply a column by a row, for each strip of a stack."""
    return left[..., :, None] * right[..., None, :]


@dataclass(frozen=True, slots=True)
class HingeConstants:
    """T constants of a hinge line at X = c that does not move with the reference axis.

    Source: T. Theodorsen, General theory of aerodynamic instability and the mechanism of flutter,
    NACA Report 496 (1935), list of constants T1 to T14; from memory of the publication. Every one is
    confirmed by the pressure series (``pressure_series``), which uses none of them. T2, T6 and T14 are
    not needed: no force contains them alone.
    """

    t1: Any
    t3: Any
    t4: Any
    t5: Any
    t7: Any
    t8: Any
    t10: Any
    t11: Any
    t12: Any


def hinge_constants(hinge: Any) -> HingeConstants:
    """Compute the T constants of a hinge line.

    Parameters
    ----------
    hinge : float or array
        c, semichords aft of mid-chord, between -1 and 1.

    Returns
    -------
    HingeConstants
        T1, T3, T4, T5, T7, T8, T10, T11, T12.

    Examples
    --------
    Two plates hinged at mid-chord: T10/π, the flap effectiveness, is 1/2 + 1/π.

    >>> round(float(hinge_constants(0.0).t10) / 3.141592653589793, 6)
    0.81831
    """
    c = hinge
    t, s = np.arccos(c), np.sqrt(1 - c * c)
    return HingeConstants(
        t1=-s * (2 + c * c) / 3 + c * t,
        t3=-(1 / 8 + c * c) * t * t + c * s * t * (7 + 2 * c * c) / 4 - s * s * (5 * c * c + 4) / 8,
        t4=-t + c * s,
        t5=-s * s - t * t + 2 * c * s * t,
        t7=-(1 / 8 + c * c) * t + c * s * (7 + 2 * c * c) / 8,
        t8=-s * (2 * c * c + 1) / 3 + c * t,
        t10=s + t,
        t11=t * (1 - 2 * c) + s * (2 - c),
        t12=s * (2 + c) - t * (2 * c + 1),
    )


def strip_forces(semichord: Any, axis: Any, hinge: Any, density: Any) -> StripAir:
    """Compute the air forces on a strip in plunge, pitch and control surface.

    Parameters
    ----------
    semichord : float
        b [m].
    axis : float
        a: the reference axis, semichords aft of mid-chord.
    hinge : float
        c: the hinge line, semichords aft of mid-chord, between -1 and 1.
    density : float
        ρ [kg/m³].

    Any of them may be an array; then the matrices are stacked.

    Returns
    -------
    StripAir
        In three freedoms, for one metre of span.

    Raises
    ------
    InputRefused
        If the hinge does not lie on the chord, or semichord or density is not above zero.

    Notes
    -----
    Source: NACA Report 496 (1935), the three force equations, from memory of the publication; derived
    again by the pressure series to eleven digits. T9 and T13 are written out, since both hold the axis.

    Examples
    --------
    The apparent mass of a plate in plunge is π ρ b².

    >>> air = strip_forces(0.5, -0.4, 0.5, 1.225)
    >>> round(float(air.apparent_mass[0, 0]), 6)
    0.962113
    """
    check_strip(semichord, hinge, density)
    b, a, c, t = semichord, axis, hinge, hinge_constants(hinge)
    mass = [
        [PI, -PI * a * b, -t.t1 * b],
        [-PI * a * b, PI * (1 / 8 + a * a) * b * b, -(t.t7 + (c - a) * t.t1) * b * b],
        [-t.t1 * b, -(t.t7 + (c - a) * t.t1) * b * b, -t.t3 * b * b / PI],
    ]
    return StripAir(
        semichord=b,
        apparent_mass=scaled(density * b * b, mass),
        air_damping=scaled(density * b * b, undelayed_damping(b, a, c, t)),
        air_stiffness=scaled(density * b * b, [[0, 0, 0], [0, 0, t.t4 + t.t10], [0, 0, (t.t5 - t.t4 * t.t10) / PI]]),
        circulation_force=scaled(2 * PI * density * b, [1, -(0.5 + a) * b, t.t12 * b / (2 * PI)]),
        downwash_of_rates=scaled(1.0, [1, (0.5 - a) * b, t.t11 * b / (2 * PI)]),
        downwash_of_angles=scaled(1.0, [0 * b, 1, t.t10 / PI]),
    )


def undelayed_damping(b: Any, a: Any, c: Any, t: HingeConstants) -> list[list[Any]]:
    """Give Bn over ρ b²; in the control's row -2 T9 is written out, and its axis cancels."""
    cube = (1 - c * c) ** 1.5 / 3
    return [
        [0, PI, -t.t4],
        [0, PI * (0.5 - a) * b, (t.t1 - t.t8 - (c - a) * t.t4 + t.t11 / 2) * b],
        [0, (-cube - t.t1 - t.t4 / 2) * b, -t.t4 * t.t11 * b / (2 * PI)],
    ]


def scaled(factor: Any, rows: list[Any]) -> Array:
    """Make an array of nested lists, whose entries may be stacks, with the stack's axes in front."""
    if isinstance(rows[0], list):
        return np.stack([scaled(factor, row) for row in rows], axis=-2)
    return np.stack(np.broadcast_arrays(*[np.asarray(factor * entry, dtype=np.float64) for entry in rows]), axis=-1)


def whole_chord_forces(semichord: float, axis: float, density: float) -> StripAir:
    """Compute the air forces on a strip without a control surface, in plunge and pitch.

    Parameters
    ----------
    semichord, axis, density : float
        b [m], a [semichords aft of mid-chord], ρ [kg/m³].

    Returns
    -------
    StripAir
        In two freedoms: the first two of :func:`strip_forces`, whatever its hinge.
    """
    air = strip_forces(semichord, axis, 0.0, density)
    return replace(
        air,
        apparent_mass=air.apparent_mass[..., :2, :2],
        air_damping=air.air_damping[..., :2, :2],
        air_stiffness=air.air_stiffness[..., :2, :2],
        circulation_force=air.circulation_force[..., :2],
        downwash_of_rates=air.downwash_of_rates[..., :2],
        downwash_of_angles=air.downwash_of_angles[..., :2],
    )


def check_strip(semichord: Any, hinge: Any, density: Any) -> None:
    """Refuse a strip that thin-aerofoil theory cannot take."""
    if not np.all(np.abs(hinge) < 1):
        raise InputRefused.of(
            "hinge_line", hinge, "a place between -1 and 1 semichord aft of mid-chord", "The hinge lies on the chord."
        )
    for name, value in (("semichord", semichord), ("density", density)):
        if not np.all((np.asarray(value) > 0) & np.isfinite(value)):
            raise InputRefused.of(name, value, "a finite number above zero", "Without it there is no air force.")
