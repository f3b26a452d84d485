"""How numbers are written for people."""

from __future__ import annotations

from decimal import Decimal
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from hingeline.units import sense_word
from hingeline_app.cli.weigh_page import _friction as shown_friction
from hingeline_app.figures import LimitBar, draw_limit_bar
from hingeline_app.figures.limits.text import limit_bar_text
from hingeline_app.figures.wording import (
    GROUP_SPACE,
    count_of,
    describe_margin,
    format_cause,
    format_drawn_part,
    format_measured,
    format_moment,
    format_moment_range,
    format_number,
    format_percent,
    format_probability,
    format_quantity,
    format_range,
    format_scaled,
    interval_places,
    inward_ends,
    outward_ends,
    places_for,
    shared_places,
    shorten,
    unit_text,
    value_and_allowed,
)

NB = "\u00a0"
KNOT = 1852.0 / 3600.0


def as_number(written: str) -> Fraction:
    """Read a number as it was written."""
    return Fraction(written.replace("\u2212", "-").replace("\u202f", ""))


@pytest.mark.parametrize(
    ("part", "written"),
    [
        (0.0, f"0.0{NB}%"),
        (0.0003, f"<{NB}0.1{NB}%"),
        (0.001, f"0.1{NB}%"),
        (0.25, f"25.0{NB}%"),
        (0.9997, f">{NB}99.9{NB}%"),
        (1.0, f"100.0{NB}%"),
    ],
)
def test_some_of_the_draws_never_read_as_none_and_most_never_as_all(part: float, written: str) -> None:
    """Three of ten thousand models that grow are three: a page says less than 0.1 %. Common practice, no source."""
    assert format_drawn_part(part) == written


@given(st.floats(-1e7, 1e7), st.integers(-3, 8))
def test_an_end_written_outward_holds_what_was_computed(value: float, places: int) -> None:
    """A lower end is never written above itself, an upper one never below; neither by as much as a step.

    To a part in a thousand million, which is what turning a unit leaves.
    """
    low, high = (as_number(format_number(value, places, way)) for way in ("down", "up"))
    exact, step = Fraction(repr(value)), 1 / Fraction(10) ** places
    grace = abs(exact) / 10**9
    assert exact - step - grace < low <= exact + grace
    assert exact - grace <= high < exact + step + grace


def test_a_bound_in_a_smaller_unit_and_a_range_of_draws_are_rounded_the_careful_way() -> None:
    """38.6 mN·m as two digits: a bound that must be met is 38, never 39; the ends of draws go apart."""
    assert format_scaled(0.0386, "N m", toward="down") == f"38{NB}mN·m"
    assert outward_ends(2.06134, 2.14996, 4) == (2.0613, 2.15)
    assert outward_ends(-0.00006, 0.00001, 4) == (-0.0001, 0.0001)


def test_the_ends_of_what_is_accepted_are_written_inward() -> None:
    """A guarded band of 0.0432 … 2.0568 N·m, written 0.043 … 2.057, would accept what it does not."""
    assert inward_ends(0.0432, 2.0568, 3) == (0.044, 2.056)
    assert inward_ends(-2.0568, -0.0432, 3) == (-2.056, -0.044)
    assert inward_ends(None, 2.0568, 3) == (None, 2.056)
    assert inward_ends(0.0432, None, 3) == (0.044, None)
    assert inward_ends(2.0 - 0.1 + 0.1, 2.1, 3) == (2.0, 2.1), "what stands at the place stays"
    assert inward_ends(0.00041, 0.00044, 3) == (0.00041, 0.00044), "nothing would be left of it"


def test_a_value_with_the_ends_of_its_interval_has_two_digits_of_half_its_width() -> None:
    """0.0123 to 0.0317 is ± 0.0097: four places; hundreds wide needs none; a ± of thousands rounds to hundreds."""
    assert [interval_places(*ends) for ends in ((0.0123, 0.0317), (1.2, 3.4), (100.0, 900.0))] == [4, 1, 0]
    assert format_measured(52_341.0, 1_234.0, "N m") == f"52{GROUP_SPACE}300 ± 1200{NB}N·m"


