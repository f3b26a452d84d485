"""Whether a budget and a Monte Carlo run say the same, to the digits that matter."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline.errors import InputRefused
from hingeline.uncertainty.budget import Budget
from hingeline.uncertainty.checks import require_finite, require_not_negative
from hingeline.uncertainty.monte_carlo import MonteCarloResult


@dataclass(frozen=True, slots=True)
class Agreement:
    """A budget's interval against that of the draws.

    Parameters
    ----------
    low_difference, high_difference : float
        Distances of the lower and of the upper ends, not negative [result's unit].
    tolerance : float
        Largest difference that does not matter, δ [result's unit].
    agrees : bool
        True where both are at most the tolerance.
    """

    low_difference: float
    high_difference: float
    tolerance: float
    agrees: bool


def agreement(budget: Budget, value: float, result: MonteCarloResult, digits: int = 2) -> Agreement:
    """Say whether a budget's interval is that of the draws, to the digits that matter.

    Parameters
    ----------
    budget : Budget
        Made for a coverage, the same as of ``result``.
    value : float
        y, about which the budget's interval lies [result's unit].
    result : MonteCarloResult
        Of the same quantity.
    digits : int
        Significant digits of the standard uncertainty that matter, 1 or 2 [1].

    Returns
    -------
    Agreement
        Differences of the ends, tolerance, whether both are within.

    Raises
    ------
    InputRefused
        Where the two are not of one coverage, or ``digits`` is not 1 or 2.

    Notes
    -----
    d = |y ± U - end|, δ = 10^l/2 where u = c 10^l with c a whole number of ``digits`` digits:
    JCGM 101:2008 7.9.2 and 8.1 (clauses from memory). Where the number of draws is not adapted, give
    enough: 8.2 asks for a scatter of the ends below δ/5.

    Examples
    --------
    >>> from hingeline.uncertainty import Contribution, Normal, agreement, combine, monte_carlo
    >>> result = monte_carlo(lambda x: x, [Normal(10.0, 1.0)])
    >>> agreement(combine([Contribution("x", 1.0, "", 1.0)]), 10.0, result).agrees
    True
    """
    if budget.coverage != result.coverage:
        raise InputRefused.of(
            "budget", budget.coverage, f"a coverage of {result.coverage}", "Combine again with that coverage."
        )
    require_finite("value", value)
    low = abs(value - budget.expanded_uncertainty - result.low)
    high = abs(value + budget.expanded_uncertainty - result.high)
    tolerance = numerical_tolerance(budget.standard_uncertainty, digits)
    return Agreement(low, high, tolerance, agrees=low <= tolerance and high <= tolerance)


def numerical_tolerance(standard_uncertainty: float, digits: int) -> float:
    """Half a unit of the last significant digit of a standard uncertainty.

    Parameters
    ----------
    standard_uncertainty : float
        u, not negative [any unit].
    digits : int
        Significant digits that matter, 1 or 2 [1].

    Returns
    -------
    float
        δ [same unit]; 0 for u = 0.

    Raises
    ------
    InputRefused
        For another number of digits, and a negative u.

    Notes
    -----
    JCGM 101:2008 7.9.2 (clause from memory): u is rounded first, so 0.0999 counts as 0.10.

    Examples
    --------
    >>> from hingeline.uncertainty import numerical_tolerance
    >>> numerical_tolerance(0.35, 1), numerical_tolerance(0.35, 2), numerical_tolerance(0.0999, 2)
    (0.05, 0.005, 0.005)
    """
    if digits not in (1, 2):
        raise InputRefused.of("digits", digits, "1 or 2", "An uncertainty is known no better.")
    if require_not_negative("standard_uncertainty", standard_uncertainty) == 0:
        return 0.0
    exponent = int(f"{standard_uncertainty:.{digits - 1}e}".partition("e")[2])
    return float(f"5e{exponent - digits}")
