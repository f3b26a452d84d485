"""docs/faults.md is true: every fault has a test that does it, and every mark is a fault of the list."""

from __future__ import annotations

import ast

import pytest

from tools import faults

STALE = "run: .venv-check/bin/python tools/faults.py"
PROMISES = faults.promises()
TESTS = faults.marked_tests()


def test_the_list_is_whole() -> None:
    """F01 to F45, in order, each with what is done and what is promised."""
    assert [each.number for each in PROMISES] == [f"F{number:02}" for number in range(1, 46)]
    assert all(each.fault and each.promise for each in PROMISES)


@pytest.mark.parametrize("number", [each.number for each in PROMISES])
def test_every_fault_is_done_by_a_test_of_the_ordinary_check(number: str) -> None:
    """A campaign may do more of it; that it is done at all is checked each time."""
    assert [each for each in TESTS if number in each.numbers and each.runs_in != faults.CAMPAIGN]


def test_every_mark_is_a_fault_of_the_list() -> None:
    assert {number for each in TESTS for number in each.numbers} <= {each.number for each in PROMISES}


def test_the_page_is_not_stale() -> None:
    assert faults.PAGE.read_text("utf-8") == faults.page(), STALE


@pytest.mark.parametrize(
    ("marks", "numbers", "runs_in"),
    [
        ('@pytest.mark.fault("F01", "F02")', ("F01", "F02"), faults.FAST),
        ('@pytest.mark.slow\n@pytest.mark.fault("F01")', ("F01",), faults.CHECK),
        ('@pytest.mark.fault("F01")\n@pytest.mark.campaign', ("F01",), faults.CAMPAIGN),
        ("@pytest.mark.slow", (), faults.CHECK),
    ],
)
def test_marks_are_read_as_they_stand(marks: str, numbers: tuple[str, ...], runs_in: str) -> None:
    """The numbers of a mark, and the check in which its test runs."""
    (test,) = ast.parse(f"{marks}\ndef test_it() -> None: ...").body
    assert isinstance(test, ast.FunctionDef)
    assert faults.faults_of(test) == numbers
    assert faults.when(set(faults.marks_in(test.decorator_list))) == runs_in
