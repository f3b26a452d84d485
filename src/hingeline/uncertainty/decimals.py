"""The second route to U: the same budget in decimals of fifty digits.

Nothing of :mod:`hingeline.uncertainty.budget` or :mod:`hingeline.uncertainty.student`
is used here, so that a slip in one of them shows as a disagreement.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal, InvalidOperation, localcontext
from fractions import Fraction
from typing import NamedTuple

from hingeline.errors import InputRefused
from hingeline.uncertainty.decimal_factors import CONTEXT, decimal_factor, quotient

Exact = str | int | float | Decimal | Fraction
"""A number taken as it stands: text by its digits, a float by its binary value."""

_LARGEST_EXPONENT = 400
_ALMOST_WHOLE = Decimal("1e-12")
_LARGEST_COVERAGE = 1 - Fraction(1, 10**16)


@dataclass(frozen=True, slots=True)
class DecimalContribution:
    """One contribution to the result, squared, without rounding.

    Parameters
    ----------
    squared : Fraction
        (c u)² [square of the result's unit]. The square, since u of a rectangle, a/√3, has no exact
        digits while its square a²/3 has.
    degrees_of_freedom : Fraction, optional
        Of u [1]; None: not limited.
    """

    squared: Fraction
    degrees_of_freedom: Fraction | None = None


class DecimalBudget(NamedTuple):
    """What :func:`combine_decimal` returns: u, ν, k, U, each good to fifty digits.

    Parameters
    ----------
    standard_uncertainty : Decimal
        u [result's unit].
    effective_degrees_of_freedom : Decimal or None
        ν, not cut down [1]; None: not limited.
    coverage_factor : Decimal
        k [1].
    expanded_uncertainty : Decimal
        U = k u [result's unit].
    """

    standard_uncertainty: Decimal
    effective_degrees_of_freedom: Decimal | None
    coverage_factor: Decimal
    expanded_uncertainty: Decimal


def decimal_contribution(size: Exact, degrees_of_freedom: Exact | None = None) -> DecimalContribution:
    """Take a contribution by its size, c u.

    Parameters
    ----------
    size : str, int, float, Decimal or Fraction
        c u [result's unit]; its sign does not matter.
    degrees_of_freedom : str, int, float, Decimal or Fraction, optional
        Of u [1]; None: not limited.

    Returns
    -------
    DecimalContribution
        Its exact square.

    Raises
    ------
    InputRefused
        For what is no finite number, and for degrees of freedom that are not positive.

    Examples
    --------
    >>> from hingeline.uncertainty import decimal_contribution
    >>> decimal_contribution("0.1", 4)
    DecimalContribution(squared=Fraction(1, 100), degrees_of_freedom=Fraction(4, 1))
    """
    return squared_contribution(_fraction("size", size) ** 2, degrees_of_freedom)


def squared_contribution(squared: Exact, degrees_of_freedom: Exact | None = None) -> DecimalContribution:
    """Take a contribution by its square, (c u)².

    Parameters
    ----------
    squared : str, int, float, Decimal or Fraction
        (c u)² [square of the result's unit], not negative.
    degrees_of_freedom : str, int, float, Decimal or Fraction, optional
        Of u [1]; None: not limited.

    Returns
    -------
    DecimalContribution
        The same as exact fractions.

    Raises
    ------
    InputRefused
        For what is no finite number, a negative square, and degrees of freedom that are not positive.

    Examples
    --------
    >>> from fractions import Fraction
    >>> from hingeline.uncertainty import squared_contribution
    >>> squared_contribution(Fraction(4, 3)).squared
    Fraction(4, 3)
    """
    square = _fraction("squared", squared)
    if square < 0:
        raise InputRefused.of("squared", squared, "zero or a positive number", "A square has no sign.")
    return DecimalContribution(square, _degrees(degrees_of_freedom))


def _degrees(degrees: Exact | None) -> Fraction | None:
    if degrees is None:
        return None
    number = _fraction("degrees_of_freedom", degrees)
    if number <= 0:
        raise InputRefused.of(
            "degrees_of_freedom", degrees, "a positive number", "Leave them out where they are not limited."
        )
    return number


def _fraction(field: str, number: Exact) -> Fraction:
    if isinstance(number, int | Fraction):
        return Fraction(number)
    decimal = _decimal(number)
    if not decimal.is_finite() or abs(decimal.adjusted()) > _LARGEST_EXPONENT:
        raise InputRefused.of(field, number, "a finite number", "Give an ordinary number, as text or exact.")
    return Fraction(decimal)


def _decimal(number: str | float | Decimal) -> Decimal:
    """Read what is no number as NaN, which the caller refuses."""
    if isinstance(number, str) and "_" in number:
        return Decimal("NaN")
    try:
        return Decimal(number)
    except InvalidOperation:
        return Decimal("NaN")


def combine_decimal(
    contributions: Sequence[DecimalContribution], *, coverage: Exact = "0.95", k: Exact | None = None
) -> DecimalBudget:
    """Combine uncorrelated contributions, in decimals.

    Parameters
    ----------
    contributions : sequence of DecimalContribution
        Any number; none gives zero.
    coverage : str, int, float, Decimal or Fraction
        Probability of the interval y ± U, between 0 and 1, at most 1 - 1e-16 [1]. Not used where k is
        given.
    k : str, int, float, Decimal or Fraction, optional
        Coverage factor, if it is prescribed [1], positive.

    Returns
    -------
    DecimalBudget
        u, ν, k, U.

    Raises
    ------
    InputRefused
        For a coverage or k that cannot be.

    Notes
    -----
    u² = Σ (c_i u_i)²: JCGM 100:2008 (GUM) 5.1.2. ν = u⁴ / Σ ((c_i u_i)⁴/ν_i): G.4.1, equation G.2b,
    cut down to a whole number, at least 1: G.6.4; what lies within 1e-12 of itself below a whole number
    counts as that number, as in the first route. Correlated inputs: combine those that are fully
    correlated into one contribution first; partial correlation is not offered here.

    Examples
    --------
    >>> from hingeline.uncertainty import combine_decimal, decimal_contribution
    >>> u, nu, k, U = combine_decimal([decimal_contribution(3, 4), decimal_contribution(4)])
    >>> str(u), str(nu)[:8], str(k)[:8], str(U)[:8]
    ('5', '30.86419', '2.042272', '10.21136')
    """
    given = None if k is None else _positive(k)
    probability = _probability(coverage)
    with localcontext(CONTEXT):
        squares = [quotient(one.squared) for one in contributions]
        variance = sum(squares, Decimal(0))
        degrees = _effective_degrees(contributions, squares, variance)
        factor = decimal_factor(probability, _whole(degrees)) if given is None else quotient(given)
        root = variance.sqrt()
        return DecimalBudget(root, degrees, factor, factor * root)


def _positive(k: Exact) -> Fraction:
    number = _fraction("k", k)
    if number <= 0:
        raise InputRefused.of("k", k, "a positive number", "A coverage factor is often 2.")
    return number


def _probability(coverage: Exact) -> Fraction:
    number = _fraction("coverage", coverage)
    if not 0 < number <= _LARGEST_COVERAGE:
        raise InputRefused.of(
            "coverage", coverage, "a number between 0 and 1, neither included", "Write 95 percent as 0.95."
        )
    return number


def _effective_degrees(
    contributions: Sequence[DecimalContribution], squares: Sequence[Decimal], variance: Decimal
) -> Decimal | None:
    """Welch and Satterthwaite, GUM G.2b, on squares."""
    limits = Decimal(0)
    for one, square in zip(contributions, squares, strict=True):
        if one.degrees_of_freedom is not None:
            limits += square * square / quotient(one.degrees_of_freedom)
    return variance * variance / limits if limits else None


def _whole(degrees: Decimal | None) -> int | None:
    return None if degrees is None else max(1, int(degrees * (1 + _ALMOST_WHOLE)))
