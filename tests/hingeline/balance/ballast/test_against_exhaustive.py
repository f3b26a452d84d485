"""The solver's plans are the ones that trying every plan finds."""

from __future__ import annotations

import math

import pytest

from hingeline.balance.ballast import BallastTask, Plan, plan_ballast
from hingeline.errors import InputRefused
from tests.hingeline.balance.ballast.exhaustive import Tried, aimed_at, band, best_of, random_task

BLOCK = 50


def used_by(plan: Plan, task: BallastTask) -> frozenset[int]:
    """Give the numbers of the places that a plan changes."""
    names = {change.place for change in plan.changes}
    return frozenset(index for index, place in enumerate(task.places) if place.name in names)


def differences(plan: Plan, tried: Tried, inside: bool, task: BallastTask) -> list[str]:
    """Name everything in which a plan is not as good as the best, in the order asked for."""
    low, high = band(task)
    found = [] if plan.feasible == inside else [f"feasible {plan.feasible}, but {inside}"]
    if low is not None and high is not None and low > high:
        return found  # an empty guarded band aims at nothing
    target = aimed_at(task, low, high)
    if abs(abs(plan.moment_after.value - target) - abs(tried.moment - target)) > 2e-9:
        found.append(f"moment {plan.moment_after.value}, but {tried.moment}")
    if abs(plan.sum_of_changes - tried.size) > 1e-7:
        found.append(f"sum {plan.sum_of_changes}, but {tried.size}")
    if task.inertia is not None and abs(abs(plan.coefficient_after or 0.0) - tried.ratio) > 1e-6:
        found.append(f"K/I {plan.coefficient_after}, but {tried.ratio}")
    return found


def compare(seed: int) -> list[str]:
    """Compare all plans of one random correction; the further ones without what the better ones use."""
    task = random_task(seed)
    try:
        result = plan_ballast(task)
    except InputRefused as refused:
        known = "limits of a place that nothing meets" in str(refused) and best_of(task) is None
        return [] if known else [f"refused, although a plan exists: {refused}"]
    excluded: list[frozenset[int]] = []
    for plan in result.plans:
        best = best_of(task, tuple(excluded))
        if best is None:
            return ["a plan, although there is none"]
        found = differences(plan, *best, task)
        if found:
            return found
        excluded.append(used_by(plan, task))
    return [] if not result.feasible or frozenset() in excluded else missing(task, excluded)


def missing(task: BallastTask, excluded: list[frozenset[int]]) -> list[str]:
    """Tell whether a further plan in the band was not shown."""
    left = best_of(task, tuple(excluded)) if len(excluded) < 3 else None
    return ["a plan is missing"] if left is not None and left[1] else []


@pytest.mark.slow
@pytest.mark.parametrize("block", range(4))
def test_plans_are_the_best_there_are(block: int) -> None:
    """In band, nearest, lightest, least |K/I|: no plan is better by that order, over 200 random corrections."""
    seeds = range(block * BLOCK, (block + 1) * BLOCK)
    assert {seed: found for seed in seeds if (found := compare(seed))} == {}


@pytest.mark.slow
@pytest.mark.parametrize("block", range(60))
def test_plans_are_the_best_of_thousands(block: int) -> None:
    """The same over 3000 more."""
    seeds = range(10_000 + block * BLOCK, 10_000 + (block + 1) * BLOCK)
    assert {seed: found for seed in seeds if (found := compare(seed))} == {}


def test_the_comparison_can_fail() -> None:
    """A plan that is one step off is noticed."""
    task = random_task(1)
    result = plan_ballast(task)
    best = best_of(task)
    assert best is not None
    tried, inside = best
    off = Tried(tried.masses, tried.used, tried.moment + 0.001, tried.size + 0.005, tried.ratio + 0.01)
    assert differences(result.plans[0], tried, inside, task) == []
    assert len(differences(result.plans[0], off, inside, task)) >= 2


@pytest.mark.slow
def test_random_corrections_come_in_every_kind() -> None:
    """The generator makes pieces, brackets, taking off, one-sided and guarded bands, and each target."""
    tasks = [random_task(seed) for seed in range(300)]
    places = [place for task in tasks for place in task.places]
    assert {task.target for task in tasks} == {"nearest", "middle", "moment"}
    assert {task.limits.rule for task in tasks} == {"simple", "guarded"}
    assert any(task.limits.lower is None for task in tasks)
    assert any(task.limits.upper is None for task in tasks)
    assert any(place.pieces and place.fixed_mass for place in places)
    assert any(place.present_mass and place.smallest_mass for place in places)
    allowed = [(place.present_mass, place.largest_mass or math.inf, place.fixed_mass) for place in places]
    assert any(present > most for present, most, _ in allowed)
    assert any(present <= most < present + bracket for present, most, bracket in allowed)
    assert {plan_ballast(task).feasible for task in tasks[:40]} == {True, False}
