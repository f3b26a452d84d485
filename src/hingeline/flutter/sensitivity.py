"""How the onset moves with each input: by derivative of the matrix, not by solving again."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.build import build_system
from hingeline.flutter.dotted import fields_of, must_be_positive, with_value
from hingeline.flutter.model import FlutterTask, Sensitivity
from hingeline.flutter.neutral_points import NeutralPoint
from hingeline.flutter.singular import settle
from hingeline.flutter.system import ComplexArray, dynamic_matrix, matrix_by_root, matrix_by_speed
from hingeline.flutter.wake import wake_named

RELATIVE_STEP = 1e-3
STEP_AT_ZERO = 1e-4
ROUNDING = 1e-12
"""Of the largest entry: a weighted sum of differences below it is no dependence."""
CENTRAL = ((-2.0, 1.0), (-1.0, -8.0), (1.0, 8.0), (2.0, -1.0))
FORWARD = ((0.0, -25.0), (1.0, 48.0), (2.0, -36.0), (3.0, 16.0), (4.0, -3.0))
"""Steps and weights of the derivative to fourth order, over 12 steps."""


def sensitivities(task: FlutterTask, point: NeutralPoint) -> tuple[Sensitivity, ...]:
    """Give how speed and frequency of an onset move with every number of the model.

    Parameters
    ----------
    task : FlutterTask
    point : NeutralPoint
        Of this task, with a root that is single there.

    Returns
    -------
    tuple of Sensitivity
        Largest elasticity first. Static moments and inertias are held where a length moves.

    Notes
    -----
    yᵀ A_par x + (yᵀ A_U x) dU + i (yᵀ A_p x) dω = 0, real and imaginary part. A_par is a difference of fourth
    order of the matrix at the same ω and U; A_U and A_p are exact. Common practice, own derivation.
    """
    system, wake = build_system(task), wake_named(task.wake)
    at = settle(system, 1j * point.angular_frequency, point.speed, wake)
    by_root, by_speed = (
        at.left @ slope(system, at.p, at.speed, wake) @ at.right for slope in (matrix_by_root, matrix_by_speed)
    )
    equations = np.array([[by_speed.real, (1j * by_root).real], [by_speed.imag, (1j * by_root).imag]])
    found = []
    for field, value in fields_of(task).items():
        by_field = at.left @ matrix_by_field(task, field, value, (at.p, at.speed)) @ at.right
        speed, frequency = np.linalg.solve(equations, [-by_field.real, -by_field.imag]).tolist()
        found.append(Sensitivity(field, speed, value * speed / point.speed, frequency / (2 * np.pi)))
    return tuple(sorted(found, key=lambda one: -abs(one.elasticity)))


def matrix_by_field(task: FlutterTask, field: str, value: float, at: tuple[complex, float]) -> ComplexArray:
    """Give the derivative of A(p, U) by one number of the model.

    Parameters
    ----------
    task : FlutterTask
    field : str
        Dotted name.
    value : float
        What it is now [SI].
    at : (complex, float)
        p [1/s], U [m/s].

    Returns
    -------
    array (n, n)
    """
    step = RELATIVE_STEP * abs(value) if value else STEP_AT_ZERO
    scheme = FORWARD if value == 0 and must_be_positive(task, field) else CENTRAL
    wake = wake_named(task.wake)
    total = sum(
        weight * dynamic_matrix(build_system(with_value(task, field, value + place * step)), *at, wake)
        for place, weight in scheme
    )
    largest = np.abs(dynamic_matrix(build_system(task), *at, wake)).max()
    return np.asarray(total / (12 * step)) if np.abs(total).max() > ROUNDING * largest else np.zeros_like(total)
