"""The line for an aircraft's weight-and-balance record: moment is mass times arm, aft of the datum positive.

Common practice of aircraft mass and balance, no source opened; the numbers were worked out by hand.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as some

from hingeline.balance.aircraft_line import MassChange, aircraft_line
from hingeline.errors import InputRefused


def test_one_weight_counts_at_its_own_arm_from_the_datum() -> None:
    """0.145 kg, 0.180 m forward of a hinge line 4.500 m aft: 4.320 m, 0.6264 kg m."""
    line = aircraft_line([MassChange(0.145, -0.180)], 4.5)
    assert (line.mass, line.arm) == pytest.approx((0.145, 4.32))
    assert line.moment == pytest.approx(0.6264)


def test_what_is_taken_off_takes_its_moment_with_it() -> None:
    line = aircraft_line([MassChange(-0.2, 0.1)], 4.5)
    assert line.moment == pytest.approx(-0.92)
    assert line.arm == pytest.approx(4.6)


def test_a_datum_aft_of_the_surface_gives_the_other_sign() -> None:
    """A canard's hinge line ahead of the datum: mass put on there is moment forward."""
    assert aircraft_line([MassChange(0.1, 0.0)], -1.2).moment == pytest.approx(-0.12)


def test_masses_that_cancel_have_a_moment_and_no_arm() -> None:
    line = aircraft_line([MassChange(0.3, -0.2), MassChange(-0.3, 0.1)], 4.0)
    assert line.arm is None
    assert line.moment == pytest.approx(-0.09)


@given(
    some.lists(some.tuples(some.floats(-5, 5), some.floats(-2, 2)), min_size=1, max_size=8),
    some.floats(-20, 20),
    some.floats(-20, 20),
)
def test_another_datum_moves_the_moment_by_mass_times_its_shift(
    changes: list[tuple[float, float]], first: float, second: float
) -> None:
    """A law of any datum: M' = M + m (x' - x)."""
    given_changes = [MassChange(*each) for each in changes]
    one, other = aircraft_line(given_changes, first), aircraft_line(given_changes, second)
    assert other.moment == pytest.approx(one.moment + one.mass * (second - first), abs=1e-9)


def test_nothing_changed_and_numbers_that_are_none_are_refused() -> None:
    with pytest.raises(InputRefused, match="at least one mass"):
        aircraft_line([], 4.5)
    with pytest.raises(InputRefused, match=r'hinge_from_datum: "nan" is refused\. Expected finite'):
        aircraft_line([MassChange(0.1, 0.1)], math.nan)


def test_a_number_out_of_all_bounds_is_named_with_its_place() -> None:
    """It was told as "not a number", without a word of which one."""
    with pytest.raises(InputRefused, match=r'changes\[1\]\.mass: "2000000\.0" is refused'):
        aircraft_line([MassChange(0.1, 0.1), MassChange(2e6, 0.1)], 4.5)
