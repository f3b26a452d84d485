"""The common form of every flutter model, and the matrix that must be singular.

    A(p, U) = p² (M + Ma) + p (D + U Bn + U Σ C_s Bc_s) + K (1 + i g) + U² (Kn + Σ C_s Kc_s)

with C_s = C(p b_s/U), p the root [1/s], U the true airspeed [m/s]. Whatever a model is
made from (a strip, a tailplane, a wing, measured modes), it ends here; whatever asks for
roots, neutral points or limit cycles begins here.

Signs: plunge h of the reference axis positive down, pitch α nose up, control β (relative to
the main surface) and tab δ (relative to the control) trailing edge down; static moments
positive when the mass lies aft.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

Array = np.ndarray[Any, np.dtype[np.float64]]
ComplexArray = np.ndarray[Any, np.dtype[np.complex128]]
Wake = Callable[[Any], Any]
"""C of the reduced root p b/U, array in, array out; for a growing and a dying motion too."""


@dataclass(frozen=True, slots=True)
class WakeGroup:
    """Everything whose circulation is delayed by one wake function, of one semichord.

    Parameters
    ----------
    semichord : float
        b_s [m].
    damping : array (n, n)
        Bc_s.
    stiffness : array (n, n)
        Kc_s.
    """

    semichord: float
    damping: Array
    stiffness: Array


@dataclass(frozen=True, slots=True)
class AeroelasticSystem:
    """Structure and air of one model, in n freedoms.

    Parameters
    ----------
    freedoms : tuple of str
        Names, such as "plunge", "pitch", "surface", "tab", "bending 1", "weight on its arm".
    mass, damping, stiffness : array (n, n)
        M, D, K, real and symmetric.
    structural_damping : array (n,)
        g of each freedom's stiffness; K (1 + i g) acts on row and column alike (√ of both, diagonal K).
    apparent_mass, air_damping, air_stiffness : array (n, n)
        Ma, Bn, Kn: the air forces that are not delayed. They carry the density.
    wakes : tuple of WakeGroup
        The delayed ones.
    """

    freedoms: tuple[str, ...]
    mass: Array
    damping: Array
    stiffness: Array
    structural_damping: Array
    apparent_mass: Array
    air_damping: Array
    air_stiffness: Array
    wakes: tuple[WakeGroup, ...]


def stiffness_with_damping(system: AeroelasticSystem) -> ComplexArray:
    """Give K (1 + i g): structural damping as part of the stiffness, for Im p > 0.

    Parameters
    ----------
    system : AeroelasticSystem

    Returns
    -------
    array (n, n)
        K_jk (1 + i √(g_j g_k)).

    Notes
    -----
    Common practice, no source. It stands for a motion at one frequency; a root with Im p < 0 takes the conjugate.
    """
    root = np.sqrt(system.structural_damping)
    return system.stiffness * (1 + 1j * np.outer(root, root))


def whole_mass(system: AeroelasticSystem) -> Array:
    """Give M + Ma: what is accelerated, the air that goes along included."""
    return system.mass + system.apparent_mass


def static_air_stiffness(system: AeroelasticSystem) -> Array:
    """Give Kn + Σ Kc_s: the air's stiffness over U² in a steady state, where C = 1."""
    return system.air_stiffness + sum((group.stiffness for group in system.wakes), np.zeros_like(system.mass))


def largest_semichord(system: AeroelasticSystem) -> float:
    """Give the largest semichord of the wakes [m], to which a reduced frequency is referred; 1 without a wake."""
    return max((group.semichord for group in system.wakes), default=1.0)


def merged(system: AeroelasticSystem) -> AeroelasticSystem:
    """Put together the wakes of equal semichord: the same matrix, fewer terms."""
    groups: dict[float, WakeGroup] = {}
    for one in system.wakes:
        had = groups.get(one.semichord)
        groups[one.semichord] = one if had is None else _sum(had, one)
    return replace(system, wakes=tuple(groups.values()))


def _sum(first: WakeGroup, second: WakeGroup) -> WakeGroup:
    return WakeGroup(first.semichord, first.damping + second.damping, first.stiffness + second.stiffness)


def scaled(system: AeroelasticSystem) -> tuple[AeroelasticSystem, Array]:
    """Measure every freedom in the unit that makes its mass, air included, one.

    Parameters
    ----------
    system : AeroelasticSystem

    Returns
    -------
    AeroelasticSystem
        The same roots; all entries of like size, whatever the units of the freedoms were.
    array (n,)
        The unit of each freedom: a shape of the given system is the unit times that of the scaled one.
    """
    unit: Array = 1 / np.sqrt(np.diag(whole_mass(system)))
    both = np.outer(unit, unit)
    return replace(
        system,
        mass=system.mass * both,
        damping=system.damping * both,
        stiffness=system.stiffness * both,
        apparent_mass=system.apparent_mass * both,
        air_damping=system.air_damping * both,
        air_stiffness=system.air_stiffness * both,
        wakes=tuple(WakeGroup(one.semichord, one.damping * both, one.stiffness * both) for one in system.wakes),
    ), unit


