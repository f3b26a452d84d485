"""Second routes to the strip's air forces, for the tests: matrices compared, pressures integrated pointwise."""

from __future__ import annotations

from typing import Any

import numpy as np

from hingeline.flutter.pressure_series import flap_camber, pitch_camber, plunge_camber
from hingeline.flutter.strip_air import StripAir
from hingeline.flutter.wake import theodorsen

MATRICES = ("apparent_mass", "air_damping", "air_stiffness", "delayed_damping", "delayed_stiffness")
Matrix = np.ndarray[Any, np.dtype[np.complex128]]


def differences(one: StripAir, other: StripAir) -> dict[str, float]:
    """Give the largest difference of each matrix, over the largest entry of its row and column in any matrix.

    A small entry, such as a tab's, is so compared with forces of its own size.
    """
    size = np.sum([np.abs(getattr(other, name)) for name in MATRICES], axis=0)
    scale = np.sqrt(np.outer(np.diag(size), np.diag(size)))
    return {name: float(np.max(np.abs(getattr(one, name) - getattr(other, name)) / scale)) for name in MATRICES}


def worst(one: StripAir, other: StripAir) -> float:
    """Give the largest of all differences."""
    return max(differences(one, other).values())


def forces(air: StripAir, root: complex, speed: float) -> Matrix:
    """Give A of the air alone at one root and speed."""
    c = theodorsen(root * air.semichord / speed)
    damping = air.air_damping + c * air.delayed_damping
    stiffness = air.air_stiffness + c * air.delayed_stiffness
    return root**2 * air.apparent_mass + root * speed * damping + speed**2 * stiffness


def integrated_pressures(
    semichord: float, axis: float, hinges: list[float], density: float, root: complex, speed: float
) -> Matrix:
    """Sum the pressure at points along the chord and integrate it over each freedom's shape, point by point.

    The shapes are the drawn ones (straight lines with kinks), not their series.
    """
    b, u, p, terms = semichord, speed, root, 1200
    angle = (np.arange(4000) + 0.5) * np.pi / 4000
    x = np.cos(angle)
    shapes = [np.ones_like(x), b * (x - axis), *[np.where(x > c, b * (x - c), 0.0) for c in hinges]]
    cambers = [plunge_camber(terms), pitch_camber(b, axis, terms), *[flap_camber(b, c, terms) for c in hinges]]
    n = np.arange(1, terms + 1)
    waves = np.sin(np.outer(angle, n))
    columns = []
    for camber in cambers:
        w = p * camber.displacement + u * camber.slope
        lead = theodorsen(p * b / u) * (w[0] + w[1]) - w[1]
        series = waves @ (w[1:-1] + p * b / u * (w[:-2] - w[2:]) / (2 * n))
        pressure = 2 * density * u * lead * np.tan(angle / 2) + 4 * density * u * series
        columns.append([np.sum(pressure * shape * np.sin(angle)) * b * np.pi / 4000 for shape in shapes])
    return np.array(columns).T
