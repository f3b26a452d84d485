"""What the last set-up says after a correction: the mass and the weight are those of now."""

from __future__ import annotations

from typing import Any

import pytest

from hingeline_app.bench.weighing.after_correction import is_known, with_fitted

WEIGHT = {"mass": "0.600 kg", "arm": "180 mm", "side": "forward"}


def correction(arm: float = 0.180, side: str = "forward", before: float = 0.6) -> dict[str, Any]:
    """Thirty grams added at one place."""
    change = {"arm": {"value": arm}, "side": side, "mass": {"value": 0.03}, "mass_after": {"value": before + 0.03}}
    return {"mass_before": {"value": 4.1}, "mass_after": {"value": 4.13}, "changes": [change]}


def test_mass_and_weight_are_those_after_the_correction() -> None:
    """4.100 kg and 600 g become 4.130 kg and 630 g (arithmetic, no source)."""
    after = with_fitted({"surface": {"mass": "4.100 kg", "balance_weight": [WEIGHT]}, "way": "push"}, correction())
    assert after["surface"]["mass"] == "4.130 kg"
    assert after["surface"]["balance_weight"] == [WEIGHT | {"mass": "0.630 kg"}]
    assert after["way"] == "push"


@pytest.mark.parametrize("other", [{"arm": 0.120}, {"side": "aft"}, {"before": 0.5}])
def test_a_weight_elsewhere_stays_as_it_is(other: dict[str, Any]) -> None:
    """Another arm, the other side, another mass: no guess."""
    after = with_fitted({"surface": {"balance_weight": [WEIGHT]}}, correction(**other))
    assert after["surface"]["balance_weight"] == [WEIGHT]


def at_a_place(
    present: float, fixed: float, mass: float, bracket: float, after: float, arm: float = 0.18
) -> dict[str, Any]:
    """One place that carries a weight, bracket and screws; what is added, and what it carries then in all [kg]."""
    quantities = {"mass": mass, "fixed_mass": bracket, "mass_after": after, "arm": arm}
    change = {"place": "A", "side": "forward", **{name: {"value": each} for name, each in quantities.items()}}
    return {"changes": [change], "places": [
        {"name": "A", "present_mass": {"value": present}, "fixed_mass": {"value": fixed}}]}  # fmt: skip


@pytest.mark.parametrize(
    ("drawn", "correction", "after"),
    [
        # The place carries 600 g and a bracket of 25 g, 30 g are added: drawn with the bracket, or without it.
        ("0.600 kg", at_a_place(0.6, 0.025, 0.03, 0.0, 0.655), ["0.630 kg"]),
        ("0.625 kg", at_a_place(0.6, 0.025, 0.03, 0.0, 0.655), ["0.655 kg"]),
        # All that can be taken is taken off: the bracket stays, where it was drawn with the weight.
        ("0.600 kg", at_a_place(0.6, 0.025, -0.6, 0.0, 0.025), []),
        ("0.625 kg", at_a_place(0.6, 0.025, -0.6, 0.0, 0.025), ["0.025 kg"]),
        # The plan knows of nothing there: 100 g and their bracket of 25 g come to the weight at that arm.
        ("0.600 kg", at_a_place(0.0, 0.025, 0.1, 0.025, 0.125), ["0.725 kg"]),
        # Another arm, where nothing was: one weight more.
        ("0.600 kg", at_a_place(0.0, 0.025, 0.1, 0.025, 0.125, 0.12), ["0.600 kg", "0.125 kg"]),
        # Another weight than the place carried is not guessed at.
        ("0.500 kg", at_a_place(0.6, 0.025, 0.03, 0.0, 0.655), ["0.500 kg"]),
    ],
)
def test_a_place_with_a_bracket_is_drawn_as_it_is_now(drawn: str, correction: dict[str, Any], after: list[str]) -> None:
    """What was added or taken off is drawn, bracket and screws with it (arithmetic, no source)."""
    set_up = with_fitted({"surface": {"balance_weight": [WEIGHT | {"mass": drawn}]}}, correction)
    assert [each["mass"] for each in set_up["surface"]["balance_weight"]] == after


@pytest.mark.parametrize(("arm", "written"), [(0.12, "120 mm"), (0.1205, "120.5 mm"), (0.29999999999999998, "300 mm")])
def test_a_new_weight_is_dimensioned_in_millimetres(arm: float, written: str) -> None:
    """It stood as 0.12 m beside 180 mm and 255 mm in one drawing."""
    added = at_a_place(0.0, 0.0, 0.02, 0.0, 0.02, arm)
    set_up = with_fitted({"surface": {"balance_weight": [WEIGHT]}}, added)
    assert [each["arm"] for each in set_up["surface"]["balance_weight"]] == ["180 mm", written]


def test_what_was_not_known_is_not_made_up() -> None:
    """A surface whose mass nobody weighed has none after it either; without a correction nothing changes."""
    assert with_fitted({"surface": {"mass": ""}}, correction())["surface"]["mass"] == ""
    assert with_fitted({"surface": {"mass": "4.1 kg"}}, None)["surface"]["mass"] == "4.1 kg"


def test_tenths_of_a_gram_are_kept() -> None:
    """A light tab in tenths of a gram."""
    changed = correction() | {"mass_before": {"value": 0.3212}, "mass_after": {"value": 0.3512}}
    assert with_fitted({"surface": {"mass": "0.3212 kg"}}, changed)["surface"]["mass"] == "0.3512 kg"


def test_a_mass_that_was_corrected_after_the_plan_is_added_to() -> None:
    """Planned on 4.100 kg, corrected to 4.300 kg: 30 g more are 4.330 kg, not 4.130 kg (arithmetic, no source)."""
    assert with_fitted({"surface": {"mass": "4.300 kg"}}, correction())["surface"]["mass"] == "4.330 kg"


def test_to_a_mass_that_the_plan_did_not_know_nothing_is_added() -> None:
    """Typed later, it may hold what was fitted or not."""
    unknown = correction() | {"mass_before": None, "mass_after": None}
    assert with_fitted({"surface": {"mass": "4.130 kg"}}, unknown)["surface"]["mass"] == "4.130 kg"
    assert not is_known(unknown)