def _spread(values: Any) -> Any:
    """Give two more axes, so that a value goes with a matrix."""
    return np.asarray(values)[..., None, None]


def dynamic_matrix(system: AeroelasticSystem, p: Any, speed: Any, wake: Wake) -> ComplexArray:
    """Give A(p, U), whose determinant vanishes at a root.

    Parameters
    ----------
    system : AeroelasticSystem
    p : complex or array
        Root, Im p > 0 [1/s].
    speed : float or array
        True airspeed, above 0 [m/s].
    wake : callable
        C of the reduced root p b/U.

    Returns
    -------
    array (..., n, n)
        A for every pair of ``p`` and ``speed``, broadcast against each other.

    Notes
    -----
    A = p² (M + Ma) + p (D + U Bn + U Σ C_s Bc_s) + K (1 + i g) + U² (Kn + Σ C_s Kc_s).
    """
    p, speed = np.broadcast_arrays(np.asarray(p, dtype=complex), np.asarray(speed, dtype=float))
    root, flow = _spread(p), _spread(speed)
    matrix = root * (root * whole_mass(system) + system.damping) + stiffness_with_damping(system)
    matrix = matrix + flow * (root * system.air_damping + flow * system.air_stiffness)
    for group in system.wakes:
        delayed = _spread(wake(p * (group.semichord / speed)))
        matrix = matrix + delayed * flow * (root * group.damping + flow * group.stiffness)
    return np.asarray(matrix)


_CIRCLE = np.exp(2j * np.pi * np.arange(6) / 6)
_RADIUS = 0.01


def wake_slope(wake: Wake, reduced: Any) -> Any:
    """Give dC/ds from C on a small circle about s: true to 1e-12 where C is analytic there.

    Parameters
    ----------
    wake : callable
    reduced : complex or array
        s = p b/U [1].

    Returns
    -------
    complex or array
        Cauchy's integral by six points at a hundredth of |s| (the branch point is at 0, |s| away).
    """
    reduced = np.asarray(reduced, dtype=complex)
    radius = _RADIUS * np.maximum(np.abs(reduced), 1e-12)
    around = wake(reduced[..., None] + radius[..., None] * _CIRCLE)
    return np.mean(np.asarray(around) / _CIRCLE, axis=-1) / radius


def matrix_by_root(system: AeroelasticSystem, p: Any, speed: Any, wake: Wake) -> ComplexArray:
    """Give ∂A/∂p, at the speed held.

    Parameters
    ----------
    system, p, speed, wake
        As of :func:`dynamic_matrix`.

    Returns
    -------
    array (..., n, n)

    Notes
    -----
    2 p (M + Ma) + D + U Bn + U Σ C Bc + Σ C' (b/U)(p U Bc + U² Kc).
    """
    p, speed = np.broadcast_arrays(np.asarray(p, dtype=complex), np.asarray(speed, dtype=float))
    root, flow = _spread(p), _spread(speed)
    matrix = 2 * root * whole_mass(system) + system.damping + flow * system.air_damping
    for group in system.wakes:
        reduced = p * (group.semichord / speed)
        delayed, slope = _spread(wake(reduced)), _spread(wake_slope(wake, reduced))
        inner = root * group.damping + flow * group.stiffness
        matrix = matrix + delayed * flow * group.damping + slope * group.semichord * inner
    return np.asarray(matrix)


def matrix_by_speed(system: AeroelasticSystem, p: Any, speed: Any, wake: Wake) -> ComplexArray:
    """Give ∂A/∂U, at the root held.

    Parameters
    ----------
    system, p, speed, wake
        As of :func:`dynamic_matrix`.

    Returns
    -------
    array (..., n, n)

    Notes
    -----
    p Bn + p Σ C Bc + 2 U (Kn + Σ C Kc) - Σ C' (p b/U²)(p U Bc + U² Kc).
    """
    p, speed = np.broadcast_arrays(np.asarray(p, dtype=complex), np.asarray(speed, dtype=float))
    root, flow = _spread(p), _spread(speed)
    matrix = root * system.air_damping + 2 * flow * system.air_stiffness
    for group in system.wakes:
        reduced = p * (group.semichord / speed)
        delayed, slope = _spread(wake(reduced)), _spread(wake_slope(wake, reduced) * reduced)
        inner = root * group.damping + flow * group.stiffness
        matrix = matrix + delayed * (root * group.damping + 2 * flow * group.stiffness) - slope * inner
    return np.asarray(matrix)
