"""Contradictions in printed rows: each kind by hand, and what is no contradiction.

The rows are made up. Real rows with their sources stand in tests/published.
"""

from __future__ import annotations

from typing import Any

import pytest

from hingeline.balance import LimitRow, PrintedRange, check_rows
from hingeline.balance.printed_limits import RowResult
from hingeline.errors import InputRefused
from hingeline.units import read


def moments(lower: str | None, upper: str | None) -> PrintedRange:
    return printed(lower, upper, "moment")


def printed(lower: str | None, upper: str | None, dimension: str) -> PrintedRange:
    return PrintedRange(*(None if text is None else read(text, dimension) for text in (lower, upper)))


def length(text: str) -> float:
    return read(text, "length")


def checked(**row: Any) -> RowResult:
    given: dict[str, Any] = {"surface": "aileron", "moment": moments("0.00 N m", "2.10 N m"), **row}
    (found,) = check_rows((LimitRow(**given),)).rows
    return found


def kinds(row: RowResult) -> tuple[list[str], list[str], int]:
    return (
        [each.between for each in row.contradictions],
        [each.between for each in row.small_differences],
        len(row.doubts),
    )


def test_a_row_that_agrees_with_itself() -> None:
    """2.10 N m is 21.4 kg cm at standard gravity, and 8.2 N at 255 mm are 2.09 N m: nothing to be said.

    21.4 kg cm = 0.214 x 9.80665 = 2.0986 N m, and 8.2 N stands for 8.15 to 8.25: 2.074 to 2.108 N m
    with an arm of 254.5 to 255.5 mm. 10.0 in stands for 252.7 to 255.3 mm.
    """
    row = checked(
        second_unit=printed("0.0 kg cm", "21.4 kg cm", "moment"),
        force=printed("0.0 N", "8.2 N", "force"),
        arm=length("255 mm"),
        second_arm=length("10.0 in"),
    )
    assert kinds(row) == ([], [], 0)
    assert (row.lower, row.upper) == (0.0, 2.1)


@pytest.mark.parametrize(
    ("upper", "contradicts", "small"),
    [("21.4 kg cm", 0, 0), ("21.5 kg cm", 0, 0), ("21.2 kg cm", 0, 1), ("24.1 kg cm", 1, 0), ("-21.4 kg cm", 1, 0)],
)
def test_a_second_unit(upper: str, contradicts: int, small: int) -> None:
    """21.5 stands for 21.45 … 21.55, 2.1035 … 2.1134 N m, and meets 2.095 … 2.105; 24.1 is two digits exchanged.

    21.2 stands for up to 21.25 kg cm = 2.0839 N m: 0.0111 N m short of 2.095, less than 1 % of 2.1 (0.021).
    """
    row = checked(second_unit=printed(None, upper, "moment"))
    assert (len(row.contradictions), len(row.small_differences)) == (contradicts, small)


def test_what_is_said_of_a_contradiction() -> None:
    """24.1 kg cm = 2.3634 N m beside 2.10 N m: 12.5 % more, with the sum written out."""
    (found,) = checked(second_unit=printed(None, "24.1 kg cm", "moment")).contradictions
    assert (found.between, found.unit, found.stated) == ("second unit and moment, upper", "N m", 2.1)
    assert found.computed == pytest.approx(0.241 * 9.80665, rel=1e-12)
    assert found.difference_percent == pytest.approx(100.0 * (0.241 * 9.80665 / 2.1 - 1.0), rel=1e-9)
    assert found.sum_written_out == "24.1 kg cm = 2.3634 N m, but 2.10 N m is stated"


def test_force_times_arm() -> None:
    """9.2 N at 255 mm make 2.346 N m, 11.7 % more than the 2.10 N m stated."""
    row = checked(force=printed("0.0 N", "9.2 N", "force"), arm=length("255 mm"))
    (found,) = row.contradictions
    assert found.between == "force x arm and moment, upper"
    assert found.computed == pytest.approx(2.346, rel=1e-12)
    assert found.difference_percent == pytest.approx(11.714, abs=1e-3)
    assert found.sum_written_out.startswith("9.2 N x 255 mm = 2.346 N m")


def test_reading_times_arm() -> None:
    """840 g at 255 mm make 2.1006 N m; 940 g make 2.3507 N m."""
    assert kinds(checked(reading=printed(None, "840 g", "mass"), arm=length("255 mm")))[0] == []
    row = checked(reading=printed(None, "940 g", "mass"), arm=length("255 mm"))
    (found,) = row.contradictions
    assert (found.between, found.computed) == ("reading x arm and moment, upper", pytest.approx(2.35065, rel=1e-5))


