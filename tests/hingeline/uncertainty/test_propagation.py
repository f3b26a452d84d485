"""Sensitivities by complex steps, and what bends beyond them."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    Measured,
    Normal,
    monte_carlo,
    propagate,
    result_correlation,
    second_order_variance,
)


def moment(mass: Any, arm: Any, gravity: Any) -> Any:
    """Static moment of a reading at an arm."""
    return mass * arm * gravity


def test_sensitivities_are_the_derivatives() -> None:
    """Of m g x they are g x, m g and m x, to the last digits."""
    found = propagate(moment, [Measured(0.842, 0.001), Measured(0.255, 0.001), Measured(9.80665, 0.0)])
    assert found.value == pytest.approx(0.842 * 0.255 * 9.80665, rel=1e-15)
    assert found.sensitivities == pytest.approx((0.255 * 9.80665, 0.842 * 9.80665, 0.842 * 0.255), rel=1e-14)
    assert [row.source for row in found.budget.rows] == ["input 2", "input 1", "input 3"]


def test_degrees_of_freedom_come_through() -> None:
    """The measured result carries u, U, k and the effective degrees of freedom."""
    found = propagate(lambda x, y: x + y, [Measured(1.0, 3.0, degrees_of_freedom=4.0), Measured(2.0, 4.0)])
    assert found.measured.standard_uncertainty == pytest.approx(5.0)
    assert found.measured.degrees_of_freedom == pytest.approx(4 * 625 / 81)
    assert found.measured.expanded_uncertainty == pytest.approx(5.0 * found.budget.coverage_factor)


@pytest.mark.parametrize("x", [1e-8, 0.3, 1.0, 1e6])
def test_analytic_functions(x: float) -> None:
    """Sine, exponential, root and logarithm have their derivatives to rounding, at any scale."""
    for function, slope in [
        (lambda z: cmath.sin(z / x), math.cos(1.0) / x),
        (lambda z: cmath.exp(-z / x), -math.exp(-1.0) / x),
        (cmath.sqrt, 0.5 / math.sqrt(x)),
        (cmath.log, 1 / x),
    ]:
        assert propagate(function, [Measured(x, 1e-4 * x)]).sensitivities[0] == pytest.approx(slope, rel=1e-13)


@pytest.mark.parametrize(
    ("function", "value", "message"),
    [
        (lambda x: abs(x), -3.0, "write it without abs, max, comparisons and rounding"),
        (lambda x: x.real * 2 if isinstance(x, complex) else x * 2, 1.0, "write it without abs"),
        (lambda x: math.sin(x), 1.0, "use cmath in place of math"),
        (lambda x: max(x, 0.0), 1.0, "use cmath in place of math"),
        (cmath.log, -1.0, "a real number"),
        (lambda x: 1 / (x - 1), 1.0, "function"),
        (lambda x: cmath.exp(x), 1e5, "a finite result"),
    ],
)
def test_functions_that_break_the_complex_step_are_refused(
    function: Callable[[Any], Any], value: float, message: str
) -> None:
    """A function that is not analytic is refused by name instead of losing its uncertainty silently."""
    with pytest.raises(InputRefused, match=message):
        propagate(function, [Measured(value, 0.1)])


def test_an_input_without_uncertainty_is_refused() -> None:
    """Unknown is not zero."""
    with pytest.raises(InputRefused, match=r"inputs\[1\].standard_uncertainty: .* State one, or 0"):
        propagate(lambda x, y: x + y, [Measured(1.0, 0.1), Measured(2.0, None)])


def test_results_of_the_same_inputs_are_correlated() -> None:
    """X + y and x are correlated by 1/√2 where u(x) = u(y); a result with itself by 1."""
    inputs = [Measured(1.0, 0.1), Measured(2.0, 0.1)]
    total, first = propagate(lambda x, y: x + y, inputs), propagate(lambda x, y: x, inputs)
    assert result_correlation(total, first) == pytest.approx(math.sqrt(0.5))
    assert result_correlation(total, total) == pytest.approx(1.0)
    constant = propagate(lambda x, y: 5.0, inputs)
    assert result_correlation(total, constant) == 0.0


def test_results_of_other_inputs_are_refused() -> None:
    """A correlation of results that do not share their inputs is refused."""
    one = propagate(lambda x: x, [Measured(1.0, 0.1)])
    other = propagate(lambda x: x, [Measured(1.0, 0.2)])
    with pytest.raises(InputRefused, match="the inputs of the first"):
        result_correlation(one, other)


def test_second_order_of_known_functions() -> None:
    """For normal inputs: x² at 0 has variance 2u⁴; a product of two zeros u²v²; a line adds nothing."""
    assert second_order_variance(lambda x: x * x, [0.0], [0.3]) == pytest.approx(2 * 0.3**4, rel=1e-6)
    assert second_order_variance(lambda x, y: x * y, [0.0, 0.0], [0.3, 0.2]) == pytest.approx(0.06**2, rel=1e-6)
    assert second_order_variance(lambda x, y: 3 * x - y, [5.0, 7.0], [0.3, 0.2]) == pytest.approx(0, abs=1e-9)


def test_second_order_of_a_function_that_bends_more_and_more() -> None:
    """JCGM 100:2008 (GUM) 5.1.2, note, by hand: of x³ (36 x²/2 + 3 x² 6) u⁴ = 36 x² u⁴; and of x² y.

    x² y at (1, 2) has f_x = 4, f_xx = 4, f_xy = 2, f_y = 1, f_yxx = 2 and no other: u⁴ 4²/2 for x alone,
    (2²/2 + 2²/2 + 1 x 2) u² v² for both.
    """
    assert second_order_variance(lambda x: x**3, [2.0], [0.1]) == pytest.approx(36 * 4 * 1e-4, rel=1e-4)
    u, v = 0.1, 0.3
    by_hand = 8 * u**4 + 6 * (u * v) ** 2
    assert second_order_variance(lambda x, y: x * x * y, [1.0, 2.0], [u, v]) == pytest.approx(by_hand, rel=1e-4)


def test_second_order_against_draws() -> None:
    """The variance to second order is that of the draws where a product's terms bend it."""
    uncertainties = [0.2, 0.3]
    first = propagate(lambda x, y: x * y, [Measured(1.0, 0.2), Measured(0.5, 0.3)]).budget
    second = second_order_variance(lambda x, y: x * y, [1.0, 0.5], uncertainties)
    drawn = monte_carlo(lambda x, y: x * y, [Normal(1.0, 0.2), Normal(0.5, 0.3)], seed=3)
    assert drawn.standard_uncertainty == pytest.approx(math.sqrt(first.standard_uncertainty**2 + second), rel=3e-3)
    assert abs(drawn.standard_uncertainty / first.standard_uncertainty - 1) > 1e-2


def test_second_order_refuses_what_does_not_pair() -> None:
    """Each value needs its uncertainty, and none is negative."""
    with pytest.raises(InputRefused, match="one for each of 2 values"):
        second_order_variance(lambda x, y: x, [1.0, 2.0], [0.1])
    with pytest.raises(InputRefused, match=r"uncertainties\[0\]: .*zero or a positive"):
        second_order_variance(lambda x: x, [1.0], [-0.1])
