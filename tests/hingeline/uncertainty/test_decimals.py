"""The second route to U: fifty digits, and nothing shared with the first."""

from __future__ import annotations

import ast
import math
from decimal import Decimal, localcontext
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from scipy import special

import hingeline.uncertainty
from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    combine_decimal,
    decimal_contribution,
    decimal_factor,
    rectangular,
    squared_contribution,
)
from hingeline.uncertainty.decimal_factors import CONTEXT, _closed_sum, _long_series, arctangent, circle

HERE = Path(hingeline.uncertainty.__file__).parent


@pytest.mark.parametrize("name", ["decimals.py", "decimal_factors.py"])
def test_it_shares_nothing_with_the_first_route(name: str) -> None:
    """Of the library it imports the errors and itself alone, and of mathematics nothing in floats."""
    tree = ast.parse((HERE / name).read_text("utf-8"))
    imported = {node.module for node in ast.walk(tree) if isinstance(node, ast.ImportFrom)}
    imported |= {alias.name for node in ast.walk(tree) if isinstance(node, ast.Import) for alias in node.names}
    ours = {module for module in imported if module and module.startswith("hingeline")}
    assert ours <= {"hingeline.errors", "hingeline.uncertainty.decimal_factors"}
    assert "math" not in imported


def test_by_hand() -> None:
    """3 with 4 degrees and 4 without: u = 5, ν = 4 · 625/81."""
    found = combine_decimal([decimal_contribution("3", "4"), decimal_contribution("4")], k="2")
    assert found.standard_uncertainty == 5
    assert found.expanded_uncertainty == 10
    assert found.effective_degrees_of_freedom == CONTEXT.divide(Decimal(2500), Decimal(81))


def test_the_square_of_a_rectangle_is_exact() -> None:
    """U of a rectangle has no exact digits; given by its square it loses none."""
    found = combine_decimal([squared_contribution(Fraction(4, 3))], k=3)
    assert found.expanded_uncertainty == CONTEXT.multiply(3, CONTEXT.sqrt(CONTEXT.divide(4, 3)))
    assert float(found.standard_uncertainty) == pytest.approx(rectangular(2.0), rel=1e-15)


def test_the_largest_coverage_is_a_ten_thousand_billionth_short_of_all() -> None:
    """1 - 1e-16 is the last that is taken: the factor of a normal distribution is then 8.29 (SciPy)."""
    last = 1 - Fraction(1, 10**16)
    expected = special.ndtri(0.5e-16)
    assert float(combine_decimal([], coverage=last).coverage_factor) == pytest.approx(-expected, rel=1e-9)
    for beyond in (1 - Fraction(1, 2 * 10**16), 1 + Fraction(1, 2)):
        with pytest.raises(InputRefused, match="between 0 and 1"):
            combine_decimal([], coverage=beyond)


@pytest.mark.parametrize("degrees", [1, 2, 3, 4, 5, 10, 31, 100, 999, 1000, 1001, 5000, 10**6])
@pytest.mark.parametrize("coverage", ["0.5", "0.9", "0.95", "0.99", "0.9973"])
def test_factors_against_scipy(coverage: str, degrees: int) -> None:
    """The t factor agrees with scipy.special.stdtrit to 1e-12 of itself."""
    expected = special.stdtrit(degrees, (1 + float(coverage)) / 2)
    assert float(decimal_factor(Fraction(coverage), degrees)) == pytest.approx(expected, rel=1e-12)


def test_normal_factor_to_twenty_digits() -> None:
    """The normal quantile of 0.975, as widely printed (from memory): 1.95996398454005423552."""
    assert str(decimal_factor(Fraction(95, 100), None))[:21] == "1.9599639845400542355"


def test_closed_factors() -> None:
    """One degree: tan(π p/2), two: p √(2/(1 - p²)), to forty digits and more."""
    two = decimal_factor(Fraction(95, 100), 2)
    with localcontext(CONTEXT):
        assert abs(two - Decimal("0.95") * (2 / Decimal("0.0975")).sqrt()) < Decimal("1e-50")
    assert decimal_factor(Fraction(1, 2), 1) == pytest.approx(Decimal(1), abs=Decimal("1e-55"))


@pytest.mark.parametrize("degrees", [600, 1000, 1001, 3000])
def test_both_sums_meet(degrees: int) -> None:
    """Closed sum and long series, which share no formula, give one probability and one density."""
    with localcontext(CONTEXT):
        closed, series = _closed_sum(degrees)(Decimal(2)), _long_series(degrees)(Decimal(2))
        assert abs(closed[0] - series[0]) < Decimal("1e-37")
        assert abs(closed[1] - series[1]) < Decimal("1e-37")


