"""What is measured when a surface is fitted again is told in the surface's own words."""

from __future__ import annotations

from types import SimpleNamespace
from typing import Any

import pytest

from hingeline_app.bench.on_paper.steps_told import steps_told
from hingeline_app.bench.refit_checks import (
    CHECKS,
    checks_against,
    checks_of,
    open_checks,
    remarks_of,
    told_in,
)


@pytest.mark.parametrize("name", ["Rudder", "Seitenruder", "Gouverne de direction", "Rudder tab"])
def test_the_travel_of_a_rudder_and_of_its_tab_is_to_the_left_and_to_the_right(name: str) -> None:
    assert [each.words for each in checks_of(name)][:2] == ["Travel, trailing edge left", "Travel, trailing edge right"]
    assert [each.name for each in checks_of(name)] == [each.name for each in CHECKS], "kept rows stay where they are"


@pytest.mark.parametrize("name", ["Elevator, left half", "Aileron, right", "Elevator tab", "something else"])
def test_that_of_every_other_surface_is_up_and_down(name: str) -> None:
    assert checks_of(name) == CHECKS


def test_what_was_entered_keeps_the_words_that_it_was_entered_under() -> None:
    """A rudder's travel of before was entered as "up": which side that was nobody said, and no print says it now."""
    kept = {
        "what": "Travel, trailing edge up",
        "measured": "25 deg ± 0.5 deg",
        "finding": "outside",
        "source": "page 9",
    }
    job: Any = SimpleNamespace(details={"refit": {"values": {"travel_up": kept}}}, surface_name="Rudder")
    words = [each.words for each in told_in(job)][:2]
    assert words == ["Travel, trailing edge up", "Travel, trailing edge right"]
    assert checks_against(job) == ["Travel, trailing edge up: outside"]
    told = {line.what for line in steps_told(job) if line.step == "Refit" and line.said}
    assert told & {"Travel, trailing edge up", "Travel, trailing edge left"} == {"Travel, trailing edge up"}
    assert "Travel, trailing edge right" in open_checks(job)


def test_photographs_of_a_check_are_found_by_both_its_words() -> None:
    """One kept under "up" stays at its check when it is called "left"."""
    both = {"refit, Travel, trailing edge up", "refit, Travel, trailing edge left"}
    assert set(remarks_of(checks_of("Rudder")[0])) == both
    assert remarks_of(CHECKS[-1]) == (f"refit, {CHECKS[-1].words}",)
