"""The normal distribution and Student's t, against another implementation and against known values."""

from __future__ import annotations

import math

import pytest
from scipy import special

from hingeline.errors import InputRefused
from hingeline.uncertainty import (
    coverage_factor,
    normal_cumulative,
    normal_quantile,
    student_cumulative,
    student_quantile,
)
from hingeline.uncertainty.student import normal_tail_quantile, student_tail_quantile

DEGREES = [1, 1.3, 2, 2.5, 3, 4, 5, 7.7, 10, 16, 30, 50, 99, 99.9, 100, 101, 170, 345.6, 1e3, 1e4, 1e5, 1e6]
PROBABILITIES = [0.8, 0.85, 0.9, 0.95, 0.958, 0.96, 0.975, 0.99, 0.995, 0.999, 0.9999]


@pytest.mark.parametrize("degrees", DEGREES)
@pytest.mark.parametrize("p", PROBABILITIES)
def test_quantile_against_scipy(p: float, degrees: float) -> None:
    """The t quantile agrees with scipy.special.stdtrit to 1e-12 of itself."""
    assert student_quantile(p, degrees) == pytest.approx(special.stdtrit(degrees, p), rel=1e-12, abs=0)


@pytest.mark.slow
@pytest.mark.parametrize("degrees", DEGREES)
@pytest.mark.parametrize("t", [-40.0, -3.0, -1.7, -0.2, 0.0, 1e-3, 0.5, 1.73, 1.74, 2.5, 8.0])
def test_cumulative_against_scipy(t: float, degrees: float) -> None:
    """The t probability agrees with scipy.special.stdtr to 1e-12 of itself, in the small tail too."""
    assert student_cumulative(t, degrees) == pytest.approx(special.stdtr(degrees, t), rel=1e-12, abs=1e-300)


@pytest.mark.parametrize("p", [1e-90, 1e-9, 0.001, 0.3, 0.5, 0.8, 0.975, 1 - 1e-12])
def test_normal_quantile_against_scipy(p: float) -> None:
    """The normal quantile agrees with scipy.special.ndtri to 1e-13, far into the tail too."""
    assert normal_quantile(p) == pytest.approx(special.ndtri(p), rel=1e-13, abs=1e-16)


@pytest.mark.parametrize("z", [-30.0, -5.0, -1.0, 0.0, 0.7, 3.0])
def test_normal_cumulative_against_scipy(z: float) -> None:
    """The normal probability agrees with scipy.special.ndtr to what rounding of z/√2 allows: 2^-52 z²."""
    allowed = 1e-15 + 2.0**-52 * z * z
    assert normal_cumulative(z) == pytest.approx(special.ndtr(z), rel=allowed, abs=0)


# Coverage 95 %, two-sided: JCGM 100:2008 (GUM) table G.2, from memory, three printed digits.
@pytest.mark.parametrize(
    ("degrees", "t"), [(1, 12.71), (2, 4.30), (3, 3.18), (4, 2.78), (5, 2.57), (10, 2.23), (50, 2.01)]
)
def test_table_of_factors(degrees: float, t: float) -> None:
    """The coverage factor is that of the GUM's table G.2."""
    assert coverage_factor(0.95, degrees) == pytest.approx(t, abs=0.005)


def test_closed_form_of_one_degree() -> None:
    """With one degree of freedom t is tan(π (p - 1/2))."""
    assert student_quantile(0.9, 1) == pytest.approx(math.tan(0.4 * math.pi), rel=1e-14)


@pytest.mark.parametrize("t", [1e-8, 1e-5, 0.01, 1.0, 100.0, 1e200])
def test_cumulative_of_one_degree(t: float) -> None:
    """With one degree of freedom the tail is atan(1/t)/π; not compared with scipy.special.stdtr,
    which in version 1.17.1 is off by 1.6e-9 at t = 1e-8.
    """
    assert student_cumulative(-t, 1) == pytest.approx(math.atan(1 / t) / math.pi, rel=1e-12, abs=0)


def test_unlimited_is_normal() -> None:
    """None and infinity both mean the normal distribution, which large numbers approach."""
    assert student_quantile(0.975, None) == student_quantile(0.975, math.inf) == normal_quantile(0.975)
    assert student_quantile(0.975, 1e15) == pytest.approx(normal_quantile(0.975), rel=1e-14)
    assert student_cumulative(1.0, None) == normal_cumulative(1.0)


def test_extremes_stay_numbers() -> None:
    """The far ends give finite numbers."""
    assert student_quantile(1e-99, 1) == pytest.approx(-1e99 / math.pi, rel=1e-12)
    assert 0 < student_cumulative(-1e200, 1) < 1e-199
    assert student_cumulative(-1e200, 1000) == 0.0
    assert student_quantile(0.5, 3) == normal_quantile(0.5) == 0.0


@pytest.mark.parametrize("p", [0.0, 1.0, -0.1, 1.1, math.nan])
def test_probabilities_beyond_0_and_1_are_refused(p: float) -> None:
    """A probability that cannot be is refused, with the remedy."""
    with pytest.raises(InputRefused, match=r"p: .* between 0 and 1, neither included\. Write 95 percent as 0\.95"):
        student_quantile(p, 4)


@pytest.mark.parametrize("degrees", [0.5, 0.0, -3.0, math.nan])
def test_degrees_below_one_are_refused(degrees: float) -> None:
    """Degrees of freedom below 1 are refused, with the remedy."""
    with pytest.raises(InputRefused, match=r"degrees_of_freedom: .* Expected 1 or more\. Leave them out"):
        student_cumulative(1.0, degrees)


def test_nan_is_refused() -> None:
    """NaN is refused by both cumulative functions, an infinite t too, and a tail without sense."""
    for call in (
        lambda: normal_cumulative(math.nan),
        lambda: student_cumulative(math.nan, 3),
        lambda: student_cumulative(math.inf, 3),
    ):
        with pytest.raises(InputRefused, match="a finite number"):
            call()
    with pytest.raises(InputRefused, match=r"from 1e-100 to 0.5"):
        normal_quantile(1e-120)


def test_a_tail_is_at_most_one_half_and_at_least_1e_100() -> None:
    """At one half the quantile is zero; more than one half is no upper tail, next to nothing supports none."""
    assert normal_tail_quantile(0.5) == student_tail_quantile(0.5, 4.0) == 0.0
    assert normal_tail_quantile(1e-100) == pytest.approx(-special.ndtri(1e-100), rel=1e-12)
    for tail in (math.nextafter(0.5, 1.0), 0.7, math.nextafter(1e-100, 0.0), 0.0, -0.1, math.nan):
        for quantile in (normal_tail_quantile, lambda tail: student_tail_quantile(tail, 4.0)):
            with pytest.raises(InputRefused, match=r"a probability from 1e-100 to 0\.5"):
                quantile(tail)
