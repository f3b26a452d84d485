"""Laws of the correction: what holds for every plan, whatever the numbers."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from hingeline.balance import Limits, Part, Support, Surface, Weighing, weigh
from hingeline.balance.ballast import BallastResult, BallastTask, Place, plan_ballast
from hingeline.errors import InputRefused
from hingeline.uncertainty import Measured

Draw = Callable[[st.SearchStrategy[Any]], Any]
ONE_AND_ALL = settings(max_examples=40, deadline=None)


@st.composite
def places(draw: Draw, index: int) -> Place:
    """A place with steps, pieces, or any amount; present weight, bracket and largest mass now and then."""
    kind = draw(st.sampled_from(["steps", "pieces", "any amount"]))
    present = 0.0 if kind == "pieces" else draw(st.sampled_from([0.0, 0.0, 0.05, 0.3]))
    return Place(
        f"place {index}",
        draw(st.integers(30, 300)) / 1000.0,
        draw(st.sampled_from(["forward", "forward", "aft"])),
        spanwise=draw(st.integers(0, 3000)) / 1000.0,
        largest_mass=present + draw(st.integers(30, 400)) / 1000.0,
        smallest_step=draw(st.sampled_from([0.005, 0.01, 0.025])) if kind == "steps" else None,
        fixed_mass=draw(st.sampled_from([0.0, 0.0, 0.012])),
        pieces=tuple(draw(st.lists(st.sampled_from([0.02, 0.05, 0.08, 0.1]), min_size=1, max_size=4)))
        if kind == "pieces"
        else (),
        present_mass=present,
    )


@st.composite
def tasks(draw: Draw) -> BallastTask:
    """A correction of one to three places."""
    count = draw(st.integers(1, 3))
    lower = draw(st.integers(-100, 100)) / 100.0
    upper = lower + draw(st.sampled_from([0.1, 0.5, 2.1]))
    target = draw(st.sampled_from(["nearest", "middle", "moment"]))
    return BallastTask(
        moment=Measured(draw(st.integers(-2000, 3000)) / 1000.0, 0.01, 0.02, 2.0),
        limits=Limits(lower, upper, draw(st.sampled_from(["simple", "guarded"]))),
        places=tuple(draw(places(index)) for index in range(count)),
        target=target,
        target_moment=lower + 0.05 if target == "moment" else None,
        inertia=0.2,
        product_of_inertia=0.3,
    )


def weighed_after(result: BallastResult) -> float:
    """Weigh the surface with everything that the plan adds or takes off, as parts."""
    held = Support(arm=1.0, readings=(abs(result.moment_before.value),), reading_unit="N",
                   side="aft" if result.moment_before.value >= 0.0 else "forward")  # fmt: skip
    parts = [
        Part(each.place, "not fitted" if mass > 0.0 else "fitted, not counted", abs(mass), each.arm, each.side)
        for each in result.changes
        for mass in (each.mass, each.fixed_mass)
        if mass
    ]
    return weigh(Weighing(Surface("surface"), (held,), parts=tuple(parts))).static_moment.value


@pytest.mark.slow
@given(tasks())
@ONE_AND_ALL
def test_the_predicted_moment_is_what_weighing_the_changed_surface_gives(task: BallastTask) -> None:
    """A plan's parts, added and taken away in a weighing, give its predicted moment."""
    result = plan_ballast(task)
    assert result.moment_after.value == pytest.approx(weighed_after(result), abs=1e-11)


@pytest.mark.slow
@given(tasks())
@ONE_AND_ALL
def test_no_plan_says_inside_that_is_not(task: BallastTask) -> None:
    """A feasible plan lies inside by its rule, to the last digit, and each place keeps its own limits."""
    result = plan_ballast(task)
    for plan in result.plans:
        assert plan.feasible == (plan.predicted_statement == "inside")
        for change in plan.changes:
            place = next(place for place in task.places if place.name == change.place)
            assert place.largest_mass is not None
            assert change.mass_after <= max(place.largest_mass, place.present_mass + place.fixed_mass) + 1e-9
            assert change.mass >= -place.present_mass - 1e-12
            assert abs(change.mass) >= 0.999e-6
            if place.smallest_step:
                steps = change.mass / place.smallest_step
                assert steps == pytest.approx(round(steps), abs=1e-6)


@pytest.mark.slow
@given(tasks())
@ONE_AND_ALL
def test_forward_ballast_never_makes_the_surface_more_tail_heavy(task: BallastTask) -> None:
    """Where mass can only be added forward, the predicted moment is never above the weighed one."""
    forward = tuple(replace(place, side="forward", present_mass=0.0) for place in task.places)
    try:
        result = plan_ballast(replace(task, places=forward))
    except InputRefused:
        assume(False)
    assert result.moment_after.value <= task.moment.value


