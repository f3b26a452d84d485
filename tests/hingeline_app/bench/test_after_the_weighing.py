"""Arm, refit and release as the bench works them out: values against limits, walls, metals, what is in the way."""

from __future__ import annotations

import pytest

from hingeline.errors import InputRefused
from hingeline_app.bench.arm.arm_walls import smallest_wall
from hingeline_app.bench.arm.galvanic import METALS, pair_of
from hingeline_app.bench.compared import compared, limit_words


@pytest.mark.parametrize(
    ("value", "finding"),
    [("1.2 mm", "inside"), ("1,2 mm", "inside"), ("1.95 mm", "too close to tell"), ("2.0 mm", "too close to tell"),
     ("2.2 mm", "outside"), ("0.08 in", "too close to tell")],
)  # fmt: skip
def test_a_value_is_compared_with_its_interval(value: str, finding: str) -> None:
    """Against at most 2.0 mm with ± 0.1 mm: by hand, 1.2 + 0.1 < 2.0; 1.95 + 0.1 > 2.0; 2.2 − 0.1 > 2.0."""
    assert compared(value, "0.1 mm", "", "2.0 mm", "length").finding == finding


def test_a_value_without_its_interval_or_with_limits_turned_round_is_refused() -> None:
    """No ± given, a negative one, a lower limit above the upper, a number that is none: nothing is stated."""
    for told in (
        ("1 mm", "", "", "2 mm"), ("1 mm", "-1 mm", "", "2 mm"), ("1 mm", "1 mm", "3 mm", "2 mm"),
        ("one", "1 mm", "", ""), ("nan mm", "1 mm", "", "2 mm"),
    ):  # fmt: skip
        with pytest.raises(InputRefused):
            compared(*told, "length")


def test_all_that_is_wrong_with_a_value_is_told_at_once() -> None:
    """A number without its unit beside a limit that is none: both are mended in one go."""
    with pytest.raises(InputRefused) as refused:
        compared("", "0.1", "2 kg", "2.0 mm", "length")
    assert [each.field for each in refused.value.refusals] == ["value", "uncertainty", "lower limit"]


def test_without_a_limit_nothing_is_stated() -> None:
    """A measured value alone is no statement."""
    assert compared("25 deg", "0.5 deg", "", "", "angle").finding == "no limit given"


def test_limits_are_written_as_typed() -> None:
    """Digit for digit, one-sided in words."""
    assert limit_words("24.0 deg", "26.0 deg") == "24.0 deg … 26.0 deg"
    assert (limit_words("5 mm", ""), limit_words("", "2 mm"), limit_words("", "")) == (
        "at least 5 mm",
        "at most 2 mm",
        "",
    )


@pytest.mark.parametrize(
    ("limit", "finding"), [("1.20 mm", "inside"), ("1.28 mm", "too close to tell"), ("1.40 mm", "outside")]
)
def test_the_smallest_wall_counts(limit: str, finding: str) -> None:
    """Of 1.34, 1.29 and 1.32 mm with ± 0.04 mm it is 1.29: 1.25 to 1.33 mm."""
    wall = smallest_wall("1.34 mm; 1.29 mm\n1.32 mm", "0.04 mm", limit)
    assert wall.finding == finding
    assert wall.words == "smallest of 3: 1.290 ± 0.040\u00a0mm"


def test_walls_that_are_none_are_refused() -> None:
    """No reading, a wall of nothing, one hundred of them."""
    for typed in ("", ";", "0 mm", "-1 mm", "; ".join(["1 mm"] * 100)):
        with pytest.raises(InputRefused):
            smallest_wall(typed, "0.1 mm", "")


def test_the_wall_that_cannot_be_is_the_one_that_is_named() -> None:
    """By its thickness, not by its signs: with a printed minus "1.30 mm" would stand before "−0.20 mm"."""
    with pytest.raises(InputRefused) as refused:
        smallest_wall("1.30 mm; \u22120.20 mm", "0.1 mm", "")
    assert refused.value.refusals[0].value == "\u22120.20 mm"


def test_of_two_metals_the_more_negative_is_eaten() -> None:
    """Aluminium beside brass and beside steel: aluminium goes; of one metal there is no pair. Common practice."""
    for other, apart in (("brass or bronze", 0.5), ("plain steel", 0.05)):
        pair = pair_of(other, "aluminium alloy")
        assert pair is not None
        assert (pair.eaten, pair.apart) == ("aluminium alloy", apart)
    assert pair_of("lead", "cheese") is None
    assert pair_of("lead", "lead") is None
    assert min(METALS, key=METALS.__getitem__) == "magnesium alloy"
