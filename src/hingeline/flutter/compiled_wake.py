"""C and its slope inside compiled loops: by Taylor's series about places on the line of steady motion.

C is analytic but for a cut along the negative real axis. In w = ln s that is half a turn of distance from the line
s = i k. So 22 terms about a place on the line give C to the last digits within a quarter of it, lightly damped and
growing motions included, and eleven of them give it on the line itself. Farther out C is computed as in ``wake``.
"""

from __future__ import annotations

from functools import lru_cache
from typing import Any

import numpy as np

from hingeline.flutter.compiling import compiled
from hingeline.flutter.system import ComplexArray, Wake
from hingeline.flutter.wake import DYING, EULER, GROWING, SERIES_BELOW, SERIES_TERMS, TWO_LAGS, WAKES

LOWEST, HIGHEST = 1e-6, 1e7
"""Reduced frequencies between which there are places."""
SPACING, NEAR = 0.1, 0.25
TERMS, ON_THE_LINE = 22, 11
NEARER, ENOUGH = (0.06, 0.12), (12, 16)
"""Within so much of a place so many terms do: the first left out is below 1e-16."""
CIRCLE, RADIUS = 48, 0.5
FIRST = float(np.log(LOWEST))

AMOUNTS = np.array([amount for amount, _ in TWO_LAGS])
RATES = np.array([rate for _, rate in TWO_LAGS])
LN_TWO = float(np.log(2.0))


def kind_of(wake: Wake) -> int:
    """Give the number under which the loops know a wake function: -1 where they do not."""
    return {"theodorsen": 0, "two-lag": 1, "quasi-steady": 2, "steady": 2}.get(
        next((name for name, known in WAKES.items() if known is wake), ""), -1
    )


@lru_cache(maxsize=4)
def table_of(wake: Wake) -> ComplexArray:
    """Give Taylor's coefficients of C in w = ln s - iπ/2 about places on the line.

    Parameters
    ----------
    wake : callable

    Returns
    -------
    array (places, 22)
        By Cauchy's integral over 48 points of a circle about each place.
    """
    number = int(np.ceil((np.log(HIGHEST) - FIRST) / SPACING)) + 1
    around = RADIUS * np.exp(2j * np.pi * np.arange(CIRCLE) / CIRCLE)
    places = FIRST + SPACING * np.arange(number)
    values = np.asarray(wake(1j * np.exp(places[:, None] + around)))
    found = np.fft.fft(values, axis=1)[:, :TERMS] / CIRCLE
    return np.ascontiguousarray(found / RADIUS ** np.arange(TERMS))


@compiled
def on_the_line(table: Any, log: float) -> tuple[complex, complex]:
    """Give C and dC/d ln k of a steady motion, by ln k."""
    index = min(max(int((log - FIRST) / SPACING + 0.5), 0), len(table) - 1)
    step = log - (FIRST + SPACING * index)
    value, slope = table[index, ON_THE_LINE - 1], 0j
    for term in range(ON_THE_LINE - 2, -1, -1):
        slope = slope * step + value
        value = value * step + table[index, term]
    return value, slope


@compiled
def value_on_the_line(table: Any, log: float) -> complex:
    """Give C of a steady motion, by ln k."""
    index = min(max(int((log - FIRST) / SPACING + 0.5), 0), len(table) - 1)
    step = log - (FIRST + SPACING * index)
    real, turned = table[index, ON_THE_LINE - 1].real, table[index, ON_THE_LINE - 1].imag
    for term in range(ON_THE_LINE - 2, -1, -1):
        real, turned = real * step + table[index, term].real, turned * step + table[index, term].imag
    return complex(real, turned)