def test_gravity_is_that_of_the_place() -> None:
    """A reading in grams weighs by the local gravity: 850 g make 2.1256 N m at 9.80665, 2.1220 N m at 9.79."""
    row = LimitRow("aileron", moments(None, "2.10 N m"), reading=printed(None, "850 g", "mass"), arm=length("255 mm"))
    at_standard, at_less = (check_rows((row,), gravity).rows[0] for gravity in (9.80665, 9.79))
    (one,), (other,) = at_standard.small_differences, at_less.small_differences
    assert one.computed == pytest.approx(0.85 * 0.255 * 9.80665, rel=1e-12)
    assert other.computed == pytest.approx(0.85 * 0.255 * 9.79, rel=1e-12)


@pytest.mark.parametrize(("second", "contradicts"), [("0.0 kg cm", 0), ("0.1 kg cm", 0), ("0.4 kg cm", 1)])
def test_from_zero_the_last_digit_counts(second: str, contradicts: int) -> None:
    """0.00 N m stands for ± 0.005; a gap of more than its last digit, 0.01 N m, is a contradiction.

    0.1 kg cm reaches down to 0.05 kg cm = 0.0049 N m, within; 0.4 reaches to 0.35 kg cm = 0.0343 N m.
    """
    row = checked(second_unit=printed(second, None, "moment"))
    assert len(row.contradictions) == contradicts
    assert row.small_differences == ()
    if contradicts:
        assert row.contradictions[0].difference_percent is None


def test_mass_and_arm_in_a_second_unit() -> None:
    """4.1 kg are 9.04 lb, not 9.4; 255 mm are 10.04 in, not 10.4."""
    sound = {"mass": printed(None, "4.1 kg", "mass"), "arm": length("255 mm")}
    assert kinds(checked(**sound, second_mass=printed(None, "9.0 lb", "mass"), second_arm=length("10.04 in"))) == (
        [],
        [],
        0,
    )
    row = checked(**sound, second_mass=printed(None, "9.4 lb", "mass"), second_arm=length("10.4 in"))
    assert [(each.between, each.unit) for each in row.contradictions] == [
        ("second unit and mass, upper", "kg"),
        ("second unit and arm", "m"),
    ]


def test_exchanged_limits() -> None:
    """A lower limit above the upper one contradicts itself."""
    (found,) = checked(moment=moments("2.10 N m", "0.50 N m")).contradictions
    assert (found.between, found.sum_written_out) == ("lower and upper", "2.10 N m above 0.50 N m")
    assert checked(moment=moments("2.10 N m", "2.10 N m")).contradictions == ()


def test_nose_heavy_is_positive() -> None:
    """In a document that calls nose-heavy positive, 0.5 to 2.1 N m are -2.1 to -0.5 inside; findings turn too."""
    row = checked(
        positive="nose-heavy",
        moment=moments("0.50 N m", "2.10 N m"),
        second_unit=printed(None, "24.1 kg cm", "moment"),
        mass=printed(None, "4.1 kg", "mass"),
        second_mass=printed(None, "9.4 lb", "mass"),
    )
    assert (row.lower, row.upper) == (-2.1, -0.5)
    moment, mass = row.contradictions
    assert (moment.stated, moment.computed) == (-2.1, pytest.approx(-2.3634, rel=1e-4))
    assert moment.difference_percent == pytest.approx(12.5, abs=0.1)
    assert mass.stated == 4.1


def test_a_missing_end() -> None:
    """Upper limits alone are compared alone; an end that the moment lacks is compared with nothing."""
    row = checked(moment=moments(None, "2.10 N m"), second_unit=printed("99 kg cm", "21.4 kg cm", "moment"))
    assert kinds(row) == ([], [], 0)
    assert (row.lower, row.upper) == (None, 2.1)


def test_plain_numbers_stand_for_themselves() -> None:
    """Floats carry no last digit: 8.2 N x 0.255 m = 2.091 N m is then 0.4 % short, a small difference."""
    row = checked(moment=PrintedRange(0.0, 2.1), force=PrintedRange(0.0, 8.2), arm=0.255)
    assert kinds(row) == ([], ["force x arm and moment, upper"], 0)


# ------------------------------------------------------------------ doubts


def test_a_centre_of_gravity_behind_the_trailing_edge() -> None:
    """2.10 N m over 0.5 kg x 9.80665 = 428 mm, on a chord of 270 mm: is a unit or a column wrong?"""
    row = checked(mass=printed("0.5 kg", "4.0 kg", "mass"), chord=length("270 mm"))
    (doubt,) = row.doubts
    assert (doubt.least, doubt.most) == (0.0, pytest.approx(0.42828, rel=1e-4))
    assert "behind the trailing edge" in doubt.sentence
    assert "0 … 428 mm from the hinge line, on a chord of 270 mm" in doubt.sentence


