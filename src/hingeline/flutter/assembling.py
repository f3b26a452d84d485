"""From mass, stiffness and strips of air to the common form that is solved.

A structure gives a :class:`Frame` (its mass, damping and stiffness) and :class:`Stations` (where the
air acts on it, and what each freedom does there). Virtual work does the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.flutter.strip_air import StripAir, outer
from hingeline.flutter.system import AeroelasticSystem, Array, WakeGroup


@dataclass(frozen=True, slots=True)
class Frame:
    """A structure without air.

    Parameters
    ----------
    freedoms : tuple of str
    mass, damping, stiffness : array (n, n)
        M, D, K [SI], symmetric.
    """

    freedoms: tuple[str, ...]
    mass: Array
    damping: Array
    stiffness: Array


@dataclass(frozen=True, slots=True)
class Stations:
    """Strips of air, and how the structure's freedoms move them.

    Parameters
    ----------
    air : StripAir
        One strip for all stations, or a stack with one for each.
    semichord : array (s,)
        b of each station [m].
    motion : array (s, k, n)
        T: the strip's k freedoms are T times the structure's n.
    width : array (s,)
        [m]
    """

    air: StripAir
    semichord: Array
    motion: Array
    width: Array


def assemble(
    frame: Frame,
    stations: Sequence[Stations],
    structural_damping: Sequence[float] = (0.0,),
) -> AeroelasticSystem:
    """Put structure and air together.

    Parameters
    ----------
    frame : Frame
    stations : sequence of Stations
    structural_damping : sequence of float
        g, one for all freedoms or one for each [1].

    Returns
    -------
    AeroelasticSystem

    Notes
    -----
    Q = Σ width Tᵀ A T over the stations, A(b, a, c) the matrices of one strip; stations of one
    semichord share one wake function, since it depends on p b/U (general strip theory).
    """
    size = len(frame.freedoms)
    damping = np.broadcast_to(np.asarray(structural_damping, dtype=np.float64), (size,)).copy()
    return AeroelasticSystem(
        freedoms=frame.freedoms,
        mass=frame.mass,
        damping=frame.damping,
        stiffness=frame.stiffness,
        structural_damping=damping,
        apparent_mass=sum_over(stations, "apparent_mass", size),
        air_damping=sum_over(stations, "air_damping", size),
        air_stiffness=sum_over(stations, "air_stiffness", size),
        wakes=wake_groups(stations),
    )


def sum_over(stations: Sequence[Stations], name: str, size: int) -> Array:
    """Add up one matrix of the air over all stations."""
    total = np.zeros((size, size))
    for part in stations:
        total += integrated(getattr(part.air, name), part.motion, part.width)
    return total


def integrated(matrix: Array, motion: Array, width: Array) -> Array:
    """Give Σ width Tᵀ A T: forces (or masses) of strips, felt in the structure's freedoms.

    Parameters
    ----------
    matrix : array (k, k) or (s, k, k)
        A, for all stations or one for each.
    motion : array (s, k, n)
        T.
    width : array (s,)
        [m]

    Returns
    -------
    array (n, n)
    """
    size = motion.shape[-1]
    weighted = (width[:, None, None] * motion).reshape(-1, size)
    felt: Array = weighted.T @ (matrix @ motion).reshape(-1, size)
    return felt


def wake_groups(stations: Sequence[Stations]) -> tuple[WakeGroup, ...]:
    """Gather the delayed forces by semichord, from the smallest on."""
    gathered: dict[float, list[tuple[Array, Array]]] = {}
    for part in stations:
        for semichord in np.unique(part.semichord):
            delayed = delayed_forces(part, part.semichord == semichord)
            gathered.setdefault(float(semichord), []).append(delayed)
    return tuple(
        WakeGroup(
            semichord,
            np.sum([damping for damping, _ in delayed], axis=0),
            np.sum([stiffness for _, stiffness in delayed], axis=0),
        )
        for semichord, delayed in sorted(gathered.items())
    )


def delayed_forces(part: Stations, chosen: Array) -> tuple[Array, Array]:
    """Give Σ width Tᵀ R (Tᵀ W)ᵀ of the chosen stations, from rates and from angles."""
    motion, width = part.motion[chosen], part.width[chosen]
    force, rates, angles = (
        (vector[chosen] if vector.ndim > 1 else vector)
        for vector in (part.air.circulation_force, part.air.downwash_of_rates, part.air.downwash_of_angles)
    )
    return integrated(outer(force, rates), motion, width), integrated(outer(force, angles), motion, width)


def point_mass(mass: float, displacement: Array) -> Array:
    """Give m v vᵀ: what a point mass adds, whose downward displacement is v · q.

    Parameters
    ----------
    mass : float
        m [kg].
    displacement : array (n,)
        v.

    Returns
    -------
    array (n, n)
        A mass on an arm l ahead of a control's hinge has v = [1, b(c - a) - l, -l]: the middle entry,
        the lever in pitch, is as real as the last.
    """
    return mass * np.outer(displacement, displacement)


def symmetric(rows: Sequence[Sequence[float]]) -> Array:
    """Make a symmetric matrix of its lower triangle."""
    size = len(rows)
    matrix = np.zeros((size, size))
    for i, row in enumerate(rows):
        for j, entry in enumerate(row):
            matrix[i, j] = matrix[j, i] = entry
    return matrix
