"""What is typed on a page is stored in a spelling that a file takes for the same number, or is asked about."""

from __future__ import annotations

import pytest

from hingeline.errors import InputRefused
from hingeline_app.bench.typed import as_a_file_takes, ask_which, with_unit_typed


@pytest.mark.parametrize(
    ("typed", "kept"),
    [("255 mm", "255 mm"), ("255,5 mm", "255.5 mm"), ("  25.5  cm ", "25.5 cm"), ("0,255 m", "0.255 m")],
)
def test_a_decimal_comma_becomes_a_point(typed: str, kept: str) -> None:
    assert as_a_file_takes(typed, "length", field="arm") == kept


@pytest.mark.parametrize("typed", ["1,255 kg", "12,500 mm", "-1,255"])
def test_a_comma_before_three_digits_is_asked_about(typed: str) -> None:
    with pytest.raises(InputRefused, match="either"):
        ask_which(typed, "reading")


@pytest.mark.parametrize("typed", ["0,840 kg", "1,25 kg", "1.255 kg", "1,2555 kg", "840"])
def test_what_can_be_read_in_one_way_only_is_not_asked_about(typed: str) -> None:
    ask_which(typed, "reading")


def test_the_unit_beside_a_number_is_joined_unless_one_was_typed() -> None:
    assert (with_unit_typed("840", "g"), with_unit_typed("0.84 kg", "g")) == ("840 g", "0.84 kg")
