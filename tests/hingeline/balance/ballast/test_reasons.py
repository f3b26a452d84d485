"""Where no plan reaches the band, what is said would mend it does mend it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from hingeline.balance import Limits
from hingeline.balance.ballast import BallastResult, BallastTask, Place, Remedy, plan_ballast
from hingeline.uncertainty import Measured
from tests.hingeline.balance.ballast.exhaustive import random_task


def applied(task: BallastTask, remedy: Remedy) -> BallastTask:
    """Allow what a remedy asks for."""
    assert remedy.needed is not None
    index = next(index for index, place in enumerate(task.places) if place.name == remedy.place)
    place = task.places[index]
    if remedy.what == "pieces":
        changed = replace(place, pieces=(*place.pieces, remedy.needed))
    else:
        changed = replace(place, **{remedy.what: remedy.needed})
    return replace(task, places=(*task.places[:index], changed, *task.places[index + 1 :]))


def out_of_reach() -> BallastTask:
    """A rudder that no allowed mass brings inside."""
    horn = Place("horn", 0.095, "forward", present_mass=0.45, largest_mass=0.65, smallest_step=0.025)
    rib = Place("rib", 0.060, "forward", fixed_mass=0.018, largest_mass=0.12, smallest_step=0.01)
    return BallastTask(Measured(1.31, 0.012), Limits(0.30, 0.95), (horn, rib))


def test_each_remedy_alone_is_enough() -> None:
    """Larger masses and a longer arm, each by what is said, make the plan possible."""
    task = out_of_reach()
    result = plan_ballast(task)
    assert not result.feasible
    assert result.reason is not None
    assert "the places do not reach it" in result.reason
    assert {each.what for each in result.remedies} >= {"largest_mass", "arm"}
    for remedy in result.remedies:
        assert plan_ballast(applied(task, remedy)).feasible, remedy.sentence


def test_a_larger_mass_is_the_least_that_does() -> None:
    """A step less than what a remedy asks for is not enough."""
    task = out_of_reach()
    for remedy in plan_ballast(task).remedies:
        if remedy.what == "largest_mass":
            assert remedy.needed is not None
            assert not plan_ballast(applied(task, replace(remedy, needed=remedy.needed - 0.001))).feasible


def test_a_finer_step_or_another_piece_is_named() -> None:
    """Steps and pieces that pass over a narrow band: a step that lands in it, a piece that fits."""
    limits = Limits(2.000, 2.002)
    for place, what in (
        (Place("steps", 0.18, "forward", smallest_step=0.1, largest_mass=2.0), "smallest_step"),
        (Place("stock", 0.18, "forward", pieces=(0.2, 0.25, 0.3)), "pieces"),
    ):
        task = BallastTask(Measured(2.5, None), limits, (place,))
        result = plan_ballast(task)
        assert result.reason is not None
        assert "pass over the band" in result.reason
        (remedy,) = result.remedies
        assert remedy.what == what
        assert plan_ballast(applied(task, remedy)).feasible


def test_no_place_on_the_side_that_helps() -> None:
    """Only aft places on a tail-heavy surface: what is missing is said, and whom to ask."""
    task = BallastTask(Measured(2.5, None), Limits(0.0, 2.1), (Place("aft", 0.2, "aft", largest_mass=0.1),))
    result = plan_ballast(task)
    assert result.reason is not None
    assert "no place can make the surface less tail-heavy" in result.reason
    (remedy,) = result.remedies
    assert remedy.what == "new place"
    assert remedy.needed == pytest.approx(0.4)
    assert "forward of the hinge line. Ask the design holder." in remedy.sentence
    assert result.changes == ()


@pytest.mark.parametrize("beyond", [0.4, 0.1234, 0.0511, 0.98765, 0.01, 0.33333])
def test_the_mass_that_is_named_is_enough_as_it_is_written(beyond: float) -> None:
    """Rounded up to its three digits: 52.08 g written as 52.1 g would do, 52.12 g as 52.1 g would not."""
    task = BallastTask(Measured(2.1 + beyond, None), Limits(0.0, 2.1), (Place("aft", 0.2, "aft", largest_mass=0.1),))
    (remedy,) = plan_ballast(task).remedies
    grams = float(remedy.sentence.partition("instance ")[2].split()[0])
    exact = beyond / (9.80665 * 0.1) * 1000.0
    assert exact * (1.0 - 1e-8) <= grams <= exact * 1.01


@pytest.mark.parametrize("width", [0.2, 0.2468, 0.1234, 0.19999])
def test_the_uncertainty_that_is_named_is_small_enough_as_it_is_written(width: float) -> None:
    """Half the band, rounded down to three digits."""
    place = Place("arm", 0.2, "forward", largest_mass=0.5)
    task = BallastTask(Measured(1.0, 0.07, 0.14, 2.0), Limits(0.4, 0.4 + width, "guarded"), (place,), "middle")
    (remedy,) = plan_ballast(task).remedies
    said = float(remedy.sentence.partition("below ")[2].split()[0])
    assert width / 2.0 * 0.99 <= said <= width / 2.0 * (1.0 + 1e-8)


def test_an_empty_guarded_band_asks_for_a_better_weighing() -> None:
    """U as wide as the limits: no weight helps, a better weighing does."""
    place = Place("arm", 0.2, "forward", largest_mass=0.5)
    task = BallastTask(Measured(1.0, 0.06, 0.12, 2.0), Limits(0.4, 0.6, "guarded"), (place,), "middle")
    result = plan_ballast(task)
    assert not result.feasible
    assert result.reason is not None
    assert "guarded band is empty" in result.reason
    (remedy,) = result.remedies
    assert (remedy.what, remedy.needed) == ("uncertainty", pytest.approx(0.1))


def infeasible(seeds: range) -> list[tuple[BallastTask, BallastResult]]:
    """Gather random corrections that cannot be made."""
    planned = [(task, plan_ballast(task)) for task in map(random_task, seeds)]
    return [(task, result) for task, result in planned if not result.feasible]


@pytest.mark.slow
def test_remedies_of_random_corrections_hold() -> None:
    """Every remedy named for a random correction makes it possible."""
    gathered = infeasible(range(120))
    tried = 0
    for task, result in gathered:
        for remedy in result.remedies:
            if remedy.place:
                tried += 1
                assert plan_ballast(applied(task, remedy)).feasible, (task, remedy)
    assert tried > 20
