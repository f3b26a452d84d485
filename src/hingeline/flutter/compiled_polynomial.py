"""The determinant's polynomial inside compiled loops: on a grid of steady motions, and at one of them.

See ``determinants`` for what the coefficients are, and ``fast_scan`` for R. A sample's coefficients come as a pair:
their real parts, and their imaginary parts, of which there are none without structural damping.
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np

from hingeline.flutter.compiled_wake import on_the_line, value_on_the_line
from hingeline.flutter.compiling import compiled
from hingeline.flutter.determinants import LEAST_WAKES

CUBE = 4
ROUNDS, ENOUGH = 60, 1e-9
APART, OFF = 0.4 + 0.9j, 1e-3j
THIRD, TINY = float(2 * np.pi / 3), 1e-300


Four = tuple[float, float, float, float]


class Local(NamedTuple):
    """The determinant over z^free, its derivatives by z and by ln k, and how large its terms are."""

    value: complex
    by_square: complex
    by_log: complex
    size: float


@compiled
def _row(v: Any, j: int, u: float, ahead: float, behind: float) -> tuple[float, float]:
    """Give real and imaginary part of the coefficient of z^j, at 1/k, Re C, Im C."""
    p, q, w = v[j, 0], v[j, 1], u * u
    real, turned = p[0] - w * (p[2] - w * (p[4] - w * p[6])), u * (p[1] - w * (p[3] - w * p[5]))
    late, later = q[0] - w * (q[2] - w * (q[4] - w * q[6])), u * (q[1] - w * (q[3] - w * q[5]))
    return real + ahead * late - behind * later, turned + ahead * later + behind * late


@compiled
def _long_row(v: Any, j: int, u: float, ahead: float, behind: float) -> tuple[float, float]:
    """Give the same where C², or C³ too, comes in (Horner)."""
    real, turned, w = 0.0, 0.0, u * u
    for power in range(v.shape[1] - 1, -1, -1):
        p = v[j, power]
        real, turned = (
            p[0] - w * (p[2] - w * (p[4] - w * p[6])) + ahead * real - behind * turned,
            u * (p[1] - w * (p[3] - w * p[5])) + ahead * turned + behind * real,
        )
    return real, turned


@compiled
def _eliminated(free: int, a: Four, b: Four) -> float:
    """Give R of real and imaginary coefficients, of which so many of the lowest are missing."""
    d32 = a[3] * b[2] - a[2] * b[3]
    if free == 2:
        return d32
    d21, d31 = a[2] * b[1] - a[1] * b[2], a[3] * b[1] - a[1] * b[3]
    if free == 1:
        return d21 * d32 - d31 * d31
    d10, d20, d30 = a[1] * b[0] - a[0] * b[1], a[2] * b[0] - a[0] * b[2], a[3] * b[0] - a[0] * b[3]
    middle = d30 + d21
    return d10 * (middle * d32 - d31 * d31) - d20 * (d20 * d32 - d31 * d30) + d30 * (d20 * d31 - middle * d30)


@compiled
def _fill(v: Any, grid: Any, rows: Any, size: int) -> None:
    """Write down what one set of coefficients gives at many places."""
    if v.shape[1] > LEAST_WAKES:
        for j in range(CUBE):
            for place in range(size):
                rows[0, j, place], rows[1, j, place] = _long_row(v, j, grid[0, place], grid[1, place], grid[2, place])
        return
    for j in range(CUBE):
        for place in range(size):
            rows[0, j, place], rows[1, j, place] = _row(v, j, grid[0, place], grid[1, place], grid[2, place])


@compiled
def _column(rows: Any, place: int) -> Four:
    return rows[0, place], rows[1, place], rows[2, place], rows[3, place]


@compiled
def resultants(values: Any, free: int, grid: Any, rows: Any, out: Any) -> None:
    """Compute R at places given by 1/k, Re C, Im C, in loops that the compiler can run several at a time."""
    _fill(values[0], grid, rows[:2], len(out))
    if len(values[1]):
        _fill(values[1], grid, rows[2:], len(out))
        for j in range(CUBE):
            for place in range(len(out)):
                rows[0, j, place] -= rows[3, j, place]
                rows[1, j, place] += rows[2, j, place]
    if free == 0:
        for place in range(len(out)):
            out[place] = _eliminated(0, _column(rows[0], place), _column(rows[1], place))
    else:
        for place in range(len(out)):
            out[place] = _eliminated(free, _column(rows[0], place), _column(rows[1], place))


@compiled
def _both(values: Any, j: int, u: float, delay: complex) -> complex:
    """Give the coefficient of z^j at one place."""
    a, b = _long_row(values[0], j, u, delay.real, delay.imag)
    if len(values[1]):
        more, turned = _long_row(values[1], j, u, delay.real, delay.imag)
        return complex(a - turned, b + more)
    return complex(a, b)


@compiled
def resultant_at(values: Any, free: int, log: float, table: Any) -> float:
    """Give R at one ln k."""
    delay, u = value_on_the_line(table, log), np.exp(-log)
    if not len(values[1]) and values[0].shape[1] == LEAST_WAKES:
        v, ahead, behind = values[0], delay.real, delay.imag
        (a0, b0), (a1, b1) = _row(v, 0, u, ahead, behind), _row(v, 1, u, ahead, behind)
        (a2, b2), (a3, b3) = _row(v, 2, u, ahead, behind), _row(v, 3, u, ahead, behind)
        return _eliminated(free, (a0, a1, a2, a3), (b0, b1, b2, b3))
    c0, c1 = _both(values, 0, u, delay), _both(values, 1, u, delay)
    c2, c3 = _both(values, 2, u, delay), _both(values, 3, u, delay)
    return _eliminated(free, (c0.real, c1.real, c2.real, c3.real), (c0.imag, c1.imag, c2.imag, c3.imag))


@compiled
def _changes(v: Any, j: int, u: float, delay: complex, slope: complex) -> tuple[complex, complex, float]:
    """Give the coefficient of z^j, its derivative by ln k, and the sum of its terms' sizes, of one set (Horner)."""
    value, change, size, w = 0j, 0j, 0.0, u * u
    for power in range(v.shape[1] - 1, -1, -1):
        p = v[j, power]
        p1, p2, p3, p4, p5, p6 = u * p[1], w * p[2], u * w * p[3], w * w * p[4], u * w * w * p[5], w * w * w * p[6]
        here, moved = (
            complex(p[0] - p2 + p4 - p6, p1 - p3 + p5),
            complex(2 * p2 - 4 * p4 + 6 * p6, -p1 + 3 * p3 - 5 * p5),
        )
        change = moved + delay * change + slope * value
        value = here + delay * value
        size += abs(p[0]) + abs(p1) + abs(p2) + abs(p3) + abs(p4) + abs(p5) + abs(p6)
    return value, change, size