@given(st.integers(0, 400))
def test_whole_knots_turned_into_metres_a_second_and_back_stay_whole(knots: int) -> None:
    """10 kn are no 9 kn because a unit was turned on the way."""
    assert format_number(knots * KNOT / KNOT, 0, "down") == format_number(knots * KNOT / KNOT, 0, "up") == str(knots)


# The rule: U with two significant digits and the value to the same place, GUM (JCGM 100:2008) 7.2.6;
# the figures are our own.
@pytest.mark.parametrize(
    ("value", "uncertainty", "expected"),
    [
        (2.10579, 0.04443, "2.106 ± 0.044"),
        (0.5, 0.0996, "0.50 ± 0.10"),
        (0.5, 0.0994, "0.500 ± 0.099"),
        (1.0, 9.96, "1 ± 10"),
        (12345.6, 123.0, "12\u202f350 ± 120"),
        (-0.0001, 0.044, "0.000 ± 0.044"),
        (-2.5, 0.1, "−2.50 ± 0.10"),
        (100.0, 0.00000123, "100.0000000 ± 0.0000012"),
    ],
)
def test_a_measured_value_and_its_uncertainty_end_at_the_same_place(
    value: float, uncertainty: float, expected: str
) -> None:
    assert format_measured(value, uncertainty, "N m") == f"{expected}{NB}N·m"


def test_without_an_uncertainty_no_plus_minus_is_written() -> None:
    assert format_measured(2.10579, None, "N m") == f"2.106{NB}N·m"


def test_a_signed_moment_is_written_as_magnitude_and_sense() -> None:
    assert format_measured(-0.512, 0.044, "N m", sense=True) == f"0.512 ± 0.044{NB}N·m{NB}nose-heavy"
    assert format_moment(0.512) == f"0.512{NB}N·m{NB}tail-heavy"


def test_balanced_is_said_only_of_exactly_zero() -> None:
    assert [sense_word(moment) for moment in (0.0, -0.0, 1e-300, -1e-300)] == [
        "balanced",
        "balanced",
        "tail-heavy",
        "nose-heavy",
    ]


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e12, max_value=1e12), st.integers(-3, 9))
def test_a_number_reads_back_within_half_its_last_place(value: float, places: int) -> None:
    text = format_number(value, places).replace("−", "-").replace("\u202f", "")
    assert abs(Decimal(text) - Decimal(repr(value))) <= Decimal("0.5").scaleb(-places)
    assert "e" not in text


@given(st.floats(min_value=1e-9, max_value=1e9), st.floats(min_value=-1e9, max_value=1e9))
def test_an_uncertainty_shows_two_significant_digits(uncertainty: float, value: float) -> None:
    shown = format_number(uncertainty, places_for(uncertainty)).replace("\u202f", "")
    digits = shown.replace(".", "").lstrip("0")
    significant = digits if "." in shown else digits.rstrip("0") or digits
    assert 1 <= len(significant) <= 2 or "." not in shown
    assert abs(float(shown) - uncertainty) <= 0.051 * uncertainty


def test_a_minus_is_a_true_minus_and_nothing_is_never_negative() -> None:
    assert format_number(-1.5, 1) == "−1.5"
    assert format_number(-0.04, 1) == "0.0"


def test_a_range_has_the_decimals_of_limits_and_an_ellipsis() -> None:
    assert format_range(0.0, 2.1, "N m") == f"0.00 … 2.10{NB}N·m"
    assert format_range(-0.15, 0.4, "N m") == f"−0.15 … 0.40{NB}N·m"
    assert format_range(0.021, 0.09, "N m") == f"0.021 … 0.090{NB}N·m"
    assert format_range(None, 2.1, "N m") == f"up to 2.10{NB}N·m"
    assert format_range(0.2, None, "N m") == f"from 0.20{NB}N·m"
    assert format_range(None, None, "N m") == "none given"


def in_lbf_to_newton_metres(inch_pounds: float) -> float:
    """Give in lbf in N m: 0.0254 m and 0.45359237 kg exactly (NIST SP 811, B.8), 9.80665 m/s²."""
    return inch_pounds * 0.0254 * 0.45359237 * 9.80665


