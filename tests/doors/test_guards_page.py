"""docs/guards.md is what was seen, and each guard that it names still stands where it is said to stand."""

from __future__ import annotations

import pytest

from tests.doors.checkouts import ROOT
from tools import faults, guards

GUARDS = guards.guards()


@pytest.mark.parametrize("guard", GUARDS, ids=lambda guard: guard.guard)
def test_a_guard_stands_once_where_it_can_be_taken_out(guard: guards.Guard) -> None:
    """The text that is taken out is there, once; its faults are of the list, and its test is there."""
    assert (ROOT / guard.file).read_text("utf-8").count(guard.old) == 1
    assert set(guard.faults) <= {each.number for each in faults.promises()}
    for test in guard.test.split():
        path, _, name = test.partition("::")
        assert (ROOT / path).exists()
        assert not name or f"def {name}(" in (ROOT / path).read_text("utf-8")


def test_each_guard_was_taken_out_and_its_test_noticed() -> None:
    """None was left untried, and none was missed by its test: else run tools/guards.py."""
    seen = guards.read_seen()
    assert {each.guard: seen.get(each.guard, ["", "never tried"])[1] for each in GUARDS} == dict.fromkeys(
        (each.guard for each in GUARDS), guards.NOTICED
    )


def test_the_page_is_not_stale() -> None:
    assert guards.PAGE.read_text("utf-8") == guards.page(), "run: .venv-check/bin/python tools/guards.py"