def test_a_band_almost_on_the_hinge_line() -> None:
    """0.10 to 0.20 N m over 4 kg: 2.5 to 5.1 mm of a chord of 270 mm, and zero is left out."""
    row = checked(moment=moments("0.10 N m", "0.20 N m"), mass=printed(None, "4.0 kg", "mass"), chord=length("270 mm"))
    (doubt,) = row.doubts
    assert "almost on the hinge line, and yet leaves out zero" in doubt.sentence
    across_zero = checked(moment=moments("-0.10 N m", "0.20 N m"), mass=printed(None, "4.0 kg", "mass"), chord=0.27)
    assert across_zero.doubts == ()


def test_a_doubt_counts_aft_as_positive_whatever_the_document_calls_positive() -> None:
    """A row that calls nose-heavy positive puts 2.10 N m forward: -428 mm, as its limits are turned too."""
    row = checked(positive="nose-heavy", mass=printed("0.5 kg", "4.0 kg", "mass"), chord=length("270 mm"))
    (doubt,) = row.doubts
    assert (doubt.least, doubt.most) == (pytest.approx(-0.42828, rel=1e-4), 0.0)
    assert row.lower == pytest.approx(-2.10)


@pytest.mark.parametrize("left_out", ["mass", "chord"])
def test_no_doubt_without_mass_and_chord(left_out: str) -> None:
    """Where the centre of gravity lies is not known without both."""
    row: dict[str, Any] = {"mass": printed("0.5 kg", "4.0 kg", "mass"), "chord": length("270 mm")}
    assert checked(**{**row, left_out: None}).doubts == ()


# ------------------------------------------------------------------ refusals and frame


@pytest.mark.parametrize(
    ("row", "field", "expected"),
    [
        ({"moment": PrintedRange()}, "row[0].moment", "a lower or an upper moment"),
        ({"arm": -0.255}, "row[0].arm", "a length above 0"),
        ({"chord": 0.0}, "row[0].chord", "a length above 0"),
        ({"second_arm": 1000.0}, "row[0].second_arm", "a length above 0"),
        ({"force": PrintedRange(None, 8.2)}, "row[0].arm", "the arm of the force"),
        ({"reading": PrintedRange(None, 0.8)}, "row[0].arm", "the arm of the reading"),
    ],
)
def test_refusals(row: dict[str, Any], field: str, expected: str) -> None:
    """What cannot be compared is refused, with its place and what to do."""
    with pytest.raises(InputRefused) as caught:
        checked(**row)
    (refusal,) = caught.value.refusals
    assert refusal.field == field
    assert expected in refusal.expected
    assert refusal.remedy


def test_all_rows_are_refused_in_one_go() -> None:
    """Two bad rows, two refusals."""
    bad = LimitRow("a", PrintedRange())
    with pytest.raises(InputRefused) as caught:
        check_rows((bad, LimitRow("b", PrintedRange(0.0, 1.0)), bad))
    assert [refusal.field for refusal in caught.value.refusals] == ["row[0].moment", "row[2].moment"]


def test_notes_and_cautions() -> None:
    """Whatever is found: the document governs, and it is said what counts as a contradiction."""
    result = check_rows((LimitRow("aileron", PrintedRange(0.0, 1.0), effectivity="all", source="page 3"),))
    assert "The approved document governs" in result.cautions[0]
    assert "half its last digit" in result.notes[0]
    assert (result.rows[0].effectivity, result.rows[0].source) == ("all", "page 3")


@pytest.mark.parametrize("gravity", [float("nan"), 0.0, 98.0665, 9.6, 9.95, 10.5])
def test_a_gravity_that_no_place_on_earth_has_is_refused(gravity: float) -> None:
    """With NaN every comparison of a reading was silently left out."""
    with pytest.raises(InputRefused, match="local_gravity"):
        check_rows((LimitRow("aileron", PrintedRange(0.0, 2.1)),), gravity)


def test_a_moment_in_a_second_unit_is_called_a_moment_where_it_is_refused() -> None:
    """A unit from -10000 to 10000 N m is nothing that anybody can give."""
    with pytest.raises(InputRefused, match=r"second_unit\.upper: .* Expected a moment from"):
        check_rows((LimitRow("aileron", PrintedRange(0.0, 2.1), second_unit=PrintedRange(0.0, 1e6)),))
