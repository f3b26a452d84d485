"""What the rooms beside the weighing refuse alike: each bound from both sides, with the field and the remedy.

The bounds are our own choice (common practice, no source); they are typed here anew.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator

import pytest

from hingeline.balance.refusing import (
    arm_faults,
    between,
    coverage_faults,
    fault,
    limit_faults,
    measured_faults,
    refuse_all,
    stated_faults,
)
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Stated
from hingeline.units import read

NAN, INFINITY = math.nan, math.inf
Faults = Callable[[float], Iterator[Refusal]]


def above(value: float) -> float:
    return math.nextafter(value, INFINITY)


def below(value: float) -> float:
    return math.nextafter(value, -INFINITY)


def of_stated(stated: Stated, largest: float = 2.0) -> Iterator[Refusal]:
    return stated_faults("tare", stated, "kg", largest)


def with_factor(k: float) -> Iterator[Refusal]:
    return measured_faults("mass", Measured(1.0, 0.1, coverage_factor=k), 5.0, "kg")


def with_freedom(freedom: float) -> Iterator[Refusal]:
    return measured_faults("mass", Measured(1.0, 0.1, degrees_of_freedom=freedom), 5.0, "kg")


# what is asked, the field, taken at the least, taken at the most
BETWEEN: list[tuple[Faults, str, float, float]] = [
    (lambda x: between("mass", x, 1.5, 4.0, "a mass", "kg"), "mass", above(1.5), 4.0),
    (lambda x: arm_faults("arm", x), "arm", 0.0, 10.0),
    (coverage_faults, "coverage", 0.5, 0.9999),
    (lambda x: of_stated(Stated(x, "kg")), "tare", 0.0, below(2.0)),
    (lambda x: of_stated(Stated(x, "1")), "tare", 0.0, below(1.0)),
    (lambda x: of_stated(Stated(0.1, "kg", "expanded", x)), "tare.k", 0.1, 10.0),
    (lambda x: of_stated(Stated(0.1, "kg", "limit", None, x)), "tare.degrees_of_freedom", 1.0, 1e9),
    (lambda x: limit_faults("limits", x, None), "limits.lower", above(-10_000.0), below(10_000.0)),
    (lambda x: limit_faults("limits", None, x), "limits.upper", above(-10_000.0), below(10_000.0)),
    (lambda x: limit_faults("limits", x, 2.0), "limits.lower", above(-10_000.0), 2.0),
]


@pytest.mark.parametrize(
    ("asked", "field", "least", "most"), BETWEEN, ids=[f"{n}-{row[1]}" for n, row in enumerate(BETWEEN)]
)
def test_a_bound_is_taken_and_what_lies_beyond_is_refused(asked: Faults, field: str, least: float, most: float) -> None:
    """The least and the most are taken; the next float beyond, and what is no number, are refused."""
    assert [*asked(least), *asked(most)] == []
    for beyond in (below(least), above(most), NAN, INFINITY, -INFINITY):
        assert {each.field for each in asked(beyond)} == {field}, beyond


@pytest.mark.parametrize(
    ("asked", "field", "least", "most"),
    [
        (lambda x: measured_faults("mass", Measured(x, None), 5.0, "kg"), "mass", -5.0, 5.0),
        (lambda x: measured_faults("mass", Measured(1.0, x), 5.0, "kg"), "mass", 0.0, 5.0),
        (with_factor, "mass.k", 0.1, 10.0),
        (with_freedom, "mass.degrees_of_freedom", 1.0, 1e9),
    ],
)
def test_a_measured_value_out_of_proportion_is_refused(asked: Faults, field: str, least: float, most: float) -> None:
    assert [*asked(least), *asked(most)] == []
    assert [each.field for each in asked(above(most))] == [field]


def test_nothing_given_is_nothing_to_refuse() -> None:
    assert [*stated_faults("tare", None, "kg", 2.0), *measured_faults("mass", None, 5.0, "kg")] == []
    assert list(limit_faults("limits", None, None)) == []
    refuse_all(iter(()))


def test_every_refusal_is_told_at_once() -> None:
    with pytest.raises(InputRefused) as refused:
        refuse_all([*arm_faults("arm", -1.0), *coverage_faults(95.0)])
    assert [each.field for each in refused.value.refusals] == ["arm", "coverage"]


def test_a_value_is_shown_as_it_was_typed_or_with_six_digits() -> None:
    """25.5 km stays 25.5 km; a float that nobody typed is not told to the last digit, a word is told as it is."""
    assert fault("arm", read("25.5 km", "length"), "", "").value == "25.5 km"
    assert fault("arm", 1.0 / 3.0, "", "").value == "0.333333"
    assert fault("side", "left", "", "").value == "left"


@pytest.mark.parametrize(
    ("asked", "expected", "remedy"),
    [
        (lambda: between("mass", 9.0, 1.5, 4.0, "a mass", "kg"), "a mass above 1.5 and up to 4 kg", "Check the number"),
        (lambda: between("part", 9.0, 0.0, 1.0, "a part", ""), "a part above 0 and up to 1", "Check the number"),
        (lambda: arm_faults("arm", -0.1), "a distance from the hinge line, 0 or more", 'goes into "side"'),
        (lambda: arm_faults("arm", 11.0), "a distance up to 10 m", "Check the number"),
        (lambda: of_stated(Stated(0.1, "m")), "an uncertainty in kg, or a part of the value", "Check the number"),
        (lambda: of_stated(Stated(-0.1, "kg")), "an amount, 0 or more", "without a sign"),
        (lambda: of_stated(Stated(2.0, "kg")), "less than 2 kg", "says nothing: check both"),
        (lambda: of_stated(Stated(1.0, "1")), "less than 100 %", "says nothing: check both"),
        (lambda: with_factor(0.01), "a coverage factor between 0.1 and 10", "mostly 2"),
        (lambda: limit_faults("m", 2.0, 1.0), "a lower limit below the upper one", "Are they swapped?"),
        (lambda: limit_faults("m", 2.0, 1.0, moment=True), "a lower limit below", "more nose-heavy limit is the lower"),
        (lambda: limit_faults("m", NAN, None), "a finite limit", "Check the number"),
    ],
)
def test_what_was_expected_and_what_to_do(asked: Callable[[], Iterator[Refusal]], expected: str, remedy: str) -> None:
    (refusal,) = asked()
    assert refusal.expected.startswith(expected)
    assert remedy in refusal.remedy


def test_swapped_limits_without_a_moment_are_not_told_of_signs() -> None:
    (refusal,) = limit_faults("angle", 2.0, 1.0)
    assert (refusal.remedy, refusal.value) == ("Are they swapped?", "2.0 … 1.0")


def test_no_uncertainty_at_all_is_taken_whatever_the_value() -> None:
    """Of a value of zero an uncertainty of zero is as large as the value; yet it is taken: nothing was stated."""
    assert list(stated_faults("tare", Stated(0.0, "kg"), "kg", 0.0)) == []
    assert len(list(stated_faults("tare", Stated(1e-9, "kg"), "kg", 0.0))) == 1
