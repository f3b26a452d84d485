"""Coverage factors in decimals of fifty digits, for the second route.

The t factor comes from the closed sums for whole degrees of freedom, not from an
incomplete beta function, so that it shares nothing with the first route.
"""

from __future__ import annotations

from collections.abc import Callable
from decimal import Context, Decimal, localcontext
from fractions import Fraction
from functools import lru_cache

CONTEXT = Context(prec=60)
"""Ten digits more than are promised."""

_SMALLEST_TERM = Decimal("1e-58")
_STEP_DONE = Decimal("1e-30")  # Newton doubles the digits: the rest lies below the sixtieth
_MOST_STEPS = 200
_CLOSED_SUM_UP_TO = 1000  # degrees of freedom; above, the closed sums grow long
# Beyond, k differs from the normal one by less than 1e-29, and 1 + t²/ν leaves too few digits for its logarithm.
_AS_GOOD_AS_UNLIMITED = 10**30

# B(2k)/(2k (2k - 1)) times 2^(1-2k) - 2, k = 1 ... 7: Stirling's series of ln Γ(a + 1/2) - ln Γ(a).
_BERNOULLI = (
    Fraction(1, 6), Fraction(-1, 30), Fraction(1, 42), Fraction(-1, 30),
    Fraction(5, 66), Fraction(-691, 2730), Fraction(7, 6),
)  # fmt: skip


def quotient(number: Fraction) -> Decimal:
    """Write a fraction out, to the digits of the context in force."""
    return Decimal(number.numerator) / Decimal(number.denominator)


@lru_cache(maxsize=256)
def decimal_factor(coverage: Fraction, degrees: int | None) -> Decimal:
    """Factor k for a two-sided interval.

    Parameters
    ----------
    coverage : Fraction
        Probability, between 0 and 1 [1].
    degrees : int or None
        Whole degrees of freedom, at least 1 [1]; None: not limited.

    Returns
    -------
    Decimal
        k [1], to fifty digits up to 1000 degrees of freedom and without limit; to twenty-nine above 1000.

    Notes
    -----
    The two-sided probability A is inverted by Newton's method. Whole ν up to 1000: the closed sums of
    Abramowitz and Stegun, Handbook of Mathematical Functions, 26.7.3 and 26.7.4 (from memory; checked
    in the tests against another implementation). Above: the series of positive terms that 26.7.1
    becomes by 26.5.4, with the quotient of Γ functions from Stirling's series to B(14). Normal: 26.2.11.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from hingeline.uncertainty import decimal_factor
    >>> str(decimal_factor(Fraction(95, 100), None))[:12]
    '1.9599639845'
    """
    with localcontext(CONTEXT):
        start = _normal_factor(coverage)
        if degrees is None or degrees > _AS_GOOD_AS_UNLIMITED:
            return start
        return _newton(_student_two_sided(degrees), quotient(coverage), start)


@lru_cache(maxsize=256)
def _normal_factor(coverage: Fraction) -> Decimal:
    """Give k without limit of the degrees of freedom, from which the search for any other begins."""
    return _newton(_normal_two_sided, quotient(coverage), Decimal(0))


def _newton(two_sided: Callable[[Decimal], tuple[Decimal, Decimal]], probability: Decimal, start: Decimal) -> Decimal:
    """Solve A(t) = probability from below: A bends down, so every step stays below the answer."""
    t = start
    for _ in range(_MOST_STEPS):  # pragma: no branch -- it settles long before
        value, slope = two_sided(t)
        step = (probability - value) / slope
        t += step
        if abs(step) <= _STEP_DONE * t:
            break
    return t


def _normal_two_sided(z: Decimal) -> tuple[Decimal, Decimal]:
    """Give A = 2 φ(z) (z + z³/3 + z⁵/15 + ...) and its slope 2 φ(z)."""
    slope = 2 * (-z * z / 2).exp() / (2 * circle()).sqrt()
    term = total = z
    n = 1
    while term > _SMALLEST_TERM * total:
        n += 2
        term *= z * z / n
        total += term
    return slope * total, slope


