"""Where the air's static moment overcomes the stiffness: divergence, from static stiffness alone.

A root goes through p = 0 there, where C = 1. Nothing is tracked: U² is an eigenvalue.
"""

from __future__ import annotations

import numpy as np

from hingeline.flutter.system import AeroelasticSystem, Array, scaled, static_air_stiffness

NOISE = 1e-11


def divergence_speeds(system: AeroelasticSystem) -> tuple[float, ...]:
    """Find all speeds at which a static position stops being held.

    Parameters
    ----------
    system : AeroelasticSystem

    Returns
    -------
    tuple of float
        True airspeed, rising [m/s]; empty where there is none, as with a pivot at or ahead of quarter chord.

    Notes
    -----
    det (K + U² (Kn + Σ Kc)) = 0. Freedoms that nothing holds keep their place in the stream by the air alone,
    at every speed in proportion; they are eliminated first. Closed form for a section in pitch:
    U² = K_α / (2 π ρ b² (1/2 + a)).
    """
    plain, _ = scaled(system)
    return speeds_of_zero(*without_free(plain.stiffness, static_air_stiffness(plain)))


def speeds_of_zero(stiffness: Array, air: Array) -> tuple[float, ...]:
    """Give the speeds where K + U² Ks is singular, for a K that is not.

    Parameters
    ----------
    stiffness, air : array (n, n)
        K and Ks.

    Returns
    -------
    tuple of float
        Rising [m/s].
    """
    if not len(stiffness):
        return ()
    flexible = -np.linalg.solve(stiffness, air)
    ratios = np.linalg.eigvals(flexible)
    size = np.linalg.norm(flexible)
    real = ratios.real[(np.abs(ratios.imag) <= NOISE * size) & (ratios.real > NOISE * size)]
    return tuple(sorted(float(1 / np.sqrt(ratio)) for ratio in real))


def without_free(stiffness: Array, air: Array) -> tuple[Array, Array]:
    """Eliminate what no spring holds: it lies where the air puts it.

    Parameters
    ----------
    stiffness, air : array (n, n)
        K, symmetric, and Ks.

    Returns
    -------
    (array, array)
        K and Ks of the rest. A free motion that the air does not hold either (a free plunge) is left out.
    """
    values, axes = np.linalg.eigh(stiffness)
    held = values > NOISE * max(float(np.abs(values).max(initial=0.0)), 1e-300)
    inside = axes.T @ air @ axes
    kept, free = np.flatnonzero(held), np.flatnonzero(~held)
    rest: Array = inside[np.ix_(kept, kept)]
    if len(free):
        lie = np.linalg.pinv(inside[np.ix_(free, free)], rcond=NOISE)
        rest = rest - inside[np.ix_(kept, free)] @ lie @ inside[np.ix_(free, kept)]
    return np.diag(values[held]), rest


def statically_unstable_when_free(system: AeroelasticSystem) -> bool:
    """Say whether a free control turns away at any speed, because the air itself pushes it on.

    Parameters
    ----------
    system : AeroelasticSystem

    Returns
    -------
    bool
        True where the air's static stiffness of what no spring holds has a negative determinant, or an
        eigenvalue below zero: then a root grows without swinging at every speed.
    """
    plain, _ = scaled(system)
    values, axes = np.linalg.eigh(plain.stiffness)
    free = axes[:, values <= NOISE * max(float(np.abs(values).max(initial=0.0)), 1e-300)]
    if not free.shape[1]:
        return False
    alone = np.linalg.eigvals(free.T @ static_air_stiffness(plain) @ free)
    size = float(np.abs(alone).max(initial=0.0))
    return bool(np.any((np.abs(alone.imag) < NOISE * size) & (alone.real < -NOISE * size)))
