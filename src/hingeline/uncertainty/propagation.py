"""Uncertainty carried through a function: sensitivities found by calculation instead of by hand.

The sensitivities come from complex steps: f(x + ih) has the derivative, times h, as its imaginary
part, without any subtraction. That holds for analytic functions alone; ``abs``, ``max``, a
comparison or rounding break it silently. So every sensitivity is compared with a plain difference,
and refused where the two disagree.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any

from hingeline.errors import InputRefused
from hingeline.uncertainty.budget import Budget, Contribution, combine
from hingeline.uncertainty.checks import require_finite, require_not_negative
from hingeline.uncertainty.correlation import Correlation, correlation_matrix, quadratic_form
from hingeline.uncertainty.measured import Measured

Function = Callable[..., Any]
"""Takes the inputs one by one, as numbers or complex numbers, and returns a number of the same kind."""

_COMPLEX_STEP = 1e-30  # of the input's scale: its square vanishes beside any digit
_DIFFERENCE_STEPS = (0.01, 1e-3)  # of the uncertainty, and of the value: the smaller that is not zero
_SMALLEST_STEP = 1e-290
_CURVE_STEP = 1e-4
_AGREEMENT = 1e-3
_ANALYTIC = "a function of arithmetic, powers and cmath alone"


@dataclass(frozen=True, slots=True)
class Propagated:
    """A result with its uncertainty, and what each input does to it.

    Parameters
    ----------
    value : float
        The function at the inputs' values.
    sensitivities : tuple of float
        Derivative by each input, in the order given.
    standard_uncertainties : tuple of float
        Of each input, in the order given.
    budget : Budget
        Largest contribution first.
    """

    value: float
    sensitivities: tuple[float, ...]
    standard_uncertainties: tuple[float, ...]
    budget: Budget

    @property
    def measured(self) -> Measured:
        """The result as a measured value."""
        return Measured(
            value=self.value,
            standard_uncertainty=self.budget.standard_uncertainty,
            expanded_uncertainty=self.budget.expanded_uncertainty,
            coverage_factor=self.budget.coverage_factor,
            degrees_of_freedom=self.budget.effective_degrees_of_freedom,
        )


def propagate(
    function: Function,
    inputs: Sequence[Measured],
    correlation: Correlation | None = None,
    *,
    coverage: float = 0.95,
    k: float | None = None,
) -> Propagated:
    """Carry measured values through a function, to first order.

    Parameters
    ----------
    function : callable
        Takes as many numbers as there are inputs; analytic near their values (use ``cmath``, not
        ``math``; no ``abs``, ``max``, comparison or rounding).
    inputs : sequence of Measured
        Each with a standard uncertainty.
    correlation : mapping of (int, int) to float, optional
        Coefficients by pairs of positions [1].
    coverage : float
        Probability of the interval y ± U [1].
    k : float, optional
        Coverage factor, if it is prescribed [1].

    Returns
    -------
    Propagated
        Value, sensitivities, budget.

    Raises
    ------
    InputRefused
        For an input without uncertainty, and for a function that is not analytic there or gives no
        finite number.

    Notes
    -----
    c_i = ∂f/∂x_i: JCGM 100:2008 (GUM) 5.1.2 to 5.1.3, equation 10; complex step: Squire and Trapp,
    SIAM Review 40 (1998), 110-112 (from memory). Valid where the function is nearly straight over the
    uncertainties: see :func:`second_order_variance`.

    Examples
    --------
    >>> from hingeline.uncertainty import Measured, propagate
    >>> product = propagate(lambda x, y: x * y, [Measured(8.0, 0.03), Measured(0.25, 0.001)])
    >>> round(product.budget.standard_uncertainty, 6)
    0.010966
    """
    values = [one.value for one in inputs]
    uncertainties = _uncertainties(inputs)
    sensitivities = [
        sensitivity(function, values, position, uncertainties[position]) for position in range(len(values))
    ]
    contributions = [
        Contribution(f"input {position + 1}", uncertainty, "", slope, one.degrees_of_freedom)
        for position, (one, uncertainty, slope) in enumerate(zip(inputs, uncertainties, sensitivities, strict=True))
    ]
    return Propagated(
        value=_real(function, values),
        sensitivities=tuple(sensitivities),
        standard_uncertainties=tuple(uncertainties),
        budget=combine(contributions, coverage=coverage, k=k, correlation=correlation),
    )


def _uncertainties(inputs: Sequence[Measured]) -> list[float]:
    found = []
    for position, one in enumerate(inputs):
        if one.standard_uncertainty is None:
            raise InputRefused.of(
                f"inputs[{position}].standard_uncertainty", "", "a standard uncertainty", "State one, or 0."
            )
        found.append(one.standard_uncertainty)
    return found


def result_correlation(first: Propagated, second: Propagated, correlation: Correlation | None = None) -> float:
    """Correlation coefficient of two results of the same inputs.

    Parameters
    ----------
    first, second : Propagated
        Found by :func:`propagate` from the same inputs in the same order.
    correlation : mapping of (int, int) to float, optional
        Of the inputs, by pairs of positions [1].

    Returns
    -------
    float
        r, from -1 to 1 [1]; 0 where one of them has no uncertainty.

    Raises
    ------
    InputRefused
        Where the two did not have the same inputs.

    Notes
    -----
    u(y_l, y_m) = Σ Σ (∂y_l/∂x_i)(∂y_m/∂x_j) u_i u_j r_ij over u(y_l) u(y_m): JCGM 100:2008 (GUM)
    H.2.3 and 5.2.2.

    Examples
    --------
    >>> from hingeline.uncertainty import Measured, propagate, result_correlation
    >>> inputs = [Measured(1.0, 0.1), Measured(2.0, 0.1)]
    >>> total = propagate(lambda x, y: x + y, inputs)
    >>> difference = propagate(lambda x, y: x - y, inputs)
    >>> result_correlation(total, difference)
    0.0
    """
    if first.standard_uncertainties != second.standard_uncertainties:
        raise InputRefused.of(
            "second", second.standard_uncertainties, "the inputs of the first", "Propagate both anew."
        )
    matrix = correlation_matrix(correlation, len(first.standard_uncertainties))
    signed = [
        [slope * u for slope, u in zip(one.sensitivities, one.standard_uncertainties, strict=True)]
        for one in (first, second)
    ]
    product = first.budget.standard_uncertainty * second.budget.standard_uncertainty
    if product == 0:
        return 0.0
    return max(-1.0, min(1.0, quadratic_form(signed[0], signed[1], matrix) / product))


def sensitivity(function: Function, values: Sequence[float], position: int, uncertainty: float) -> float:
    """Find the derivative of a function by one input.

    Parameters
    ----------
    function : callable
        Analytic near ``values``.
    values : sequence of float
        Where.
    position : int
        Which input, counted from 0.
    uncertainty : float
        Standard uncertainty of that input: sets the scale where its value is zero.

    Returns
    -------
    float
        ∂f/∂x, to rounding.

    Raises
    ------
    InputRefused
        Where the function is not analytic, or gives no finite number.

    Notes
    -----
    Im f(x + ih)/h. Compared with (f(x + d) - f(x - d))/2d to one part in a thousand, rounding of f
    allowed for; d is the smaller of u/100 and x/1000. So ``abs`` and the like are found, but a kink
    farther off than d is not.
    """
    slope = _complex_slope(function, values, position, uncertainty)
    step = _difference_step(values[position], uncertainty)
    above = _real(function, _moved(values, position, step))
    below = _real(function, _moved(values, position, -step))
    plain = (above - below) / (2 * step)
    # what rounding of the function's values may do to their difference
    rounding = 1e-14 * max(abs(above), abs(below)) / step
    if abs(plain - slope) > _AGREEMENT * max(abs(plain), abs(slope)) + rounding:
        raise InputRefused.of(
            f"function, input {position + 1}", slope, _ANALYTIC,
            f"Its complex step gives {slope!r}, its plain difference {plain!r}; "
            "write it without abs, max, comparisons and rounding, or use monte_carlo.",
        )  # fmt: skip
    return slope


def _difference_step(value: float, uncertainty: float) -> float:
    by_uncertainty, by_value = (
        part * size for part, size in zip(_DIFFERENCE_STEPS, (uncertainty, abs(value)), strict=True)
    )
    return max(min(by_uncertainty or by_value, by_value or by_uncertainty) or 1e-3, _SMALLEST_STEP)


def _complex_slope(function: Function, values: Sequence[float], position: int, uncertainty: float) -> float:
    step = max(_COMPLEX_STEP * (max(abs(values[position]), uncertainty) or 1.0), _SMALLEST_STEP)
    moved: list[complex] = list(values)
    moved[position] = complex(values[position], step)
    return require_finite(f"function, input {position + 1}", _evaluate(function, moved).imag / step)


def _evaluate(function: Function, values: Sequence[complex]) -> complex:
    try:
        return complex(function(*values))
    except TypeError:
        raise InputRefused.of(
            "function", getattr(function, "__name__", "function"), _ANALYTIC,
            "It does not take complex numbers: use cmath in place of math, and no comparisons.",
        ) from None  # fmt: skip
    except (ArithmeticError, ValueError) as error:
        raise InputRefused.of(
            "function", error, "a finite result at the inputs' values and close by", "Check the values."
        ) from None


def _moved(values: Sequence[float], position: int, step: float) -> list[float]:
    return [value + step if index == position else value for index, value in enumerate(values)]


def _real(function: Function, values: Sequence[float]) -> float:
    result = _evaluate(function, values)
    if result.imag != 0:
        raise InputRefused.of("function", result, "a real number", "Check the values it is given.")
    return require_finite("function", result.real)


def second_order_variance(function: Function, values: Sequence[float], uncertainties: Sequence[float]) -> float:
    """Find what the bending of a function adds to the variance of its result.

    Parameters
    ----------
    function : callable
        Analytic near ``values``, as for :func:`propagate`.
    values : sequence of float
        Estimates of the inputs.
    uncertainties : sequence of float
        Their standard uncertainties, not negative.

    Returns
    -------
    float
        To be added to u² [square of the result's unit]; may be negative.

    Raises
    ------
    InputRefused
        For a function that is not analytic, lists of different length, a negative uncertainty.

    Notes
    -----
    Σ_i Σ_j (f_ij²/2 + f_i f_ijj) u_i² u_j²: JCGM 100:2008 (GUM) 5.1.2, note. Valid for independent
    inputs, each symmetric and near to normal. First derivatives by complex steps; theirs by
    differences, good to some six digits.

    Examples
    --------
    >>> from hingeline.uncertainty import second_order_variance
    >>> round(second_order_variance(lambda x: x * x, [0.0], [0.1]), 9)
    0.0002
    """
    if len(values) != len(uncertainties):
        raise InputRefused.of(
            "uncertainties", len(uncertainties), f"one for each of {len(values)} values", "Pair them."
        )
    for position, uncertainty in enumerate(uncertainties):
        require_not_negative(f"uncertainties[{position}]", uncertainty)
    active = [position for position, uncertainty in enumerate(uncertainties) if uncertainty > 0]
    return math.fsum(
        _second_order_term(function, values, uncertainties, first, second) for first in active for second in active
    )


def _second_order_term(
    function: Function, values: Sequence[float], uncertainties: Sequence[float], first: int, second: int
) -> float:
    step = max(0.01 * uncertainties[second], _CURVE_STEP * abs(values[second]))
    below, here, above = (
        sensitivity(function, _moved(values, second, move), first, uncertainties[first]) for move in (-step, 0.0, step)
    )
    mixed = (above - below) / (2 * step)
    third = (above - 2 * here + below) / step**2
    return (mixed**2 / 2 + here * third) * (uncertainties[first] * uncertainties[second]) ** 2
