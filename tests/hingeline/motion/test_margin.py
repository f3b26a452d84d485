"""The flutter margin: one number in two ways, zero where a mode neither grows nor dies out."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hingeline.motion.margin import flutter_margin

REAL, ANGULAR = st.floats(-8.0, -0.01), st.floats(1.0, 60.0)


@given(REAL, ANGULAR, REAL, ANGULAR)
def test_it_is_what_the_coefficients_of_the_quartic_give(one: float, slow: float, two: float, fast: float) -> None:
    """F = A2 A1/A3 - (A1/A3)² - A0 of the quartic with these roots (Routh's criterion, divided by A3²)."""
    first, second = complex(one, slow), complex(two, fast)
    _, a3, a2, a1, a0 = np.poly([first, first.conjugate(), second, second.conjugate()]).real
    expected = a2 * a1 / a3 - (a1 / a3) ** 2 - a0
    size = abs(a2 * a1 / a3) + (a1 / a3) ** 2 + abs(a0)
    assert flutter_margin(first, second) == pytest.approx(expected, abs=1e-9 * size)


@given(ANGULAR, REAL, ANGULAR)
def test_it_is_zero_where_one_mode_neither_grows_nor_dies_out(slow: float, two: float, fast: float) -> None:
    """At a neutral point the margin vanishes, whatever the other mode does."""
    assume(abs(slow - fast) > 0.1)
    size = (fast**2 + slow**2 + two**2) ** 2
    assert flutter_margin(complex(0.0, slow), complex(two, fast)) == pytest.approx(0.0, abs=1e-9 * size)


@given(REAL, ANGULAR, REAL, ANGULAR)
def test_it_is_positive_where_both_die_out(one: float, slow: float, two: float, fast: float) -> None:
    """Both modes damped: the margin is above zero."""
    assert flutter_margin(complex(one, slow), complex(two, fast)) > 0.0
