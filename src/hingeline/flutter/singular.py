"""Where the dynamic matrix is singular: null vectors, and one smooth number that vanishes there.

A determinant of forty freedoms spans hundreds of decades and has no useful neighbourhood.
The bordered matrix has:

    [A  l] [x]   [0]
    [rᴴ 0] [m] = [1]        m = 0 exactly where A is singular, and dm = -yᵀ dA x

with y the same thing of Aᵀ. x and y are the right and left null vectors there.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hingeline.flutter.system import (
    AeroelasticSystem,
    ComplexArray,
    Wake,
    dynamic_matrix,
    matrix_by_root,
    matrix_by_speed,
)

LARGEST_STEPS = 40


@dataclass(frozen=True, slots=True)
class Bordered:
    """The bordered solution at one (p, U).

    Parameters
    ----------
    measure : complex
        m: zero where the matrix is singular.
    right, left : array (n,)
        x with A x = 0, and y with yᵀ A = 0, at the zero.
    """

    measure: complex
    right: ComplexArray
    left: ComplexArray

    def change(self, by: ComplexArray) -> complex:
        """Give the change of the measure with the matrix: -yᵀ A' x."""
        return complex(-(self.left @ by @ self.right))


@dataclass(frozen=True, slots=True)
class Border:
    """The two vectors that border the matrix: near its null vectors, and then held."""

    column: ComplexArray
    row: ComplexArray

    @classmethod
    def of(cls, matrix: ComplexArray) -> Border:
        """Take them from the smallest singular value."""
        left, _, right = np.linalg.svd(matrix)
        return cls(left[:, -1], right[-1])

    def solve(self, matrix: ComplexArray) -> Bordered:
        """Solve the bordered matrix and its transpose."""
        size = len(matrix)
        whole = np.zeros((size + 1, size + 1), dtype=complex)
        whole[:size, :size] = matrix
        whole[:size, size] = self.column * np.abs(matrix).max()
        whole[size, :size] = self.row
        unit = np.zeros(size + 1)
        unit[size] = 1
        right: ComplexArray = np.asarray(np.linalg.solve(whole, unit), dtype=np.complex128)
        left: ComplexArray = np.asarray(np.linalg.solve(whole.T, unit), dtype=np.complex128)
        return Bordered(complex(right[size]), right[:size], left[:size])


@dataclass(frozen=True, slots=True)
class Singular:
    """A place where A(p, U) is singular.

    Parameters
    ----------
    p : complex
        [1/s]
    speed : float
        [m/s]
    right, left : array (n,)
        Null vectors: A x = 0, yᵀ A = 0.
    drift : complex
        dp/dU along the root [1/m].
    """

    p: complex
    speed: float
    right: ComplexArray
    left: ComplexArray
    drift: complex


def refine_root(system: AeroelasticSystem, start: complex, speed: float, wake: Wake) -> Singular | None:
    """Find the root p near a start, at one speed, by Newton.

    Parameters
    ----------
    system : AeroelasticSystem
    start : complex
        [1/s]
    speed : float
        [m/s]
    wake : callable

    Returns
    -------
    Singular or None
        None where the steps do not settle, or leave the upper half plane.
    """
    p, step = start, complex(start)
    border = Border.of(dynamic_matrix(system, p, speed, wake))
    for _ in range(LARGEST_STEPS):
        now = border.solve(dynamic_matrix(system, p, speed, wake))
        slope = now.change(matrix_by_root(system, p, speed, wake))
        step = -now.measure / slope if slope else complex("nan")
        if not np.isfinite(step):
            return None
        if abs(step) > 0.3 * abs(p):
            step *= 0.3 * abs(p) / abs(step)
        p += step
        if p.imag <= 0:
            return None
        if abs(step) < 1e-13 * abs(p):
            return settle(system, p, speed, wake)
    return settle(system, p, speed, wake) if abs(step) < 1e-10 * abs(p) else None


def refine_neutral(system: AeroelasticSystem, start: tuple[float, float], wake: Wake) -> Singular | None:
    """Find the neutral point det A(i ω, U) = 0 near a start, by Newton in ω and U.

    Parameters
    ----------
    system : AeroelasticSystem
    start : (float, float)
        ω [rad/s], U [m/s].
    wake : callable

    Returns
    -------
    Singular or None
        None where the steps do not settle.
    """
    at = np.array(start, dtype=float)
    border = Border.of(dynamic_matrix(system, 1j * at[0], at[1], wake))
    step = at
    for _ in range(LARGEST_STEPS):
        step = _neutral_step(system, border, at, wake)
        if not np.all(np.isfinite(step)) or np.any(np.abs(step) > 0.5 * at):
            return None
        at = at + step
        if np.all(np.abs(step) < 1e-13 * at):
            break
    if np.any(np.abs(step) > 1e-10 * at):
        return None
    return settle(system, 1j * at[0], float(at[1]), wake)


def _neutral_step(
    system: AeroelasticSystem, border: Border, at: np.ndarray[tuple[int], np.dtype[np.float64]], wake: Wake
) -> np.ndarray[tuple[int], np.dtype[np.float64]]:
    """Give Newton's step of the two real equations Re m = Im m = 0."""
    p, speed = 1j * at[0], float(at[1])
    now = border.solve(dynamic_matrix(system, p, speed, wake))
    by_frequency = 1j * now.change(matrix_by_root(system, p, speed, wake))
    by_speed = now.change(matrix_by_speed(system, p, speed, wake))
    equations = np.array([[by_frequency.real, by_speed.real], [by_frequency.imag, by_speed.imag]])
    wanted = -np.array([now.measure.real, now.measure.imag])
    size = equations[0, 0] * equations[1, 1] - equations[0, 1] * equations[1, 0]
    if size == 0:
        return np.full(2, np.nan)
    return np.asarray(np.linalg.solve(equations, wanted))


def settle(system: AeroelasticSystem, p: complex, speed: float, wake: Wake) -> Singular:
    """Give null vectors and drift dp/dU = -(y A_U x)/(y A_p x) at a root that is known."""
    matrix = dynamic_matrix(system, p, speed, wake)
    now = Border.of(matrix).solve(matrix)
    by_root = now.change(matrix_by_root(system, p, speed, wake))
    by_speed = now.change(matrix_by_speed(system, p, speed, wake))
    drift = -by_speed / by_root if by_root else complex("nan")
    return Singular(complex(p), speed, now.right, now.left, drift)
