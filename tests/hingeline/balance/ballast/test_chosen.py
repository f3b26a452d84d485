"""A change that a person chose is worked out by the same sums as one that was found, within what its places allow."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import Limits, Stated
from hingeline.balance.ballast import BallastTask, Place, plan_ballast, predict_change
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured

ARM = Place("Arm weight", 0.180, "forward", present_mass=0.6, largest_mass=0.8, smallest_step=0.005)
FILLER = Place("Filler", 0.238, "aft", present_mass=0.06, largest_mass=0.06, smallest_step=0.005)
TASK = BallastTask(
    Measured(2.106, 0.022), Limits(0.0, 2.10, source="data sheet 7"), (ARM, FILLER), target="moment", target_moment=1.85
)


def test_the_plan_that_the_search_found_is_predicted_alike_when_a_person_chooses_it() -> None:
    found = plan_ballast(TASK)
    chosen = predict_change(TASK, [0.145, 0.0])
    assert [change.mass for change in found.changes] == [0.145]
    for name in ("changes", "moment_after", "predicted_statement", "predicted_margin", "budget", "feasible"):
        assert getattr(chosen, name) == getattr(found, name), name


def test_a_choice_that_does_not_suffice_is_said_to_be_outside() -> None:
    """2.106 N m less 0.0005 kg x 9.80665 m/s^2 x 0.180 m is still above 2.10 N m (arithmetic, no source)."""
    task = replace(TASK, places=(replace(ARM, smallest_step=None), FILLER))
    chosen = predict_change(task, [0.0005, 0.0])
    assert (chosen.predicted_statement, chosen.feasible, chosen.reason) == ("outside", False, None)
    assert chosen.moment_after.value == pytest.approx(2.106 - 0.0005 * 9.80665 * 0.180, abs=1e-12)


@pytest.mark.parametrize(
    ("masses", "says"),
    [
        ([0.205, 0.0], "at most 800 g in all"),
        ([0.143, 0.0], "whole steps of 5 g"),
        ([0.0, -0.065], "at most 60 g taken off"),
        ([0.1], "2, one a place"),
    ],
)
def test_what_a_place_does_not_allow_is_refused_in_words(masses: list[float], says: str) -> None:
    with pytest.raises(InputRefused, match=says):
        predict_change(TASK, masses)


def test_who_takes_too_little_off_a_weight_that_is_too_heavy_is_told_to_take_more() -> None:
    """0.6 kg where 0.5 kg is allowed: 50 g off leaves too much, and less of that would be worse."""
    task = replace(TASK, places=(replace(ARM, largest_mass=0.5), FILLER))
    with pytest.raises(InputRefused, match=r"at most 500 g in all at Arm weight.*Take more off"):
        predict_change(task, [-0.05, 0.0])
    assert predict_change(task, [-0.1, 0.0]).changes[0].mass_after == pytest.approx(0.5)


def test_pieces_of_a_stock_are_left_to_the_search_and_the_least_weight_is_kept() -> None:
    stock = Place("Stock", 0.2, pieces=(0.05, 0.1))
    least = Place("Least", 0.2, smallest_mass=0.1)
    task = replace(TASK, places=(stock, least))
    with pytest.raises(InputRefused) as refused:
        predict_change(task, [0.05, 0.05])
    assert [each.field for each in refused.value.refusals] == ["masses[0]", "masses[1]"]


@pytest.mark.parametrize("step", [None, 0.005])
@pytest.mark.parametrize("mass", [float("nan"), float("inf"), -float("inf"), 1e9])
def test_what_is_no_mass_is_refused_at_its_place(mass: float, step: float | None) -> None:
    """NaN and infinity ended in a ValueError and an OverflowError where a place has steps."""
    task = replace(TASK, places=(Place("Arm weight", 0.180, "forward", smallest_step=step), FILLER))
    with pytest.raises(InputRefused, match=r"masses\[0\]: .* a value within"):
        predict_change(task, [mass, 0.0])


def test_degrees_of_freedom_stated_of_a_mass_stand_in_the_budget() -> None:
    """What is stated of a place's mass and arm comes through to the row that it makes."""
    stated = replace(ARM, mass_uncertainty=Stated(0.001, "kg", "standard", degrees_of_freedom=4.0),
                     arm_uncertainty=Stated(0.001, "m", "standard", degrees_of_freedom=7.0))  # fmt: skip
    rows = {row.source: row for row in predict_change(replace(TASK, places=(stated, FILLER)), [0.145, 0.0]).budget}
    assert rows["mass at Arm weight"].degrees_of_freedom == 4.0
    assert rows["arm of Arm weight"].degrees_of_freedom == 7.0
