"""Which row of limits applies: by surface, serial number, version, option and state, each refusal with its reason."""

from __future__ import annotations

import uuid
from typing import Any

import pytest

from hingeline_app.bench.limits.which_row import APPLIES, ASK, REJECTED, Piece, covers, judge, judged
from hingeline_app.records.queries.limits import RowRecord

HERE = Piece("Elevator, left half", "0042")


def row(surface: str = "Elevator, left half", state: str = "read twice", **printed: Any) -> RowRecord:
    said = None if printed.pop("hidden", False) else printed
    return RowRecord(uuid.uuid4(), "DS 7", "C", surface, "3", state, "Mara Tarrow", None, said, (), ())


@pytest.mark.parametrize(
    ("effectivity", "serial", "covered"),
    [
        ("from 0040 on", "0042", True),
        ("from 0043 on", "0042", False),
        ("0042 and up", "0042", True),
        ("serial 0001 to 0012", "0012", True),
        ("serial 0001 to 0012", "0013", False),
        ("up to 0042", "0042", True),
        ("up to and including 0041", "0042", False),
        ("before 0042", "0042", False),
        ("0003, 0007 and 0042", "0042", True),
        ("0001-0010, from 0050 on", "0042", False),
        ("ab 0040", "0042", True),
        ("all serial numbers", "0042", True),
        ("T2-0040 to T2-0050", "T2-0042", True),
        # The letters of a serial number are taken off at the head of a number, not out of a longer word.
        ("up to T9", "T12", False),
        ("128-0040 on", "28-0041", None),
    ],
)
def test_printed_serial_numbers_cover_what_their_words_say(effectivity: str, serial: str, covered: bool | None) -> None:
    """Both ends count; "before" leaves its number out (common usage of parts lists, from memory)."""
    assert covers(effectivity, serial) is covered


@pytest.mark.parametrize(
    ("effectivity", "serial"),
    [
        ("those with service bulletin 4 embodied", "0042"),
        ("from 0040 on", "prototype"),
        # Whether 28 belongs to the number is not ours to say.
        ("from 0040 on", "28-0042"),
        ("0001 to 0012 except 0007", "0042"),
        # A comma before what is left out does not make it a list of what is covered.
        ("0001 to 0012, except 0007", "0007"),
        ("0001 to 0012; not 0007", "0007"),
    ],
)
def test_what_cannot_be_read_is_a_question_and_no_answer(effectivity: str, serial: str) -> None:
    assert covers(effectivity, serial) is None
    found = judge(row(effectivity=effectivity), Piece("Elevator, left half", serial))
    assert (found.finding, found.reasons[0].about) == (ASK, "serial number")


def test_each_refusal_names_its_reason() -> None:
    """Another surface, an older issue, a draft, another version, another option, other serial numbers."""
    other = judge(row("Rudder"), HERE)
    assert (other.finding, other.reasons[0].about, other.reasons[0].row_says) == (REJECTED, "surface", "Rudder")
    assert judge(row(state="superseded"), HERE).reasons[0].about == "superseded"
    assert judge(row(state="draft"), HERE).reasons[0].about == "draft"
    piece = Piece("Elevator, left half", "0042", version="long tail", option="wheel fairings")
    found = judge(row(version="short tail", option="Wheel  fairings", effectivity="up to 0010"), piece)
    assert [each.about for each in found.reasons] == ["serial number", "version"]
    assert found.finding == REJECTED


def test_an_option_that_nobody_typed_is_asked() -> None:
    found = judge(row(option="long tail"), HERE)
    assert (found.finding, found.reasons[0].about, found.reasons[0].row_says) == (ASK, "option", "long tail")


def test_a_row_for_either_half_applies_to_the_left_one_and_the_other_half_does_not() -> None:
    assert judge(row("Elevator, half"), HERE).finding == APPLIES
    assert judge(row("Elevator, right half"), HERE).finding == REJECTED
    assert judge(row("Elevator tab"), HERE).finding == REJECTED


def test_what_is_hidden_from_a_reader_is_asked_and_never_said_to_apply() -> None:
    assert judge(row(hidden=True), HERE).finding == ASK


def test_rows_that_apply_come_first_then_the_questions() -> None:
    found = judged([row("Rudder"), row(option="long tail"), row(), row(state="superseded")], HERE)
    assert [each.finding for each in found] == [APPLIES, ASK, REJECTED, REJECTED]


def test_a_row_whose_sense_is_not_understood_is_a_question_that_shows_its_words() -> None:
    """It was kept before whole words were asked for; whoever chooses it is told, and nothing is worked out from it."""
    kept = judge(row(positive="tail-heavy (-)", moment=["0.00 N m", "2.10 N m"]), HERE)
    assert kept.finding == ASK
    assert [(each.about, each.row_says) for each in kept.reasons] == [("sense", "tail-heavy (-)")]