@compiled
def along_the_line(table: Any, logs: Any, found: Any) -> None:
    """Write down 1/k, Re C and Im C at rising ln k: about one place, where all lie near it, several at a time."""
    index = min(max(int(((logs[0] + logs[-1]) / 2 - FIRST) / SPACING + 0.5), 0), len(table) - 1)
    place = FIRST + SPACING * index
    if max(place - logs[0], logs[-1] - place) > NEAR:
        for point in range(len(logs)):
            delay = value_on_the_line(table, logs[point])
            found[1, point], found[2, point] = delay.real, delay.imag
    else:
        found[0] = logs - place
        found[1], found[2] = table[index, TERMS - 1].real, table[index, TERMS - 1].imag
        for term in range(TERMS - 2, -1, -1):
            real, turned = table[index, term].real, table[index, term].imag
            for point in range(len(logs)):
                found[1, point] = found[1, point] * found[0, point] + real
                found[2, point] = found[2, point] * found[0, point] + turned
    for point in range(len(logs)):
        found[0, point] = np.exp(-logs[point])


@compiled
def beside_the_line(table: Any, kind: int, s: complex) -> tuple[complex, complex]:
    """Give C and dC/ds of a reduced root; C of a conjugate is conjugate."""
    if s.imag < 0:
        value, slope = _above(table, kind, s.conjugate())
        return value.conjugate(), slope.conjugate()
    return _above(table, kind, s)


@compiled
def _above(table: Any, kind: int, s: complex) -> tuple[complex, complex]:
    log = 0.5 * np.log(s.real * s.real + s.imag * s.imag)
    index = int((log - FIRST) / SPACING + 0.5)
    if 0 <= index < len(table):
        # ln s - iπ/2, from the place on.
        step = complex(log - (FIRST + SPACING * index), -np.arctan2(s.real, s.imag))
        away = step.real * step.real + step.imag * step.imag
        if away < NEAR * NEAR:
            terms = ENOUGH[0] if away < NEARER[0] ** 2 else ENOUGH[1] if away < NEARER[1] ** 2 else TERMS
            value, slope = table[index, terms - 1], 0j
            for term in range(terms - 2, -1, -1):
                slope = slope * step + value
                value = value * step + table[index, term]
            return value, slope / s
    return _as_defined(kind, s)


@compiled
def _as_defined(kind: int, s: complex) -> tuple[complex, complex]:
    """Give C and dC/ds as ``wake`` computes them."""
    if kind == 2:
        return 1 + 0j, 0j
    if kind == 1:
        value, slope = 1 + 0j, 0j
        for lag in range(len(AMOUNTS)):
            value -= AMOUNTS[lag] * (s / (s + RATES[lag]))
            slope -= AMOUNTS[lag] * RATES[lag] / (s + RATES[lag]) ** 2
        return value, slope
    zeroth, first = _by_series(s) if abs(s) < SERIES_BELOW else _by_path(s)
    both = zeroth + first
    return first / both, (first * first - zeroth * zeroth - zeroth * first / s) / (both * both)


@compiled
def _by_series(z: complex) -> tuple[complex, complex]:
    """Give z K0 and z K1 near zero."""
    square, power, term, digamma = z * z / 4, 1 + 0j, 1.0, -EULER
    i0, k0, i1, k1 = 0j, 0j, 0j, 0j
    for n in range(SERIES_TERMS):
        following = term / (n + 1)
        i0 += term * power
        k0 += term * digamma * power
        i1 += following * power
        k1 += following * (digamma + 0.5 / (n + 1)) * power
        term, digamma, power = following / (n + 1), digamma + 1 / (n + 1), power * square
    logarithm = np.log(z) - LN_TWO
    return z * (k0 - logarithm * i0), 1 + z * z / 2 * (logarithm * i1 - k1)


HALF_SQUARES = (GROWING.half_squares, DYING.half_squares)
ZEROTH = (GROWING.zeroth, DYING.zeroth)
ONE = (GROWING.first, DYING.first)


@compiled
def _by_path(z: complex) -> tuple[complex, complex]:
    """Give K0 and K1 without their common factor."""
    dying = 1 if z.real < 0 else 0
    squares, zeroth, first = HALF_SQUARES[dying], ZEROTH[dying], ONE[dying]
    k0, k1 = 0j, 0j
    for point in range(len(squares)):
        root = np.sqrt(1 + squares[point] / z)
        k0 += zeroth[point] / root
        k1 += first[point] * root
    return k0, k1