def _student_two_sided(degrees: int) -> Callable[[Decimal], tuple[Decimal, Decimal]]:
    if degrees > _CLOSED_SUM_UP_TO:
        return _long_series(degrees)
    return _closed_sum(degrees)


def _closed_sum(degrees: int) -> Callable[[Decimal], tuple[Decimal, Decimal]]:
    """26.7.3 for odd, 26.7.4 for even degrees of freedom, with θ = atan(t/√ν); slope from the density."""
    height = 2 * _whole_constant(degrees)

    def two_sided(t: Decimal) -> tuple[Decimal, Decimal]:
        cosine_squared = degrees / (degrees + t * t)
        cosine, sine = cosine_squared.sqrt(), t / (degrees + t * t).sqrt()
        slope = height * cosine ** (degrees + 1)
        if degrees % 2 == 0:
            return sine * _sum_of_powers(cosine_squared, Decimal(1), 1, degrees // 2), slope
        rest = sine * _sum_of_powers(cosine_squared, cosine, 2, (degrees - 1) // 2)
        return 2 * (arctangent(t / Decimal(degrees).sqrt()) + rest) / circle(), slope

    return two_sided


def _sum_of_powers(cosine_squared: Decimal, first: Decimal, numerator: int, count: int) -> Decimal:
    """``count`` terms, each the one before times n/(n + 1) cos²θ, with n = 1, 3, 5 or 2, 4, 6 ..."""
    total, term = Decimal(0), first
    for n in range(numerator, numerator + 2 * count, 2):
        total += term
        term *= cosine_squared * n / (n + 1)
    return total


def _whole_constant(degrees: int) -> Decimal:
    """Γ((ν+1)/2)/(Γ(ν/2) √(πν)) as a product: the half-integers of Γ leave π or nothing."""
    product = Decimal(1) / (2 if degrees % 2 == 0 else circle())
    for n in range(degrees - 1, 1, -2):
        product *= Decimal(n) / (n - 1)
    return product / Decimal(degrees).sqrt()


def _long_series(degrees: int) -> Callable[[Decimal], tuple[Decimal, Decimal]]:
    """Give A = 2 t f(t) Σ ((ν+1)/2)_n/(3/2)_n yⁿ with y = t²/(ν + t²): every term positive."""
    height = 2 * _stirling_constant(degrees)

    def two_sided(t: Decimal) -> tuple[Decimal, Decimal]:
        y = t * t / (degrees + t * t)
        slope = height * (-(Decimal(degrees) + 1) / 2 * (1 + t * t / degrees).ln()).exp()
        term = total = Decimal(1)
        n = 1
        while term > _SMALLEST_TERM * total:
            term *= y * (degrees + n) / (n + 2)
            total += term
            n += 2
        return t * slope * total, slope

    return two_sided


def _stirling_constant(degrees: int) -> Decimal:
    """Γ(a + 1/2)/(Γ(a) √(2πa)), a = ν/2 > 500: the first term left out is below 1e-40."""
    a = Decimal(degrees) / 2
    series = Decimal(0)
    for k, bernoulli in enumerate(_BERNOULLI, start=1):
        coefficient = bernoulli * (Fraction(2, 4**k) - 2) / (2 * k * (2 * k - 1))
        series += quotient(coefficient) / a ** (2 * k - 1)
    return series.exp() / (2 * circle()).sqrt()


@lru_cache(maxsize=1)
def circle() -> Decimal:
    """Give π to sixty digits, by Machin's 16 atan(1/5) - 4 atan(1/239)."""
    with localcontext(CONTEXT):
        return 16 * _arctangent_series(Decimal(1) / 5) - 4 * _arctangent_series(Decimal(1) / 239)


def arctangent(x: Decimal) -> Decimal:
    """Give atan(x), halving the angle until the series is quick."""
    with localcontext(CONTEXT):
        for _ in range(4):
            x = x / (1 + (1 + x * x).sqrt())
        return 16 * _arctangent_series(x)


def _arctangent_series(x: Decimal) -> Decimal:
    total, power, n = Decimal(0), x, 1
    while abs(power) > _SMALLEST_TERM * abs(x):
        total += power / n
        power *= -x * x
        n += 2
    return total
