"""Printed rows at the bounds: what is still read, what is refused, and what is still no doubt.

The bounds are our own choice (common practice, no source); they are typed here anew.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from typing import Any

import pytest

from hingeline.balance import LimitRow, PrintedRange, check_rows
from hingeline.balance.printed_limits import RowResult
from hingeline.errors import InputRefused, Refusal
from hingeline.units import read

Row = Callable[[float], LimitRow]


def row(**given: Any) -> LimitRow:
    return LimitRow(**{"surface": "aileron", "moment": PrintedRange(0.0, 2.0), **given})


def refusals_of(*rows: LimitRow) -> list[Refusal]:
    try:
        check_rows(rows)
    except InputRefused as refused:
        return list(refused.refusals)
    return []


def above(value: float) -> float:
    return math.nextafter(value, math.inf)


def below(value: float) -> float:
    return math.nextafter(value, -math.inf)


# what is changed, the field, taken at the least, taken at the most
BETWEEN: list[tuple[Row, str, float, float]] = [
    (lambda x: row(arm=x), "arm", 1e-9, 10.0),
    (lambda x: row(second_arm=x), "second_arm", 1e-9, 10.0),
    (lambda x: row(chord=x), "chord", 1e-9, 10.0),
    (lambda x: row(moment=PrintedRange(x, None)), "moment.lower", -10_000.0, 10_000.0),
    (lambda x: row(moment=PrintedRange(None, x)), "moment.upper", -10_000.0, 10_000.0),
    (lambda x: row(arm=1.0, force=PrintedRange(None, x)), "force.upper", -10_000.0, 10_000.0),
    (lambda x: row(arm=1.0, reading=PrintedRange(x, None)), "reading.lower", -10_000.0, 10_000.0),
    (lambda x: row(mass=PrintedRange(x, None)), "mass.lower", 0.0, 10_000.0),
    (lambda x: row(second_mass=PrintedRange(None, x)), "second_mass.upper", 0.0, 10_000.0),
    (lambda x: row(second_unit=PrintedRange(None, x)), "second_unit.upper", -10_000.0, 10_000.0),
]


@pytest.mark.parametrize(("changed", "field", "least", "most"), BETWEEN, ids=[each[1] for each in BETWEEN])
def test_a_bound_is_taken_and_what_lies_beyond_is_refused(changed: Row, field: str, least: float, most: float) -> None:
    assert [*refusals_of(changed(least)), *refusals_of(changed(most))] == []
    for beyond in (below(least), above(most), math.nan, math.inf):
        assert [each.field for each in refusals_of(changed(beyond))] == [f"row[0].{field}"], beyond


def test_next_to_nothing_is_refused_and_nothing_is_not() -> None:
    """Whatever is divided by it would have no end; zero itself is printed often."""
    for number, count in ((0.0, 0), (1e-9, 0), (-1e-9, 0), (9e-10, 1), (-9e-10, 1)):
        assert len(refusals_of(row(moment=PrintedRange(None, number)))) == count, number


def test_the_second_row_is_refused_by_its_own_number() -> None:
    (refusal,) = refusals_of(row(), row(force=PrintedRange(None, 8.0)))
    assert (refusal.field, refusal.expected) == ("row[1].arm", "the arm of the force")
    (refusal,) = refusals_of(row(moment=PrintedRange(None, None)))
    assert (refusal.field, refusal.value) == ("row[0].moment", "none")


@pytest.mark.parametrize(
    ("arm", "remedy"), [(11.0, "Check the number"), (0.0, "without a sign"), (-1.0, "without a sign")]
)
def test_an_arm_with_a_sign_is_told_apart(arm: float, remedy: str) -> None:
    assert remedy in refusals_of(row(arm=arm))[0].remedy


def test_the_expected_range_of_a_mass_has_no_sign() -> None:
    """A moment may be below nothing, a mass may not; of the second unit it is told as what it is."""
    assert refusals_of(row(second_mass=PrintedRange(None, -1.0)))[0].expected.startswith("a mass from 0 to 10000 kg")
    (refusal,) = refusals_of(row(moment=PrintedRange(None, 2e4)))
    assert refusal.expected == "a moment from -10000 to 10000 N m, zero or at least 1e-09"


def checked(**given: Any) -> RowResult:
    (found,) = check_rows((row(**given),), local_gravity=10.0).rows
    return found


def placed(lower: float | None, upper: float | None, mass: float = 1.0, chord: float | None = 0.5) -> int:
    """How many doubts there are of a surface of so much mass and chord; ten newtons a kilogram."""
    return len(checked(moment=PrintedRange(lower, upper), mass=PrintedRange(None, mass), chord=chord).doubts)


def test_a_centre_beyond_the_chord_is_doubted() -> None:
    """5 N m over 10 N are 0.5 m: at the trailing edge no doubt, beyond it one, on either side of the hinge line."""
    assert [placed(0.0, 5.0), placed(0.0, 5.01), placed(-5.0, 0.0), placed(-5.01, 0.0)] == [0, 1, 0, 1]
    assert [placed(None, 5.01), placed(None, 5.01, chord=None), placed(0.0, 5.01, mass=0.0)] == [1, 0, 0]


def test_a_whole_band_almost_on_the_hinge_line_is_doubted() -> None:
    """Three hundredths of 0.5 m are 15 mm, 0.15 N m: a band up to there is doubted unless it holds zero."""
    assert [placed(0.05, 0.149), placed(0.05, 0.151), placed(-0.149, -0.05)] == [1, 0, 1]
    assert [placed(0.0, 0.149), placed(-0.1, 0.1), placed(None, 0.1)] == [0, 0, 0]


def test_of_a_doubt_the_lengths_are_told() -> None:
    """4 to 6 N m of 1 kg at 10 m/s² are 400 to 600 mm, on a chord of 500 mm."""
    found = checked(moment=PrintedRange(4.0, 6.0), mass=PrintedRange(None, 1.0), chord=0.5)
    (doubt,) = found.doubts
    assert (doubt.least, doubt.most, doubt.chord) == pytest.approx((0.4, 0.6, 0.5))
    assert "400 … 600 mm from the hinge line, on a chord of 500 mm" in doubt.sentence
    assert "as far forward" in doubt.sentence


def test_one_part_in_a_hundred_is_a_small_difference() -> None:
    """100 N at 1 m are 100 N m: 101 N m printed are a hundredth beside it and small, 101.2 N m contradict it.

    The interval of what is printed is left aside: these numbers were not typed, so nothing stands about them.
    """
    for stated, wide, small in ((100.0, 0, 0), (101.0, 0, 1), (101.2, 1, 0), (99.0, 0, 1), (98.9, 1, 0)):
        found = checked(moment=PrintedRange(None, stated), force=PrintedRange(None, 100.0), arm=1.0)
        assert (len(found.contradictions), len(found.small_differences)) == (wide, small), stated


def test_nose_heavy_counted_positive_is_turned_round() -> None:
    """A row that counts nose-heavy positive: 1 to 2 N m nose-heavy are -2 to -1 N m here."""
    found = checked(moment=PrintedRange(1.0, 2.0), positive="nose-heavy")
    assert (found.lower, found.upper) == (-2.0, -1.0)
    found = checked(moment=PrintedRange(None, 2.0), positive="nose-heavy")
    assert (found.lower, found.upper) == (-2.0, None)


def test_what_is_printed_stands_for_half_its_last_digit_to_both_sides() -> None:
    """8.2 N at 1 m, printed so, stands for 8.15 to 8.25 N m: 8.25 N m agree and 8.26 N m differ."""
    given = {"force": PrintedRange(None, read("8.2 N", "force")), "arm": 1.0}
    for stated, small in ((8.25, 0), (8.26, 1), (8.15, 0), (8.14, 1)):
        assert len(checked(moment=PrintedRange(None, stated), **given).small_differences) == small, stated
