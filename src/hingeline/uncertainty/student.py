"""The normal distribution and Student's t, without NumPy or SciPy.

The tail of t is half a regularised incomplete beta function I(x; ν/2, 1/2) with
x = ν/(ν + t²). Far out it is found from a continued fraction whose terms do not
cancel for large ν; near the middle, from a series of positive terms.
"""

from __future__ import annotations

import math
from collections.abc import Callable

from hingeline.errors import InputRefused
from hingeline.uncertainty.checks import require_finite, require_fraction

_SMALLEST_TAIL = 1e-100
_MIDDLE = 3.0  # t² below which the series is quicker than the fraction
_FAR = 1e100
# Above so many degrees the distribution is the normal one to the last digit.
_AS_NORMAL = 1e18
_STEP_DONE = 1e-9  # Newton doubles the digits: after such a step the rest is below rounding
_MOST_STEPS = 200


def normal_cumulative(z: float) -> float:
    """Probability that a standard normal quantity is at most ``z``.

    Parameters
    ----------
    z : float
        Standardised deviation [1].

    Returns
    -------
    float
        Φ(z) [1].

    Raises
    ------
    InputRefused
        For NaN. Infinity is allowed and gives 0 or 1.

    Notes
    -----
    Φ(z) = erfc(-z/√2)/2: Abramowitz and Stegun, Handbook of Mathematical Functions, 26.2.29
    (number from memory).

    Examples
    --------
    >>> from hingeline.uncertainty import normal_cumulative
    >>> round(normal_cumulative(1.96), 4)
    0.975
    """
    if math.isnan(z):
        require_finite("z", z)
    return math.erfc(-z / math.sqrt(2)) / 2


def normal_quantile(p: float) -> float:
    """Standardised deviation that a standard normal quantity exceeds with probability 1 - ``p``.

    Parameters
    ----------
    p : float
        Probability, 0 < p < 1 [1].

    Returns
    -------
    float
        z [1].

    Raises
    ------
    InputRefused
        For a probability not between 0 and 1, or within 1e-100 of 0.

    Notes
    -----
    Newton's method on the tail, from the rational start of Abramowitz and Stegun 26.2.23
    (coefficients from memory; the result does not depend on them).

    Examples
    --------
    >>> from hingeline.uncertainty import normal_quantile
    >>> round(normal_quantile(0.975), 6)
    1.959964
    """
    return _signed(p, normal_tail_quantile)


def normal_tail_quantile(tail: float) -> float:
    """Standardised deviation that is exceeded with probability ``tail``, at most one half.

    Parameters
    ----------
    tail : float
        Upper tail, 1e-100 <= tail <= 0.5 [1].

    Returns
    -------
    float
        z, not negative [1].

    Raises
    ------
    InputRefused
        For a tail outside that range.

    Notes
    -----
    As :func:`normal_quantile`; given the tail itself no digits are lost near 1.
    """
    _require_tail(tail)
    z = _normal_start(tail)
    for _ in range(_MOST_STEPS):  # pragma: no branch -- it settles long before
        density = math.exp(-z * z / 2) / math.sqrt(2 * math.pi)
        step = (math.erfc(z / math.sqrt(2)) / 2 - tail) / density
        z += step
        if abs(step) <= _STEP_DONE:
            break
    return z if tail < 0.5 else 0.0


def _normal_start(tail: float) -> float:
    """Good to 0.0005: Abramowitz and Stegun 26.2.23."""
    root = math.sqrt(-2 * math.log(tail))
    above = 2.515517 + root * (0.802853 + root * 0.010328)
    below = 1 + root * (1.432788 + root * (0.189269 + root * 0.001308))
    return root - above / below


