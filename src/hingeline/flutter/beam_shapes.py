"""Shapes of a uniform cantilever beam in bending and in torsion, 1 at the tip."""

from __future__ import annotations

import math
from functools import lru_cache

import numpy as np

from hingeline.flutter.system import Array


@lru_cache(maxsize=32)
def bending_numbers(count: int) -> Array:
    """Find the first roots of cos x cosh x = -1.

    Parameters
    ----------
    count : int

    Returns
    -------
    array (count,)
        β L of each bending mode: 1.8751, 4.6941, 7.8548, …

    Notes
    -----
    Clamped-free uniform beam (Rayleigh, Theory of Sound, chapter VIII; from memory). Newton on
    cos x + 1/cosh x, which stays small where cosh x does not.
    """
    roots = np.pi * (np.arange(count, dtype=np.float64) + 0.5)
    roots[:1] = 1.8751
    for _ in range(20):
        roots = roots - (np.cos(roots) + 1.0 / np.cosh(roots)) / (-np.sin(roots) - np.tanh(roots) / np.cosh(roots))
    # Kept for the next wing: nobody may write into them.
    roots.setflags(write=False)
    return np.asarray(roots, dtype=np.float64)


def bending_shapes(count: int, along: Array) -> Array:
    """Give the bending shapes of a clamped-free beam.

    Parameters
    ----------
    count : int
        Modes.
    along : array (s,)
        Places, y/L from the clamp [1].

    Returns
    -------
    array (s, count)
        φ, 1 at the tip. ∫ φ² dy = L/4; the curvature stiffness is EI (β L)⁴/(4 L³).

    Notes
    -----
    φ = cosh - cos - σ (sinh - sin). The growing exponential has the factor 1 - σ, which is computed
    by itself, so that high modes keep their digits.
    """
    numbers = bending_numbers(count)
    growth = along[:, None] * numbers
    bottom = np.cosh(numbers) + np.cos(numbers)
    rest = (np.exp(-numbers) + np.cos(numbers) + np.sin(numbers)) / bottom
    ratio = 1.0 - rest
    shapes = (rest * np.exp(growth) + (1.0 + ratio) * np.exp(-growth)) / 2.0 - np.cos(growth) + ratio * np.sin(growth)
    # At the tip the clamped-free shape is 2 (-1)^i in this normalisation.
    scaled: Array = shapes / (2.0 * (-1.0) ** np.arange(count))
    return scaled


def torsion_shapes(count: int, along: Array) -> Array:
    """Give the torsion shapes sin((2 j - 1) π y/2 L) of a clamped-free beam, 1 at the tip.

    Parameters
    ----------
    count : int
        Modes.
    along : array (s,)
        y/L [1].

    Returns
    -------
    array (s, count)
        ψ; ∫ ψ² dy = L/2.
    """
    numbers = torsion_numbers(count)
    shapes: Array = np.sin(along[:, None] * numbers) * (-1.0) ** np.arange(count)
    return shapes


def torsion_numbers(count: int) -> Array:
    """Give (2 j - 1) π/2 of each torsion mode."""
    return np.asarray(math.pi * (np.arange(count) + 0.5), dtype=np.float64)