def test_slope_is_the_derivative() -> None:
    """The slope that Newton's steps use is that of the probability."""
    for degrees in (1, 2, 5, 8, 2000):
        curve = _long_series(degrees) if degrees > 1000 else _closed_sum(degrees)
        step = Decimal("1e-12")
        with localcontext(CONTEXT):
            rise = (curve(Decimal(2) + step)[0] - curve(Decimal(2) - step)[0]) / (2 * step)
        assert float(rise) == pytest.approx(float(curve(Decimal(2))[1]), rel=1e-12)


def test_circle_and_arctangent() -> None:
    """π to fifty digits, as widely printed (from memory); atan 1 = π/4."""
    assert str(circle()).startswith("3.1415926535897932384626433832795028841971693993751")
    with localcontext(CONTEXT):
        assert abs(4 * arctangent(Decimal(1)) - circle()) < Decimal("1e-56")
    assert float(arctangent(Decimal(1000))) == pytest.approx(math.atan(1000), rel=1e-15)


def test_nothing_combined() -> None:
    """No contribution, or only zeros, gives zero and no limit."""
    for nothing in ([], [decimal_contribution(0, 4)]):
        found = combine_decimal(nothing)
        assert (found.standard_uncertainty, found.expanded_uncertainty) == (0, 0)
        assert found.effective_degrees_of_freedom is None


def test_degrees_just_below_a_whole_number_count_as_it() -> None:
    """ν below a whole number by rounding alone keeps its degree, as in the first route."""
    almost = Fraction(17) * (1 - Fraction(1, 10**13))
    found = combine_decimal([decimal_contribution(1, almost)])
    assert found.coverage_factor == decimal_factor(Fraction(95, 100), 17)
    below = combine_decimal([decimal_contribution(1, Fraction(1699, 100))])
    assert below.coverage_factor == decimal_factor(Fraction(95, 100), 16)
    assert combine_decimal([decimal_contribution(1, "0.3")]).coverage_factor == decimal_factor(Fraction(95, 100), 1)


def test_a_float_is_taken_by_its_binary_value() -> None:
    """0.1 as a float is not 0.1 as text, and both are exact."""
    assert decimal_contribution("0.1").squared == Fraction(1, 100)
    assert decimal_contribution(0.1).squared == Fraction(0.1) ** 2 != Fraction(1, 100)


@pytest.mark.parametrize("wrong", ["nan", "inf", "-Infinity", "1_000", "12,6", "", "1e999", "arm", math.nan, math.inf])
def test_what_is_no_number_is_refused(wrong: Any) -> None:
    """Neither text nor float that is no finite number gets in, nor one that would fill the memory."""
    with pytest.raises(InputRefused, match=r"size: .* a finite number"):
        decimal_contribution(wrong)


@pytest.mark.parametrize(
    ("call", "message"),
    [
        (lambda: squared_contribution("-1"), "squared: .* zero or a positive number"),
        (lambda: decimal_contribution("1", 0), "degrees_of_freedom: .* a positive number"),
        (lambda: combine_decimal([], k="0"), "k: .* a positive number"),
        (lambda: combine_decimal([], coverage="0"), "coverage: .* between 0 and 1"),
        (lambda: combine_decimal([], coverage="1"), "coverage: .* between 0 and 1"),
        (lambda: combine_decimal([], coverage="95"), r"Write 95 percent as 0\.95"),
        (lambda: combine_decimal([], coverage=math.nan), "coverage: .* a finite number"),
    ],
)
def test_what_cannot_be_is_refused(call: Any, message: str) -> None:
    """A negative square, no degrees of freedom, a factor of zero and a coverage of none or all are refused."""
    with pytest.raises(InputRefused, match=message):
        call()


@pytest.mark.parametrize("degrees", [10**17, 10**30, 10**31, 10**48, 10**200])
def test_degrees_beyond_counting_give_the_normal_factor(degrees: int) -> None:
    """However many degrees of freedom there are, k comes down to the normal one and loses no digits."""
    normal = decimal_factor(Fraction(1, 2), None)
    assert abs(decimal_factor(Fraction(1, 2), degrees) - normal) < Decimal("1e-16")


@pytest.mark.parametrize(
    ("text", "is_taken"), [("1E+400", True), ("1E+401", False), ("1E-400", True), ("1E-401", False)]
)
def test_a_number_has_four_hundred_places_at_most(text: str, is_taken: bool) -> None:
    """On both sides of the point: beyond them a typed slip would keep the fractions busy for long."""
    if is_taken:
        assert decimal_contribution(text, None) == squared_contribution(Fraction(text) ** 2, None)
    else:
        with pytest.raises(InputRefused, match="a finite number"):
            decimal_contribution(text, None)