@compiled
def coefficients_at(values: Any, free: int, log: float, table: Any, found: Any) -> Any:
    """Write down the coefficients over z^free at one ln k, their derivatives by ln k, and their sizes: (3, 4)."""
    delay, slope = on_the_line(table, log)
    u = np.exp(-log)
    for j in range(free, CUBE):
        value, change, size = _changes(values[0], j, u, delay, slope)
        if len(values[1]):
            more, turned, larger = _changes(values[1], j, u, delay, slope)
            value, change, size = value + 1j * more, change + 1j * turned, size + larger
        found[0, j - free], found[1, j - free], found[2, j - free] = value, change, size
    return found[:, : CUBE - free]


@compiled
def at_square(coefficients: Any, square: complex) -> Local:
    """Give the determinant and its derivatives at one z."""
    value, by_square, by_log, size, large = 0j, 0j, 0j, 0.0, abs(square)
    for j in range(coefficients.shape[1] - 1, -1, -1):
        by_square = by_square * square + value
        value = value * square + coefficients[0, j]
        by_log = by_log * square + coefficients[1, j]
        size = size * large + coefficients[2, j].real
    return Local(value, by_square, by_log, size)


@compiled
def divided(one: complex, other: complex) -> complex:
    """Divide, infinity by nought: the compiler's own division of complex numbers raises, and looks for overflow."""
    square = other.real * other.real + other.imag * other.imag
    if square == 0:
        return complex(np.inf, 0.0)
    top = one + 0j  # the compiler gives a whole number an imaginary part
    real, turned = top.real * other.real + top.imag * other.imag, top.imag * other.real - top.real * other.imag
    return complex(real / square, turned / square)


@compiled
def three_real(a: float, b: float, c: float) -> tuple[float, float, float]:
    """Give the roots of z³ + a z² + b z + c, rising, if all are real (Viète: the cosine of a third of an angle)."""
    spread = np.sqrt(max((a * a - 3 * b) / 9, 0.0))
    turn = (2 * a**3 - 9 * a * b + 27 * c) / 54 / max(spread**3, TINY)
    angle = np.arccos(min(max(turn, -1.0), 1.0)) / 3
    one, other = 2 * spread * np.cos(angle), 2 * spread * np.cos(angle + THIRD)
    return -one - a / 3, one + other - a / 3, -other - a / 3


@compiled
def every_root(given: Any, roots: Any) -> Any:
    """Write down every z at which a polynomial vanishes (Durand and Kerner; common practice, no source)."""
    degree, largest = len(given) - 1, 0.0
    if degree == 3:
        # Of lightly damped motions every root is nearly real: then these are near already.
        unit = given[3].real
        first, second, third = three_real(given[2].real / unit, given[1].real / unit, given[0].real / unit)
        largest = max(abs(first), abs(third), abs(given[2]) / abs(given[3]))
        off = OFF * largest
        roots[0], roots[1], roots[2] = first + off, second - 1.3 * off, third + 0.7 * off
    else:
        for j in range(degree):
            largest = max(largest, (abs(given[j]) / abs(given[degree])) ** (1.0 / (degree - j)))
        for one in range(degree):
            roots[one] = largest * APART ** (one + 1)
    for _ in range(ROUNDS):
        moved = 0.0
        for one in range(degree):
            moved = max(moved, _moved(given, roots, one) / largest)
        if not moved > ENOUGH:
            break
    return roots[:degree]


@compiled
def _moved(given: Any, roots: Any, one: int) -> float:
    """Move one root by what the others leave of the polynomial; give how far."""
    degree = len(given) - 1
    value, others = given[degree], given[degree]
    for j in range(degree - 1, -1, -1):
        value = value * roots[one] + given[j]
    for other in range(degree):
        if other != one:
            others *= roots[one] - roots[other]
    step = divided(value, others)
    roots[one] -= step
    return abs(step.real) + abs(step.imag)
