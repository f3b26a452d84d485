"""Neutral points of a model without any damping, lag or rate force: where two frequencies meet.

With steady air and no damping the matrix is p² (M + Ma) + K + U² Ks, real. Below flutter every motion is
neutral, so that the k-method sees nothing; a motion grows where two values of ω² meet and turn complex.
"""

from __future__ import annotations

import numpy as np

from hingeline.flutter.neutral_points import NeutralPoint
from hingeline.flutter.system import (
    AeroelasticSystem,
    Array,
    ComplexArray,
    Wake,
    scaled,
    static_air_stiffness,
    whole_mass,
)

SPEEDS_LOOKED_AT = 400
COMPLEX = 1e-9


def is_undamped(system: AeroelasticSystem, wake: Wake) -> bool:
    """Say whether nothing in a system takes or gives energy in step with a velocity.

    Parameters
    ----------
    system : AeroelasticSystem
    wake : callable

    Returns
    -------
    bool
        No viscous or structural damping, no force from rates, C = 1 at all frequencies.
    """
    rates = [system.damping, system.structural_damping, system.air_damping, *(one.damping for one in system.wakes)]
    if any(part.any() for part in rates):
        return False
    return not system.wakes or bool(np.all(np.asarray(wake(np.array([0.1j, 1j]))) == 1))


def squares(system: AeroelasticSystem, speed: float) -> ComplexArray:
    """Give ω² of every motion at one speed, by rising real part [rad²/s²]."""
    matrix = system.stiffness + speed**2 * static_air_stiffness(system)
    values = np.linalg.eigvals(np.linalg.solve(whole_mass(system), matrix)).astype(complex)
    return values[np.argsort(values.real, kind="stable")]


def growing_pairs(system: AeroelasticSystem, speed: float) -> int:
    """Count the growing oscillations of an undamped system: pairs of complex ω²."""
    values = squares(scaled(system)[0], speed)
    return int(np.sum(values.imag > COMPLEX * np.abs(values)))


def find_coalescences(system: AeroelasticSystem, speeds: tuple[float, float]) -> tuple[NeutralPoint, ...]:
    """Find where two frequencies of an undamped system meet, or part again.

    Parameters
    ----------
    system : AeroelasticSystem
        For which :func:`is_undamped` holds.
    speeds : (float, float)
        [m/s]

    Returns
    -------
    tuple of NeutralPoint
        By speed. Windows much narrower than a four-hundredth of the range can be missed; ``drift`` is infinite
        there (two roots meet), and is given as 0.

    Notes
    -----
    Frequency coalescence, common practice. (ω1² - ω2²)² is smooth in U and changes sign there.
    """
    plain, unit = scaled(system)
    grid = np.linspace(*speeds, SPEEDS_LOOKED_AT)
    counts = [growing_pairs(plain, float(speed)) for speed in grid]
    found = [
        _point(plain, _between(plain, float(grid[index]), float(grid[index + 1]), counts[index]), unit,
               rising=counts[index + 1] > counts[index])
        for index in np.flatnonzero(np.diff(counts))
    ]  # fmt: skip
    return tuple(point for point in found if point is not None)


def _between(system: AeroelasticSystem, low: float, high: float, count: int) -> float:
    """Halve until the count changes within rounding."""
    for _ in range(200):
        middle = (low + high) / 2
        if middle in (low, high):
            break
        if growing_pairs(system, middle) == count:
            low = middle
        else:
            high = middle
    return (low + high) / 2


def _point(system: AeroelasticSystem, speed: float, unit: Array, *, rising: bool) -> NeutralPoint | None:
    """Give the motion in which two frequencies meet; None where a growth stops swinging (ω² below 0)."""
    matrix = np.linalg.solve(whole_mass(system), system.stiffness + speed**2 * static_air_stiffness(system))
    values, shapes = np.linalg.eig(matrix)
    apart = np.abs(values[:, None] - values[None, :]) + np.diag(np.full(len(values), np.inf))
    first, second = np.unravel_index(apart.argmin(), apart.shape)
    shape = shapes[:, first].astype(complex) * unit
    square = (values[first] + values[second]).real / 2
    if square <= 0:
        return None
    return NeutralPoint(speed, float(np.sqrt(square)), shape / np.abs(shape).max(), "into" if rising else "out of", 0j)
