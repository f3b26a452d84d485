"""Decision rules: whether a value with its uncertainty is inside its limits, outside, or too close to tell.

A missing limit is None. Where both are missing there is nothing to state, and the answer is None.

>>> from hingeline.uncertainty import Statement, guarded
>>> said: Statement | None = guarded(2.106, 0.044, 0.0, 2.10)
>>> said
'too close to tell'
"""

from __future__ import annotations

import math
from typing import Literal, NamedTuple

from hingeline.errors import InputRefused
from hingeline.uncertainty.checks import require_finite, require_not_negative

Statement = Literal["inside", "outside", "too close to tell"]
"""What can be said of a value: in words, never as a sign or a colour alone."""

INSIDE: Literal["inside"] = "inside"
OUTSIDE: Literal["outside"] = "outside"
TOO_CLOSE: Literal["too close to tell"] = "too close to tell"

_WORST_FIRST: tuple[Statement, ...] = (OUTSIDE, TOO_CLOSE, INSIDE)


class GuardedLimits(NamedTuple):
    """Limits drawn in by the expanded uncertainty.

    Parameters
    ----------
    lower, upper : float or None
        Limits of acceptance [unit of the limits]; None: none.
    empty : bool
        True where no value can lie strictly between them: a guarded statement can never be "inside".
    """

    lower: float | None
    upper: float | None
    empty: bool


def simple(value: float, lower: float | None, upper: float | None) -> Statement | None:
    """State by simple acceptance: the value itself against the limits.

    Parameters
    ----------
    value : float
        Measured value [any unit].
    lower, upper : float or None
        Limits [same unit]; None: none. On the limit is inside.

    Returns
    -------
    "inside", "outside" or None
        None where there is no limit.

    Raises
    ------
    InputRefused
        For NaN or infinity, and for a lower limit above the upper one.

    Notes
    -----
    JCGM 106:2012 8.2 (clause from memory); ILAC-G8:09/2019 4.2.1, binary statement for simple acceptance.
    A value on the limit is accepted with a chance of one half of being beyond it.

    Examples
    --------
    >>> from hingeline.uncertainty import simple
    >>> simple(2.10, 0.0, 2.10)
    'inside'
    """
    _check_limits(value, lower, upper)
    if lower is None and upper is None:
        return None
    within = (lower is None or value >= lower) and (upper is None or value <= upper)
    return INSIDE if within else OUTSIDE


def guarded(value: float, expanded: float | None, lower: float | None, upper: float | None) -> Statement | None:
    """State with a guard band as wide as the expanded uncertainty, on both sides of each limit.

    Parameters
    ----------
    value : float
        Measured value [any unit].
    expanded : float or None
        U [same unit], not negative; None: not known.
    lower, upper : float or None
        Limits [same unit]; None: none.

    Returns
    -------
    "inside", "outside", "too close to tell" or None
        Inside only if all of value ± U lies strictly within, outside only if all of it lies beyond one
        limit; touching or crossing is too close to tell. None without a limit or without U.

    Raises
    ------
    InputRefused
        For NaN or infinity, a negative U, and a lower limit above the upper one.

    Notes
    -----
    Guard band w = U: JCGM 106:2012 8.3.2 (clause from memory); ILAC-G8:09/2019 4.2.3, non-binary
    statement.

    Examples
    --------
    >>> from hingeline.uncertainty import guarded
    >>> guarded(2.08, 0.05, 0.0, 2.10)
    'too close to tell'
    """
    _check_limits(value, lower, upper)
    if expanded is None or (lower is None and upper is None):
        return None
    require_not_negative("expanded", expanded)
    low, high = value - expanded, value + expanded
    if (lower is not None and high < lower) or (upper is not None and low > upper):
        return OUTSIDE
    within = (lower is None or low > lower) and (upper is None or high < upper)
    return INSIDE if within else TOO_CLOSE


