"""What is measured when a surface is fitted again is told in the surface's own words."""

from __future__ import annotations

import pytest

from hingeline_app.bench.releasing.refit_checks import CHECKS, checks_of


@pytest.mark.parametrize("name", ["Rudder", "Seitenruder", "Gouverne de direction", "Rudder tab"])
def test_the_travel_of_a_rudder_and_of_its_tab_is_to_the_left_and_to_the_right(name: str) -> None:
    assert [each.words for each in checks_of(name)][:2] == ["Travel, trailing edge left", "Travel, trailing edge right"]
    assert [each.name for each in checks_of(name)] == [each.name for each in CHECKS], "kept rows stay where they are"


@pytest.mark.parametrize("name", ["Elevator, left half", "Aileron, right", "Elevator tab", "something else"])
def test_that_of_every_other_surface_is_up_and_down(name: str) -> None:
    assert checks_of(name) == CHECKS
