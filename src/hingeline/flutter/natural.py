"""Natural frequencies and modes in vacuo, and damping that is stated mode by mode."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.system import Array

TWO_PI = 2.0 * float(np.pi)
# Rounding leaves this part of the largest eigenvalue where there is no stiffness at all.
ROUNDING = 64.0 * float(np.finfo(np.float64).eps)


@dataclass(frozen=True, slots=True)
class NaturalModes:
    """Undamped modes without air, by rising frequency.

    Parameters
    ----------
    frequencies : array (n,)
        [Hz]; exactly 0 where nothing holds a motion.
    shapes : array (n, n)
        Column r is mode r, with Φᵀ M Φ = 1.
    """

    frequencies: Array
    shapes: Array


def natural_modes(mass: Array, stiffness: Array) -> NaturalModes:
    """Find the undamped modes of M and K.

    Parameters
    ----------
    mass, stiffness : array (n, n)
        M and K [SI], symmetric.

    Returns
    -------
    NaturalModes

    Raises
    ------
    InputRefused
        M is not the mass of anything: a static moment is too large for its mass and inertia.

    Notes
    -----
    K φ = ω² M φ by Cholesky of M, scaled by its diagonal (Rayleigh; common practice, no source).

    Examples
    --------
    >>> import numpy as np
    >>> natural_modes(np.eye(2), np.diag([0.0, (2 * np.pi) ** 2])).frequencies.tolist()
    [0.0, 1.0]
    """
    diagonal = np.diag(mass)
    scale = 1.0 / np.sqrt(np.where(diagonal > 0.0, diagonal, np.nan))
    root = np.linalg.inv(cholesky(mass * np.outer(scale, scale)))
    standard = root @ (stiffness * np.outer(scale, scale)) @ root.T
    squares, vectors = np.linalg.eigh((standard + standard.T) / 2.0)
    squares[np.abs(squares) <= ROUNDING * np.max(np.abs(squares), initial=0.0)] = 0.0
    frequencies = np.sqrt(np.maximum(squares, 0.0)) / TWO_PI
    return NaturalModes(frequencies, scale[:, None] * (root.T @ vectors))


def cholesky(mass: Array) -> Array:
    """Factor a mass matrix; refuse one that would let something move without any kinetic energy."""
    try:
        if not np.all(np.isfinite(mass)):
            raise np.linalg.LinAlgError
        factor = np.asarray(np.linalg.cholesky(mass), dtype=np.float64)
    except np.linalg.LinAlgError:
        raise InputRefused.of(
            "mass",
            "masses, static moments and inertias together",
            "numbers that a real body can have: each static moment at most √(mass x inertia)",
            "Check the units, and that every inertia is about the elastic axis or the hinge line, not the centre of "
            "gravity.",
        ) from None
    return factor


def modal_damping(mass: Array, modes: NaturalModes, ratios: Sequence[float]) -> Array:
    """Give the viscous damping matrix that has these damping ratios in the in-vacuo modes.

    Parameters
    ----------
    mass : array (n, n)
        M [SI].
    modes : NaturalModes
    ratios : sequence of float
        ζ by rising frequency, one for each mode [1].

    Returns
    -------
    array (n, n)
        D = M Φ diag(2 ζ ω) Φᵀ M. A mode without stiffness gets none: ζ means nothing there.
    """
    carried = mass @ modes.shapes
    rates = 2.0 * np.asarray(ratios, dtype=np.float64) * TWO_PI * modes.frequencies
    damping: Array = carried @ np.diag(rates) @ carried.T
    return damping