def student_cumulative(t: float, degrees_of_freedom: float | None) -> float:
    """Probability that Student's t is at most ``t``.

    Parameters
    ----------
    t : float
        Deviation over its standard uncertainty [1].
    degrees_of_freedom : float or None
        ν >= 1 [1], not necessarily whole; None or infinity: the normal distribution.

    Returns
    -------
    float
        Probability [1].

    Raises
    ------
    InputRefused
        For t NaN or infinite, and for degrees of freedom below 1.

    Notes
    -----
    1 - I(x; ν/2, 1/2)/2 with x = ν/(ν + t²), t >= 0: Abramowitz and Stegun 26.5.27 and 26.7.1
    (numbers from memory).

    Examples
    --------
    >>> from hingeline.uncertainty import student_cumulative
    >>> student_cumulative(1.0, 1)
    0.75
    """
    require_finite("t", t)
    degrees = _checked_degrees(degrees_of_freedom)
    tail = _normal_tail(abs(t)) if degrees is None else student_tail(abs(t), degrees)
    return tail if t < 0 else 1 - tail


def _normal_tail(z: float) -> float:
    return math.erfc(z / math.sqrt(2)) / 2


def student_quantile(p: float, degrees_of_freedom: float | None) -> float:
    """Value that Student's t exceeds with probability 1 - ``p``.

    Parameters
    ----------
    p : float
        Probability, 0 < p < 1 [1].
    degrees_of_freedom : float or None
        ν >= 1 [1], not necessarily whole; None or infinity: the normal distribution.

    Returns
    -------
    float
        t [1].

    Raises
    ------
    InputRefused
        For a probability not between 0 and 1, or degrees of freedom below 1.

    Notes
    -----
    Newton's method in ln t on the logarithm of the tail, from the normal quantile; there the tail
    bends one way only, so that the steps cannot wander. Checked against another implementation to
    1e-12 for ν from 1 to a million and p from 0.8 to 0.9999.

    Examples
    --------
    >>> from hingeline.uncertainty import student_quantile
    >>> round(student_quantile(0.975, 4), 4)
    2.7764
    """
    degrees = _checked_degrees(degrees_of_freedom)
    return _signed(p, lambda tail: student_tail_quantile(tail, degrees))


def student_tail_quantile(tail: float, degrees: float | None) -> float:
    """Value that Student's t exceeds with probability ``tail``, at most one half.

    Parameters
    ----------
    tail : float
        Upper tail, 1e-100 <= tail <= 0.5 [1].
    degrees : float or None
        ν >= 1 [1]; None: the normal distribution.

    Returns
    -------
    float
        t, not negative [1].

    Raises
    ------
    InputRefused
        For a tail outside that range.

    Notes
    -----
    As :func:`student_quantile`; given the tail itself no digits are lost near 1.
    """
    t = normal_tail_quantile(tail)
    if degrees is None or degrees > _AS_NORMAL or t == 0:
        return t
    for _ in range(_MOST_STEPS):  # pragma: no branch -- it settles long before
        current = student_tail(t, degrees)
        step = math.log(current / tail) * current / (t * student_density(t, degrees))
        t *= math.exp(step)
        if abs(step) <= _STEP_DONE:
            break
    return t


def student_density(t: float, degrees: float) -> float:
    """Density of Student's t.

    Parameters
    ----------
    t : float
        Where [1].
    degrees : float
        ν >= 1 [1].

    Returns
    -------
    float
        Density [1].

    Notes
    -----
    Γ((ν+1)/2)/(Γ(ν/2) √(πν)) (1 + t²/ν)^(-(ν+1)/2): JCGM 100:2008 (GUM) G.3.2, equation G.1
    (number from memory).
    """
    return _gamma_ratio(degrees / 2) / math.sqrt(math.pi * degrees) * math.exp(_log_shape(t, degrees))


def _log_shape(t: float, degrees: float) -> float:
    ratio = abs(t) / math.sqrt(degrees)
    # beyond 1e100 the square would overflow, and the 1 is long lost
    logarithm = math.log1p(ratio * ratio) if ratio < 1e100 else 2 * math.log(ratio)
    return -(degrees + 1) / 2 * logarithm


