"""The uncertainty budget: contributions combined, degrees of freedom, coverage factor."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty.checks import (
    FINITE_REMEDY,
    collect,
    require_finite,
    require_fraction,
    require_positive,
)
from hingeline.uncertainty.correlation import Correlation, Matrix, correlation_matrix, quadratic_form
from hingeline.uncertainty.student import student_tail_quantile

_ALMOST_WHOLE = 1e-12


@dataclass(frozen=True, slots=True)
class Contribution:
    """One cause of uncertainty.

    Parameters
    ----------
    source : str
        What it is: "scale resolution".
    standard_uncertainty : float
        u of the input [``unit``], not negative.
    unit : str
        Unit of the input, as shown.
    sensitivity : float
        Change of the result for a change of the input [result's unit/``unit``].
    degrees_of_freedom : float, optional
        Of the standard uncertainty [1]; None: not limited.
    """

    source: str
    standard_uncertainty: float
    unit: str
    sensitivity: float
    degrees_of_freedom: float | None = None


@dataclass(frozen=True, slots=True)
class BudgetRow:
    """One line of a budget.

    Parameters
    ----------
    source, standard_uncertainty, unit, sensitivity, degrees_of_freedom
        As in :class:`Contribution`.
    contribution : float
        Size of sensitivity times standard uncertainty [result's unit].
    share : float
        Its square over the square of the combined uncertainty [1]; 0 where that is 0. Without
        correlation the shares add up to 1.
    """

    source: str
    standard_uncertainty: float
    unit: str
    sensitivity: float
    contribution: float
    degrees_of_freedom: float | None
    share: float


@dataclass(frozen=True, slots=True)
class Budget:
    """Contributions combined.

    Parameters
    ----------
    rows : tuple of BudgetRow
        Largest contribution first.
    standard_uncertainty : float
        Combined, u [result's unit].
    effective_degrees_of_freedom : float or None
        After Welch and Satterthwaite, not cut down [1]; None: not limited, or not valid.
    coverage_factor : float
        k [1].
    expanded_uncertainty : float
        U = k u [result's unit].
    coverage : float or None
        Probability that k was chosen for [1]; None where k was given.
    degrees_of_freedom_valid : bool
        False where inputs of limited degrees of freedom are correlated, so that the formula does
        not hold. Then k is the normal one and may be too small: say so beside U.
    """

    rows: tuple[BudgetRow, ...]
    standard_uncertainty: float
    effective_degrees_of_freedom: float | None
    coverage_factor: float
    expanded_uncertainty: float
    coverage: float | None
    degrees_of_freedom_valid: bool = True


def combine(
    contributions: Sequence[Contribution],
    *,
    coverage: float = 0.95,
    k: float | None = None,
    correlation: Correlation | None = None,
) -> Budget:
    """Combine contributions into a standard and an expanded uncertainty.

    Parameters
    ----------
    contributions : sequence of Contribution
        Any number; none gives zero.
    coverage : float
        Probability that the interval y ± U is to have, 0 < p < 1 [1]. Not used where k is given.
    k : float, optional
        Coverage factor, if it is prescribed [1], positive.
    correlation : mapping of (int, int) to float, optional
        Coefficients by pairs of positions in ``contributions`` [1].

    Returns
    -------
    Budget
        Rows largest first.

    Raises
    ------
    InputRefused
        For NaN, infinity, a negative uncertainty, degrees of freedom that are not positive, or
        correlations that cannot be; all faults of the contributions at once.

    Notes
    -----
    u² = Σ (c_i u_i)² + 2 Σ c_i c_j u_i u_j r_ij: JCGM 100:2008 (GUM) 5.1.2, equation 10, and 5.2.2,
    equation 16. ν_eff = u⁴ / Σ ((c_i u_i)⁴/ν_i): G.4.1, equation G.2b. k = t_p(ν_eff), with ν_eff cut
    down to a whole number: G.4.1 note 1 and G.6.4. Valid for a result that is nearly linear in its
    inputs over their uncertainties; check by :func:`~hingeline.uncertainty.monte_carlo`.

    Examples
    --------
    >>> from hingeline.uncertainty import Contribution, combine
    >>> budget = combine([
    ...     Contribution("scatter", 3.0, "g", 1.0, degrees_of_freedom=4.0),
    ...     Contribution("resolution", 4.0, "g", 1.0),
    ... ])
    >>> budget.standard_uncertainty, round(budget.effective_degrees_of_freedom, 2)
    (5.0, 30.86)
    """
    _check(contributions)
    matrix = correlation_matrix(correlation, len(contributions))
    signed = [one.sensitivity * one.standard_uncertainty for one in contributions]
    combined = _combined(signed, matrix)
    valid = _degrees_hold(contributions, matrix)
    degrees = effective_degrees(contributions, combined) if valid else None
    factor = coverage_factor(coverage, degrees) if k is None else _given_factor(k)
    return Budget(
        rows=_rows(contributions, combined),
        standard_uncertainty=combined,
        effective_degrees_of_freedom=degrees,
        coverage_factor=factor,
        expanded_uncertainty=require_finite("expanded_uncertainty", factor * combined),
        coverage=coverage if k is None else None,
        degrees_of_freedom_valid=valid,
    )


def _given_factor(k: float) -> float:
    return require_positive("k", k, "A coverage factor is often 2.")


def _check(contributions: Sequence[Contribution]) -> None:
    collect(fault for index, one in enumerate(contributions) for fault in _faults(f"contributions[{index}]", one))


def _faults(place: str, one: Contribution) -> list[tuple[bool, Refusal]]:
    uncertainty, sensitivity, degrees = one.standard_uncertainty, one.sensitivity, one.degrees_of_freedom
    sound = math.isfinite(uncertainty) and uncertainty >= 0
    wild = sound and math.isfinite(sensitivity) and not math.isfinite(sensitivity * uncertainty)
    return [
        (not sound, Refusal(
            f"{place}.standard_uncertainty", str(uncertainty), "zero or a positive, finite number",
            "An uncertainty has no sign; what is not known is left out.",
        )),
        (not math.isfinite(sensitivity), Refusal(
            f"{place}.sensitivity", str(sensitivity), "a finite number", FINITE_REMEDY,
        )),
        (wild, Refusal(
            f"{place}.sensitivity", str(sensitivity), "a finite product with the standard uncertainty",
            "Check the units of both.",
        )),
        (degrees is not None and not 0 < degrees < math.inf, Refusal(
            f"{place}.degrees_of_freedom", str(degrees), "a positive, finite number",
            "For degrees of freedom that are not limited, leave them out.",
        )),
    ]  # fmt: skip


def _combined(signed: Sequence[float], matrix: Matrix) -> float:
    """Scale by the largest, so that no square overflows; add exactly, so that the order does not matter."""
    largest = max((abs(value) for value in signed), default=0.0)
    if largest == 0:
        return 0.0
    scaled = [value / largest for value in signed]
    variance = max(quadratic_form(scaled, scaled, matrix), 0.0)
    return require_finite("standard_uncertainty", largest * math.sqrt(variance))


def _degrees_hold(contributions: Sequence[Contribution], matrix: Matrix) -> bool:
    """Whether no input of limited degrees of freedom is correlated (those not limited act as one)."""
    limited = [i for i, one in enumerate(contributions) if one.degrees_of_freedom is not None]
    return not any(coefficient and column != row for row in limited for column, coefficient in enumerate(matrix[row]))


def effective_degrees(contributions: Sequence[Contribution], combined: float) -> float | None:
    """Degrees of freedom of a combined standard uncertainty.

    Parameters
    ----------
    contributions : sequence of Contribution
        Independent ones.
    combined : float
        Their combined standard uncertainty [result's unit].

    Returns
    -------
    float or None
        Not cut down [1]; None: not limited.

    Notes
    -----
    ν_eff = u⁴ / Σ ((c_i u_i)⁴/ν_i): JCGM 100:2008 (GUM) G.4.1, equation G.2b.
    """
    if combined == 0:
        return None
    terms = [
        (one.sensitivity * one.standard_uncertainty / combined) ** 4 / one.degrees_of_freedom
        for one in contributions
        if one.degrees_of_freedom is not None
    ]
    total = math.fsum(terms)
    # beyond 1e100 degrees Student's t is the normal one to every digit, and its tail can no longer be worked out
    return 1 / total if total > 1e-100 else None


def whole_degrees(degrees: float | None) -> int | None:
    """Cut degrees of freedom down to a whole number, at least 1.

    Parameters
    ----------
    degrees : float or None
        Effective degrees of freedom [1]; None: not limited.

    Returns
    -------
    int or None
        The whole number; None: not limited.

    Raises
    ------
    InputRefused
        For NaN, and for degrees of freedom that are not above 0.

    Notes
    -----
    JCGM 100:2008 (GUM) G.6.4. What lies below a whole number by 1e-12 of itself or less counts as that
    number, since the last bit of a sum must not cost one degree.

    Examples
    --------
    >>> from hingeline.uncertainty import whole_degrees
    >>> whole_degrees(16.76), whole_degrees(0.5), whole_degrees(None)
    (16, 1, None)
    """
    if degrees is None or degrees == math.inf:
        return None
    if not degrees > 0.0:  # NaN fails this too
        raise InputRefused.of("degrees_of_freedom", degrees, "a number above 0", "Leave them out if not limited.")
    return max(1, math.floor(degrees * (1 + _ALMOST_WHOLE)))


def coverage_factor(coverage: float, degrees: float | None) -> float:
    """Factor k for an interval y ± k u of a given coverage.

    Parameters
    ----------
    coverage : float
        Probability, 0 < p < 1 [1].
    degrees : float or None
        Effective degrees of freedom [1], cut down here; None: not limited.

    Returns
    -------
    float
        k [1].

    Raises
    ------
    InputRefused
        For a coverage not between 0 and 1.

    Notes
    -----
    k = t_p(ν): JCGM 100:2008 (GUM) G.3.2 and G.6.4; the normal quantile where ν is not limited.

    Examples
    --------
    >>> from hingeline.uncertainty import coverage_factor
    >>> round(coverage_factor(0.95, None), 3), round(coverage_factor(0.99, 16.76), 2)
    (1.96, 2.92)
    """
    require_fraction("coverage", coverage)
    whole = whole_degrees(degrees)
    return student_tail_quantile((1 - coverage) / 2, None if whole is None else float(whole))


def _rows(contributions: Sequence[Contribution], combined: float) -> tuple[BudgetRow, ...]:
    rows = [_row(one, combined) for one in contributions]
    return tuple(sorted(rows, key=lambda row: (-row.contribution, row.source)))


def _row(one: Contribution, combined: float) -> BudgetRow:
    size = abs(one.sensitivity) * one.standard_uncertainty
    return BudgetRow(
        source=one.source,
        standard_uncertainty=one.standard_uncertainty,
        unit=one.unit,
        sensitivity=one.sensitivity,
        contribution=size,
        degrees_of_freedom=one.degrees_of_freedom,
        share=_share(size, combined),
    )


def _share(size: float, combined: float) -> float:
    """Nothing would be left of a share where correlated contributions cancel to almost nothing."""
    if combined == 0:
        return 0.0
    ratio = size / combined
    return ratio * ratio if ratio < 1e150 else 0.0