def guarded_limits(expanded: float, lower: float | None, upper: float | None) -> GuardedLimits:
    """Draw each limit in by the expanded uncertainty.

    Parameters
    ----------
    expanded : float
        U [unit of the limits], not negative.
    lower, upper : float or None
        Limits; None: none.

    Returns
    -------
    GuardedLimits
        ``lower``, ``upper``, ``empty``.

    Raises
    ------
    InputRefused
        For NaN or infinity, a negative U, and a lower limit above the upper one.

    Notes
    -----
    JCGM 106:2012 8.3.2 (clause from memory), w = U.

    Examples
    --------
    >>> from hingeline.uncertainty import guarded_limits
    >>> guarded_limits(0.5, 0.0, 2.0)
    GuardedLimits(lower=0.5, upper=1.5, empty=False)
    """
    require_not_negative("expanded", expanded)
    _check_limits(0.0, lower, upper)
    low = None if lower is None else require_finite("lower", lower + expanded)
    high = None if upper is None else require_finite("upper", upper - expanded)
    return GuardedLimits(low, high, empty=low is not None and high is not None and low >= high)


def probability_within(
    value: float, standard_uncertainty: float | None, lower: float | None, upper: float | None
) -> float | None:
    """Probability that the quantity lies within the limits, if it is normal about the value.

    Parameters
    ----------
    value : float
        Measured value, y [any unit].
    standard_uncertainty : float or None
        u [same unit], not negative; None: not known.
    lower, upper : float or None
        Limits [same unit]; None: none.

    Returns
    -------
    float or None
        From 0 to 1 [1]; None without a limit or without u. For u = 0 it is 1 on the limit and within.

    Raises
    ------
    InputRefused
        For NaN or infinity, a negative u, and a lower limit above the upper one.

    Notes
    -----
    p = Φ((upper - y)/u) - Φ((lower - y)/u): JCGM 106:2012 7.3 and 7.4 (clauses from memory). Nothing
    else is taken to be known of the quantity than this measurement; u is taken as exact.

    Examples
    --------
    >>> from hingeline.uncertainty import probability_within
    >>> round(probability_within(-5.47, 0.05, None, -5.40), 4)
    0.9192
    """
    _check_limits(value, lower, upper)
    if standard_uncertainty is None or (lower is None and upper is None):
        return None
    require_not_negative("standard_uncertainty", standard_uncertainty)
    if standard_uncertainty == 0:
        return 1.0 if simple(value, lower, upper) == INSIDE else 0.0
    low = -math.inf if lower is None else (lower - value) / standard_uncertainty
    high = math.inf if upper is None else (upper - value) / standard_uncertainty
    return _normal_between(low, high)


def _normal_between(low: float, high: float) -> float:
    """Subtract the smaller tails, so that a small probability keeps its digits."""
    if low > 0:
        low, high = -high, -low
    difference = math.erfc(-high / math.sqrt(2)) - math.erfc(-low / math.sqrt(2))
    return min(1.0, max(0.0, difference / 2))


def margin(value: float, lower: float | None, upper: float | None) -> float | None:
    """Distance from the value to the nearest limit.

    Parameters
    ----------
    value : float
        Measured value [any unit].
    lower, upper : float or None
        Limits [same unit]; None: none.

    Returns
    -------
    float or None
        Positive inside, negative outside, 0 on a limit [same unit]; None where there is no limit.

    Raises
    ------
    InputRefused
        For NaN or infinity, and for a lower limit above the upper one.

    Notes
    -----
    Common practice, no source.

    Examples
    --------
    >>> from hingeline.uncertainty import margin
    >>> margin(2.0, 0.0, 2.5)
    0.5
    """
    _check_limits(value, lower, upper)
    distances = [] if lower is None else [value - lower]
    if upper is not None:
        distances.append(upper - value)
    return require_finite("value", min(distances)) if distances else None


def worse(*statements: Statement | None) -> Statement | None:
    """Give the statement that leads where several are made.

    Parameters
    ----------
    *statements : "inside", "outside", "too close to tell" or None
        None is passed over.

    Returns
    -------
    "inside", "outside", "too close to tell" or None
        Outside before too close to tell before inside; None where there is none.

    Notes
    -----
    Common practice, no source.

    Examples
    --------
    >>> from hingeline.uncertainty import worse
    >>> worse("inside", None, "too close to tell")
    'too close to tell'
    """
    made = [statement for statement in statements if statement is not None]
    return min(made, key=_WORST_FIRST.index, default=None)


def _check_limits(value: float, lower: float | None, upper: float | None) -> None:
    require_finite("value", value)
    for field, limit in (("lower", lower), ("upper", upper)):
        if limit is not None:
            require_finite(field, limit)
    if lower is not None and upper is not None and lower > upper:
        raise InputRefused.of(
            "lower", lower, f"at most the upper limit, {upper}", "Exchange the limits, or check their signs."
        )