def _gamma_ratio(a: float) -> float:
    """Γ(a + 1/2)/Γ(a); for large a by Stirling's series, which subtracts no large logarithms."""
    if a < 50:
        return math.gamma(a + 0.5) / math.gamma(a)
    inverse = 1 / a
    square = inverse * inverse
    series = inverse * (-1 / 8 + square * (1 / 192 + square * (-1 / 640 + square * 17 / 14336)))
    return math.sqrt(a) * math.exp(series)


def student_tail(t: float, degrees: float) -> float:
    """Probability that Student's t exceeds ``t``, which is not negative.

    Parameters
    ----------
    t : float
        Not negative [1].
    degrees : float
        ν >= 1 [1].

    Returns
    -------
    float
        Upper tail [1], with full relative precision.
    """
    weight = _weight(t, degrees)
    if t * t < _MIDDLE:
        return 0.5 - weight * _middle_series(t, degrees)
    return weight / (2 * _tail_fraction(t, degrees))


def _weight(t: float, degrees: float) -> float:
    """Give t times its density; far out in one exponent, since the density alone would vanish."""
    if t < _FAR:
        return t * student_density(t, degrees)
    constant = _gamma_ratio(degrees / 2) / math.sqrt(math.pi * degrees)
    return constant * math.exp(_log_shape(t, degrees) + math.log(t))


def _middle_series(t: float, degrees: float) -> float:
    """Σ ((ν+1)/2)_n/(3/2)_n yⁿ with y = t²/(ν + t²): Abramowitz and Stegun 26.5.4 (from memory)."""
    y = t * t / (degrees + t * t)
    term = total = 1.0
    for n in range(10_000):  # pragma: no branch -- it settles long before
        term *= (degrees / 2 + 0.5 + n) / (1.5 + n) * y
        total += term
        if term <= 1e-17 * total:
            break
    return total


def _tail_fraction(t: float, degrees: float) -> float:
    """Denominator of the continued fraction of I(x; a, b), a = ν/2, b = 1/2, found by Lentz's method.

    After DiDonato and Morris, ACM Transactions on Mathematical Software 18 (1992), 360-373, equation 9
    (from memory; checked in the tests). The usual fraction subtracts nearly equal numbers at large ν.
    """
    a, b = degrees / 2, 0.5
    x, y = _two_parts(t, degrees)
    value = forward = a / (a + 1) * (a * y - b * x + 1)
    backward = 0.0
    for m in range(1, 10_000):  # pragma: no branch -- it settles long before
        even = a + 2 * m - 1
        numerator = (a + m - 1) * (a + b + m - 1) / even * m * (b - m) / even * x * x
        denominator = m + m * (b - m) * x / even + (a + m) / (a + 2 * m + 1) * (a * y - b * x + 1 + m * (1 + y))
        backward = 1 / (denominator + numerator * backward)
        forward = denominator + numerator / forward
        change = forward * backward
        value *= change
        if abs(change - 1) <= 1e-16:
            break
    return value


def _two_parts(t: float, degrees: float) -> tuple[float, float]:
    """Give x = ν/(ν + t²) and y = 1 - x, without subtracting."""
    ratio = t / math.sqrt(degrees)
    if ratio > 1e100:
        return 0.0, 1.0
    square = ratio * ratio
    return 1 / (1 + square), square / (1 + square)


def _signed(p: float, upper: Callable[[float], float]) -> float:
    require_fraction("p", p)
    return upper(1 - p) if p >= 0.5 else -upper(p)


def _require_tail(tail: float) -> None:
    if not _SMALLEST_TAIL <= tail <= 0.5:
        raise InputRefused.of(
            "tail", tail, "a probability from 1e-100 to 0.5", "No measurement supports a smaller one."
        )


def _checked_degrees(degrees: float | None) -> float | None:
    if degrees is None or degrees == math.inf:
        return None
    if not degrees >= 1:  # NaN fails this too
        raise InputRefused.of("degrees_of_freedom", degrees, "1 or more", "Leave them out where they are not limited.")
    return degrees
