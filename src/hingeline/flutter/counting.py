"""How many roots grow at one speed: counted by the argument principle, without looking for any of them.

The determinant's phase turns once for every root inside a closed path. In q = ln p the region of the
growing oscillations is a rectangle: from a hair beside the imaginary axis (Re p > 1e-9 |p|) to a small
angle beside the real axis, up to a radius beyond which no root can lie. Roots at smaller angles grow
without swinging back; they belong to divergence and are left out on purpose.

The path is refined until each step is short against the distance to every root near it, so that
two lightly damped roots side by side cannot hide each other's turn.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hingeline.errors import RoutesDisagree
from hingeline.flutter.system import (
    AeroelasticSystem,
    ComplexArray,
    Wake,
    dynamic_matrix,
    matrix_by_root,
    merged,
    scaled,
    stiffness_with_damping,
    whole_mass,
)

GROWING = 1e-9
"""A mode grows when Re p > 1e-9 |p|."""
SMALLEST_ANGLE = 0.02
SMALLEST_PART = 1e-7
LONGEST_STEP = 0.7
FINEST = 60

Indices = np.ndarray[tuple[int], np.dtype[np.int64]]


@dataclass(frozen=True, slots=True)
class _Points:
    """Points of the path in q = ln p, in order, with the determinant's phase and rate there."""

    q: ComplexArray
    phase: ComplexArray
    rate: ComplexArray


def largest_root(system: AeroelasticSystem, speed: float) -> float:
    """Give a radius [1/s] beyond which no growing root can lie.

    Parameters
    ----------
    system : AeroelasticSystem
        Scaled.
    speed : float
        [m/s]

    Returns
    -------
    float

    Notes
    -----
    |p|² > |p| |B| + |S| keeps p² (M + Ma) the largest term, with |C| ≤ 1 for Re p ≥ 0 (Cauchy's bound on a
    polynomial's roots, for matrices; norms after (M + Ma)⁻¹).
    """
    inverse = np.linalg.inv(whole_mass(system))
    linear = np.linalg.norm(inverse @ system.damping, 2) + speed * np.linalg.norm(inverse @ system.air_damping, 2)
    constant = np.linalg.norm(inverse @ stiffness_with_damping(system), 2)
    constant += speed**2 * np.linalg.norm(inverse @ system.air_stiffness, 2)
    for group in system.wakes:
        linear += speed * np.linalg.norm(inverse @ group.damping, 2)
        constant += speed**2 * np.linalg.norm(inverse @ group.stiffness, 2)
    return 1.01 * float(linear + np.sqrt(linear**2 + 4 * constant)) / 2


def count_growing(
    system: AeroelasticSystem, speed: float, wake: Wake, *, smallest_angle: float = SMALLEST_ANGLE
) -> int:
    """Count the growing oscillations at one speed.

    Parameters
    ----------
    system : AeroelasticSystem
    speed : float
        True airspeed [m/s].
    wake : callable
        C of the reduced root, analytic for Re p > 0.
    smallest_angle : float
        Roots with a smaller angle from the real axis are left out [rad].

    Returns
    -------
    int
        Roots with Re p > 1e-9 |p| and Im p > 0.

    Raises
    ------
    RoutesDisagree
        The phase does not come back to itself: a root lies on the path to the last digit.

    Notes
    -----
    Argument principle (Cauchy): turns of det A along the path, no poles inside.
    """
    plain, _ = scaled(merged(system))
    largest = largest_root(plain, speed)
    return count_inside(plain, speed, wake, (largest * SMALLEST_PART, largest), (smallest_angle, np.pi / 2 - GROWING))


def count_inside(
    system: AeroelasticSystem,
    speed: float,
    wake: Wake,
    radii: tuple[float, float],
    angles: tuple[float, float],
) -> int:
    """Count the roots between two radii [1/s] and two angles [rad], in a scaled system."""
    (inner, outer), (low, high) = np.log(radii), angles
    corners = [complex(inner, low), complex(outer, low), complex(outer, high), complex(inner, high)]
    turned = 0.0
    for start, end in zip(corners, corners[1:] + corners[:1], strict=True):
        turned += _turned_along(system, speed, wake, start, end)
    turns = turned / (2 * np.pi)
    if abs(turns - round(turns)) > 1e-6 or round(turns) < 0:
        raise RoutesDisagree("number of growing roots", f"{turns!r}", "a whole number", "1e-6")
    return round(turns)


def _turned_along(system: AeroelasticSystem, speed: float, wake: Wake, start: complex, end: complex) -> float:
    """Give by how much the determinant's phase turns along one side [rad]."""
    number = max(8, int(4 * abs(end - start)))
    points = _evaluate(system, speed, wake, np.asarray(start + (end - start) * np.linspace(0, 1, number + 1)))
    for _ in range(FINEST):
        far = _too_far(points)
        if not far.any():
            return float(np.angle(points.phase[1:] / points.phase[:-1]).sum())
        middles = (points.q[:-1][far] + points.q[1:][far]) / 2
        points = _inserted(
            points, _evaluate(system, speed, wake, middles), np.asarray(np.flatnonzero(far) + 1, dtype=np.int64)
        )
    raise RoutesDisagree("number of growing roots", "a root on the path", "a path free of roots", "0")


def _too_far(points: _Points) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Say which steps are long against the distance to a root."""
    step = np.abs(np.diff(points.q))
    size = np.abs(points.rate)
    turn = np.abs(np.angle(points.phase[1:] / points.phase[:-1]))
    return (step * np.maximum(size[:-1], size[1:]) > LONGEST_STEP * FREE) | (turn > LONGEST_STEP)


FREE = 2.0
"""Each root far inside contributes up to two to the rate d ln det/d ln p: that alone is no sign of nearness."""


def _evaluate(system: AeroelasticSystem, speed: float, wake: Wake, q: ComplexArray) -> _Points:
    """Give phase and logarithmic rate of the determinant."""
    p = np.exp(q)
    matrix = dynamic_matrix(system, p, speed, wake)
    phase, _ = np.linalg.slogdet(matrix)
    by_root = matrix_by_root(system, p, speed, wake)
    rate = p * np.trace(np.linalg.solve(matrix, by_root), axis1=-2, axis2=-1)
    return _Points(q, phase, rate)


def _inserted(points: _Points, more: _Points, places: Indices) -> _Points:
    return _Points(
        np.insert(points.q, places, more.q),
        np.insert(points.phase, places, more.phase),
        np.insert(points.rate, places, more.rate),
    )
