"""How many cycles a crack takes to grow: closed form, and by adding up steps.

da/dN = C (ΔK)^m (Paris and Erdogan, from memory), ΔK in MPa √m and a in m. No threshold is taken off, and no
slowing after an overload: a corroded surface has neither.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Literal

MEGA = 1e6
# Nearer to 2 the difference of powers loses its digits; farther off the logarithm is no longer near enough.
NEAR_TWO = 1e-9
PARTS = 64
# Gauss and Legendre, eight points, half of them; the other half mirrors it (Abramowitz and Stegun 25.4, from memory;
# that they integrate every power up to the fifteenth is tested).
_HALF = (
    (0.1834346424956498, 0.3626837833783620),
    (0.5255324099163290, 0.3137066458778873),
    (0.7966664774136267, 0.2223810344533745),
    (0.9602898564975363, 0.1012285362903763),
)
_POINTS = tuple(sign * point for sign in (-1.0, 1.0) for point, _ in _HALF)
_WEIGHTS = tuple(weight for _ in (-1.0, 1.0) for _, weight in _HALF)
GrowthUnits = Literal["m, MPa m^0.5", "in, ksi in^0.5", "mm, N mm^-1.5"]

# K in MPa √m over K in the other unit, and m over the other length.
GROWTH_UNITS: dict[str, tuple[float, float]] = {
    "m, MPa m^0.5": (1.0, 1.0),
    "in, ksi in^0.5": (4448.2216152605 / 0.0254**2 / MEGA * math.sqrt(0.0254), 0.0254),
    "mm, N mm^-1.5": (math.sqrt(1e-3), 1e-3),
}


def growth_constant_in_metres(constant: float, exponent: float, units: GrowthUnits) -> float:
    """Give C for metres and MPa √m from C for other units [m/(MPa √m)^m].

    Parameters
    ----------
    constant : float
        C, as the source has it.
    exponent : float
        m: C and m are one pair.
    units : {"m, MPa m^0.5", "in, ksi in^0.5", "mm, N mm^-1.5"}
        Of length and of K.

    Notes
    -----
    1 ksi √in = 1.0988 MPa √m; 1 MPa √m = 31.62 N mm^-1.5. A slip here is a factor of 30 to 1000 in life.

    Examples
    --------
    >>> f"{growth_constant_in_metres(3.6e-10, 3.0, 'in, ksi in^0.5'):.4g}"
    '6.892e-12'
    """
    intensity, length = GROWTH_UNITS[units]
    return constant * length / math.pow(intensity, exponent)


def closed_form_cycles(
    start: float, end: float, *, constant: float, exponent: float, factor: float, stress_range: float
) -> float:
    """Give the cycles from one size to another where the geometry factor is constant [1].

    Parameters
    ----------
    start, end : float
        Sizes [m].
    constant, exponent : float
        C [m/(MPa √m)^m] and m.
    factor : float
        Y [1].
    stress_range : float
        ΔS [Pa].

    Notes
    -----
    N = [a_f^(1-m/2) - a_i^(1-m/2)]/[(1 - m/2) C (Y ΔS √π)^m]; for m = 2, ln(a_f/a_i)/(C Y² ΔS² π). Closed form.

    Examples
    --------
    >>> sizes = {"constant": 1.5e-12, "exponent": 2.5, "factor": 1.0, "stress_range": 300e6}
    >>> round(closed_form_cycles(2.5e-3, 8.841941282883e-3, **sizes))
    495322
    """
    driven = constant * math.pow(factor * stress_range / MEGA * math.sqrt(math.pi), exponent)
    power = 1.0 - exponent / 2.0
    if abs(exponent - 2.0) < NEAR_TWO:
        return math.log(end / start) / driven
    return (math.pow(end, power) - math.pow(start, power)) / (power * driven)


def cycles_along(rate: Callable[[float], float], start: float, end: float) -> list[tuple[float, float]]:
    """Add up 1/rate over the size: the course of a crack as pairs of size [m] and cycles since the start [1].

    Parameters
    ----------
    rate : callable
        Growth in one cycle at a size [m].
    start, end : float
        Sizes [m].

    Returns
    -------
    list of tuple
        The start, and the ends of sixty-four parts; the last pair has the cycles of all.

    Notes
    -----
    Over the logarithm of the size, since the small end takes most of the life: Gauss and Legendre, eight points
    in each part.
    """
    width, cycles = math.log(end / start) / PARTS, 0.0
    course = [(start, 0.0)]
    for part in range(PARTS):
        low = start * math.exp(width * part)
        sizes = [low * math.exp(width * (1.0 + point) / 2.0) for point in _POINTS]
        mean = math.fsum(weight * size / rate(size) for weight, size in zip(_WEIGHTS, sizes, strict=True)) / 2.0
        cycles += mean * width
        course.append((start * math.exp(width * (part + 1)), cycles))
    return course


def integrated_cycles(rate: Callable[[float], float], start: float, end: float) -> float:
    """Give the cycles from one size to another by an adaptive integration [1].

    The second way: other points, and another author's routine.

    Raises
    ------
    ArithmeticError
        It does not settle.
    """
    from scipy.integrate import quad

    span = math.log(end / start)
    found, error = quad(lambda part: _per_logarithm(rate, start * math.exp(part)), 0.0, span, epsrel=1e-10, epsabs=0.0)
    if error > 1e-6 * found:
        raise ArithmeticError(f"the growth of a crack from {start} to {end} does not settle")
    return float(found)


def _per_logarithm(rate: Callable[[float], float], size: float) -> float:
    return size / rate(size)