@pytest.mark.parametrize(
    ("lower", "upper", "expected"),
    [
        # 9 in lbf is 1.016863…, 2 in lbf 0.225969…: drawn in, where to nearest they are 1.0169 and 0.2260.
        (0.0, 9.0, f"0.0000 … 1.0168{NB}N·m tail-heavy"),
        (2.0, 9.0, f"0.2260 … 1.0168{NB}N·m tail-heavy"),
        (-9.0, -2.0, f"0.2260 … 1.0168{NB}N·m nose-heavy"),
        (-9.0, 9.0, f"1.0168{NB}N·m{NB}nose-heavy … 1.0168{NB}N·m{NB}tail-heavy"),
        (None, 9.0, f"upper limit 1.0168{NB}N·m{NB}tail-heavy"),
        (-9.0, None, f"lower limit 1.0168{NB}N·m{NB}nose-heavy"),
        (2.0, None, f"lower limit 0.2260{NB}N·m{NB}tail-heavy"),
        # Nothing would be left of so narrow a band at four decimals; a band of one value is that value.
        (9.0, 9.0002, f"1.01687 … 1.01688{NB}N·m tail-heavy"),
        (9.0, 9.0, f"1.0169 … 1.0169{NB}N·m tail-heavy"),
    ],
)
def test_limits_of_another_unit_never_read_wider_than_they_are(
    lower: float | None, upper: float | None, expected: str
) -> None:
    """An upper end is written down, a lower one up; on the bar and beside it, in words and in the plain picture."""
    ends = [None if end is None else in_lbf_to_newton_metres(end) for end in (lower, upper)]
    assert format_moment_range(*ends) == expected
    drawn = draw_limit_bar(LimitBar(None, lower=ends[0], upper=ends[1]), 650.0)
    plain = limit_bar_text(LimitBar(None, lower=ends[0], upper=ends[1]))
    for picture in (drawn, plain):
        assert ("1.0169" in picture) == ("1.0169" in expected)


def test_a_friction_allowance_of_another_unit_reads_no_larger_than_it_is_in_the_terminal_either() -> None:
    """0.3 in lbf is 0.033895… N m (as above): 0.03390 to nearest."""
    allowed = {"value": in_lbf_to_newton_metres(0.3), "unit": "N m"}
    said = shown_friction({"value": 0.02, "within": True, "allowed": allowed})
    assert said == f"0.02{NB}N·m, within the 0.03389{NB}N·m allowed"


@pytest.mark.parametrize(
    ("lower", "upper", "expected"),
    [
        (0.0, 2.1, f"0.00 … 2.10{NB}N·m tail-heavy"),
        (-2.1, -0.2, f"0.20 … 2.10{NB}N·m nose-heavy"),
        (-0.15, 0.4, f"0.15{NB}N·m{NB}nose-heavy … 0.40{NB}N·m{NB}tail-heavy"),
        (None, 1.5, f"upper limit 1.50{NB}N·m{NB}tail-heavy"),
        (-0.5, None, f"lower limit 0.50{NB}N·m{NB}nose-heavy"),
        (None, 0.0, f"upper limit 0.00{NB}N·m"),
        (None, None, "none given"),
        (0.0, 0.0, f"0.00 … 0.00{NB}N·m"),
    ],
)
def test_limits_of_a_moment_say_their_sense(lower: float | None, upper: float | None, expected: str) -> None:
    assert format_moment_range(lower, upper) == expected


@pytest.mark.parametrize(
    ("value", "lower", "upper", "expected"),
    [
        (2.1056, 0.0, 2.1, f"0.006{NB}N·m beyond the upper limit"),
        (1.85, 0.0, 2.1, f"0.250{NB}N·m inside the upper limit"),
        (0.1, 0.0, 2.1, f"0.100{NB}N·m inside the lower limit"),
        (-0.1, 0.0, 2.1, f"0.100{NB}N·m beyond the lower limit"),
        (2.1, 0.0, 2.1, "exactly on the upper limit"),
        (1.0, None, None, "no limits given"),
    ],
)
def test_a_margin_is_said_against_the_nearest_limit(
    value: float, lower: float | None, upper: float | None, expected: str
) -> None:
    assert describe_margin(value, lower, upper) == expected


