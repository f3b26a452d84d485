"""A measured value, and the standard uncertainty that each kind of knowledge gives it."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline.errors import InputRefused
from hingeline.uncertainty.checks import (
    require_degrees,
    require_finite,
    require_not_negative,
    require_positive,
)


@dataclass(frozen=True, slots=True)
class Measured:
    """A value and what is known of its uncertainty.

    Parameters
    ----------
    value : float
        Best estimate [SI].
    standard_uncertainty : float or None
        One standard deviation, u [SI]; None where nothing can be said.
    expanded_uncertainty : float, optional
        U = k u [SI].
    coverage_factor : float, optional
        k [1].
    degrees_of_freedom : float, optional
        Of the standard uncertainty [1]; None: not limited.

    Raises
    ------
    InputRefused
        For NaN or infinity anywhere, and for a negative uncertainty.

    Notes
    -----
    Terms after JCGM 100:2008 (GUM) 2.3.1, 2.3.5 and 2.3.6.
    """

    value: float
    standard_uncertainty: float | None
    expanded_uncertainty: float | None = None
    coverage_factor: float | None = None
    degrees_of_freedom: float | None = None

    def __post_init__(self) -> None:
        """Refuse what is no number."""
        require_finite("value", self.value)
        for field in ("standard_uncertainty", "expanded_uncertainty", "coverage_factor"):
            number = getattr(self, field)
            if number is not None:
                require_not_negative(field, number)
        require_degrees("degrees_of_freedom", self.degrees_of_freedom)


def type_a(readings: Sequence[float]) -> Measured:
    """Mean of repeated readings, with the standard deviation of the mean.

    Parameters
    ----------
    readings : sequence of float
        Independent readings of one quantity under the same conditions [any unit], at least one.

    Returns
    -------
    Measured
        The mean; u = s/√n with n - 1 degrees of freedom. A single reading says nothing of its own
        scatter: its standard uncertainty is None.

    Raises
    ------
    InputRefused
        For no reading, and for one that is NaN or infinite.

    Notes
    -----
    s² = Σ (q - mean)²/(n - 1), u² = s²/n: JCGM 100:2008 (GUM) 4.2.1 to 4.2.3, equations 3 to 5.
    Valid for independent readings: lift the surface and set it down again between them.

    Examples
    --------
    >>> from hingeline.uncertainty import type_a
    >>> scatter = type_a([840.0, 845.0, 840.0, 845.0, 840.0])
    >>> scatter.value, round(scatter.standard_uncertainty, 4), scatter.degrees_of_freedom
    (842.0, 1.2247, 4.0)
    """
    count = len(readings)
    if count == 0:
        raise InputRefused.of("readings", "", "at least one reading", "Give what the scale showed.")
    for index, reading in enumerate(readings):
        require_finite(f"readings[{index}]", reading)
    mean = _mean(readings)
    if count == 1:
        return Measured(mean, None)
    return Measured(mean, _spread(readings, mean) / math.sqrt(count), degrees_of_freedom=float(count - 1))


def _mean(readings: Sequence[float]) -> float:
    """Add exactly, so that the order of the readings does not matter.

    Kept between the readings, or the division's last bit would give equal ones a scatter.
    """
    try:
        return min(max(math.fsum(readings) / len(readings), min(readings)), max(readings))
    except OverflowError:
        raise InputRefused.of(
            "readings", max(readings, key=abs), "readings whose sum is a finite number", "Check the unit."
        ) from None


def _spread(readings: Sequence[float], mean: float) -> float:
    """Experimental standard deviation; scaled, so that no square overflows or vanishes."""
    deviations = [reading - mean for reading in readings]
    largest = max(abs(deviation) for deviation in deviations)
    if largest == 0:
        return 0.0
    squares = math.fsum((deviation / largest) ** 2 for deviation in deviations)
    return require_finite("readings", largest * math.sqrt(squares / (len(readings) - 1)))


def rectangular(half_width: float) -> float:
    """Give the standard uncertainty where every value within ± ``half_width`` is as likely: a/√3.

    Parameters
    ----------
    half_width : float
        Limit of error, a [any unit], not negative.

    Returns
    -------
    float
        u, in the unit given.

    Raises
    ------
    InputRefused
        For NaN, infinity or a negative limit.

    Notes
    -----
    JCGM 100:2008 (GUM) 4.3.7, equation 7. Use it where only a limit is known.

    Examples
    --------
    >>> from hingeline.uncertainty import rectangular
    >>> round(rectangular(0.002), 6)
    0.001155
    """
    return require_not_negative("half_width", half_width) / math.sqrt(3)


def triangular(half_width: float) -> float:
    """Give the standard uncertainty where the middle of ± ``half_width`` is more likely: a/√6.

    Parameters
    ----------
    half_width : float
        Limit of error, a [any unit], not negative.

    Returns
    -------
    float
        u, in the unit given.

    Raises
    ------
    InputRefused
        For NaN, infinity or a negative limit.

    Notes
    -----
    JCGM 100:2008 (GUM) 4.3.9, equation 9b.

    Examples
    --------
    >>> from hingeline.uncertainty import triangular
    >>> round(triangular(0.002), 6)
    0.000816
    """
    return require_not_negative("half_width", half_width) / math.sqrt(6)


def arcsine(half_width: float) -> float:
    """Give the standard uncertainty where the ends of ± ``half_width`` are more likely: a/√2.

    Parameters
    ----------
    half_width : float
        Limit of error, a [any unit], not negative: for instance the amplitude of a swing.

    Returns
    -------
    float
        u, in the unit given.

    Raises
    ------
    InputRefused
        For NaN, infinity or a negative limit.

    Notes
    -----
    Standard deviation of a sine wave of that amplitude: JCGM 101:2008 6.4.6 (clause from memory).

    Examples
    --------
    >>> from hingeline.uncertainty import arcsine
    >>> round(arcsine(0.002), 6)
    0.001414
    """
    return require_not_negative("half_width", half_width) / math.sqrt(2)


def resolution(step: float) -> float:
    """Give the standard uncertainty of a display that moves by ``step``: d/√12.

    Parameters
    ----------
    step : float
        Full step of the last digit, d [any unit], not negative.

    Returns
    -------
    float
        u, in the unit given.

    Raises
    ------
    InputRefused
        For NaN, infinity or a negative step.

    Notes
    -----
    A rectangle of half-width d/2: JCGM 100:2008 (GUM) F.2.2.1, u = 0.29 d.

    Examples
    --------
    >>> from hingeline.uncertainty import resolution
    >>> round(resolution(1.0), 4)
    0.2887
    """
    return require_not_negative("step", step) / math.sqrt(12)


def from_expanded(expanded: float, coverage_factor: float) -> float:
    """Give the standard uncertainty behind a certificate's U and k: U/k.

    Parameters
    ----------
    expanded : float
        U [any unit], not negative.
    coverage_factor : float
        k [1], positive.

    Returns
    -------
    float
        u, in the unit given.

    Raises
    ------
    InputRefused
        For NaN, infinity, a negative U, or a k that is not positive.

    Notes
    -----
    JCGM 100:2008 (GUM) 4.3.3.

    Examples
    --------
    >>> from hingeline.uncertainty import from_expanded
    >>> from_expanded(10.0, 2.0)
    5.0
    """
    require_not_negative("expanded", expanded)
    require_positive("coverage_factor", coverage_factor, "A certificate prints k beside U; often k = 2.")
    return require_finite("expanded", expanded / coverage_factor)