@pytest.mark.slow
@given(tasks(), st.sampled_from([0.02, 0.04, 0.06, 0.1]))
@ONE_AND_ALL
def test_more_pieces_never_make_a_plan_worse(task: BallastTask, piece: float) -> None:
    """One piece more: in the band at least as surely, at least as near, and at equal nearness not heavier."""
    index = next((index for index, place in enumerate(task.places) if place.pieces), None)
    assume(index is not None)
    assert index is not None
    place = task.places[index]
    richer = replace(place, pieces=(*place.pieces, piece))
    before = plan_ballast(task)
    after = plan_ballast(replace(task, places=(*task.places[:index], richer, *task.places[index + 1 :])))
    assert after.feasible >= before.feasible
    if after.feasible == before.feasible:
        assert after.from_target <= before.from_target + 2e-9
        if after.from_target >= before.from_target - 2e-9:
            assert after.sum_of_changes <= before.sum_of_changes + 2e-7


@pytest.mark.slow
@given(tasks())
@ONE_AND_ALL
def test_taking_off_what_was_added_is_nothing(task: BallastTask) -> None:
    """From the predicted moment, with the weights then present, the way back gives the first moment again."""
    result = plan_ballast(replace(task, limits=replace(task.limits, rule="simple")))
    assume(result.changes)
    assume(all(change.mass > 0.0 and not change.fixed_mass for change in result.changes))
    back = tuple(
        Place(change.place, change.arm, change.side, present_mass=change.mass, largest_mass=change.mass)
        for change in result.changes
    )
    target = task.moment.value
    again = plan_ballast(BallastTask(result.moment_after, Limits(target - 1.0, target + 1.0), back, "moment", target))
    assert again.moment_after.value == pytest.approx(target, abs=1e-9)


@pytest.mark.slow
@given(tasks(), st.floats(0.25, 4.0))
@ONE_AND_ALL
def test_masses_scale_with_the_moments(task: BallastTask, factor: float) -> None:
    """Every moment and mass times a factor: every change of mass times the factor, K/I as it was."""
    assume(all(place.smallest_step is None for place in task.places))
    simple = replace(task, limits=replace(task.limits, rule="simple"))
    limits = replace(
        simple.limits, lower=(simple.limits.lower or 0.0) * factor, upper=(simple.limits.upper or 0.0) * factor
    )
    larger = replace(
        simple,
        moment=Measured(simple.moment.value * factor, None),
        limits=limits,
        target_moment=None if simple.target_moment is None else simple.target_moment * factor,
        inertia=(simple.inertia or 0.0) * factor,
        product_of_inertia=(simple.product_of_inertia or 0.0) * factor,
        places=tuple(scaled(place, factor) for place in simple.places),
    )
    one, other = plan_ballast(simple), plan_ballast(larger)
    assert other.feasible == one.feasible
    assert other.sum_of_changes == pytest.approx(one.sum_of_changes * factor, rel=1e-6, abs=2e-6)
    assert other.moment_after.value == pytest.approx(one.moment_after.value * factor, rel=1e-6, abs=1e-5)


def scaled(place: Place, factor: float) -> Place:
    """Multiply every mass of a place."""
    return replace(
        place,
        largest_mass=None if place.largest_mass is None else place.largest_mass * factor,
        fixed_mass=place.fixed_mass * factor,
        present_mass=place.present_mass * factor,
        pieces=tuple(piece * factor for piece in place.pieces),
    )


@pytest.mark.slow
@given(tasks())
@ONE_AND_ALL
def test_mirrored_is_mirrored(task: BallastTask) -> None:
    """Sides, moments and limits turned round: the same masses, the moment turned round."""
    lower, upper = task.limits.lower, task.limits.upper
    assert lower is not None
    assert upper is not None
    mirrored = replace(
        task,
        moment=replace(task.moment, value=-task.moment.value),
        limits=replace(task.limits, lower=-upper, upper=-lower),
        target_moment=None if task.target_moment is None else -task.target_moment,
        product_of_inertia=-0.3,
        places=tuple(replace(place, side="aft" if place.side == "forward" else "forward") for place in task.places),
    )
    one, other = plan_ballast(task), plan_ballast(mirrored)
    assert other.feasible == one.feasible
    assert other.moment_after.value == pytest.approx(-one.moment_after.value, abs=1e-9)
    assert other.sum_of_changes == pytest.approx(one.sum_of_changes, abs=2e-7)