def test_a_margin_that_is_not_nothing_never_reads_as_nothing() -> None:
    assert describe_margin(2.1004, 0.0, 2.1) == f"0.0004{NB}N·m beyond the upper limit"


def test_readings_share_the_places_that_show_them_all() -> None:
    assert shared_places([840.0, 845.0]) == 0
    assert shared_places([840.5, 845.0]) == 1
    assert shared_places([0.84, 0.845]) == 3


def test_quantities_units_shares_and_counts() -> None:
    assert format_quantity(9.80665, "m/s^2", digits=6) == f"9.80665{NB}m/s²"
    assert format_scaled(0.00577, "kg") == f"5.8{NB}g"
    assert format_scaled(0.25, "kg") == f"0.25{NB}kg"
    assert [unit_text(unit) for unit in ("N m", "kg m^2", "in-lb", "mN m")] == ["N·m", "kg m²", "in-lb", "mN·m"]
    assert [format_percent(share) for share in (0.42, 0.001, 0.0)] == [f"42{NB}%", f"<{NB}1{NB}%", f"0{NB}%"]
    assert [count_of(number, "note") for number in (1, 3)] == ["1 note", "3 notes"]


def test_a_text_that_is_cut_shows_it() -> None:
    assert shorten("tab pushrod", 11) == "tab pushrod"
    assert shorten("tab pushrod, aft", 11) == "tab pushro…"


@pytest.mark.parametrize(
    ("size", "unit", "written"),
    [
        (0.0058, "1", "0.58\u00a0%"),
        (0.0038, "m^2", "38\u00a0cm²"),
        (0.0058, "kg/m^2", "5.8\u00a0g/m²"),
        (0.0058, "kg", "5.8\u00a0g"),
    ],
)
def test_a_cause_is_written_in_the_unit_it_is_spoken_of(size: float, unit: str, written: str) -> None:
    """A relative calibration is so many per cent, never a bare number with the unit 1."""
    assert format_cause(size, unit) == written


def test_what_is_not_certain_never_reads_as_certain() -> None:
    """However near to one or nothing a probability is, it is written as over or under."""
    assert [format_probability(p) for p in (1.0 - 1e-12, 0.5, 1e-12)] == ["over 99.9 %", "50.0 %", "under 0.1 %"]


@pytest.mark.parametrize(
    ("value", "allowed", "digits", "written"),
    [
        (0.04516, 0.04519, 3, ("0.04516", "0.04519")),
        (0.04514, 0.04512, 3, ("0.04514", "0.04512")),
        (0.0312, 0.04519, 3, ("0.0312", "0.0451")),
        (0.045, 0.045, 3, ("0.045", "0.045")),
        (0.1 + 0.2, 0.3, 4, ("0.300000000001", "0.300000000000")),
    ],
)
def test_a_value_and_the_most_allowed_read_as_they_compare(
    value: float, allowed: float, digits: int, written: tuple[str, str]
) -> None:
    """At three digits the first read '0.0452, within the 0.0451 allowed'. Written out by hand."""
    assert value_and_allowed(value, allowed, "N m", digits) == (f"{written[0]}{NB}N·m", f"{written[1]}{NB}N·m")


@given(st.floats(1e-4, 1e3), st.floats(0.0, 2e-3), st.booleans(), st.sampled_from([3, 4]))
def test_a_value_within_what_is_allowed_never_reads_beyond_it(
    allowed: float, apart: float, beyond: bool, digits: int
) -> None:
    """Near the allowance most of all, by the definition of the words: within is not more than, beyond is more than."""
    value = allowed * (1.0 + apart) if beyond else allowed * (1.0 - apart)
    shown, most = (as_number(each.partition(NB)[0]) for each in value_and_allowed(value, allowed, "N m", digits))
    assert (shown > most) == (value > allowed)
    said = shown_friction({"value": value, "within": value <= allowed, "allowed": {"value": allowed, "unit": "N m"}})
    read = [as_number(each.partition(NB)[0]) for each in (said, said.partition(" the ")[2])]
    assert (read[0] > read[1]) == ("ABOVE" in said)
