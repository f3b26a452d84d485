"""What the reader of a plan must know beside its numbers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from hingeline.balance.ballast.model import BallastTask, Plan
from hingeline.balance.ballast.search import SAME_MOMENT, Best, same_moment

CAUTIONS = (
    "Predicted, not weighed: lock the weight, then weigh again. Only the new weighing decides.",
    "Use only the places, parts and amounts that the approved data allows.",
    "A surface inside its static limits can still flutter. Nothing here says that it may fly.",
)

LARGE_CHANGE = 0.5
"""Part of the surface's mass from which a change is told as doubtful (common practice, no source)."""


def notes_of(task: BallastTask, best: Best, plan: Plan, plans: Sequence[Plan]) -> tuple[str, ...]:
    """Gather the notes of a correction."""
    return (
        *_of_the_plan(task, plan),
        *_of_the_aim(task, plan),
        *_of_the_edge(task, plan),
        *_of_uncertainty(task),
        *_of_places(task, plan),
        *_of_mass(task, plan),
        *_of_dynamics(task, plan),
        *_of_the_search(task, best, plans),
    )


def _of_the_plan(task: BallastTask, plan: Plan) -> Iterator[str]:
    if not plan.changes and plan.feasible:
        yield "The moment as weighed already meets what is asked: nothing needs to be changed."
    if task.limits.lower is None and task.limits.upper is None:
        yield "No limits are given, so no statement is predicted; the plan only meets the target."
    elif not task.limits.source:
        yield "No source is given for the limits: name document, page and issue before anyone relies on this."


def _of_the_aim(task: BallastTask, plan: Plan) -> Iterator[str]:
    low, high = plan.limits.guarded_lower, plan.limits.guarded_upper
    if task.limits.rule == "guarded" and task.target == "moment" and plan.target_moment != task.target_moment:
        yield "The target lies outside the guarded band: the nearest end of that band is aimed at instead."
    if low is not None and high is not None and low >= high:
        yield (
            "The guarded band is empty: the uncertainty is as wide as the limits, so nothing can be predicted inside "
            "by the guarded rule."
        )


def _of_the_edge(task: BallastTask, plan: Plan) -> Iterator[str]:
    expanded, margin = plan.moment_after.expanded_uncertainty, plan.predicted_margin
    if margin is None or not plan.changes or not plan.feasible or task.limits.rule == "guarded":
        return
    if expanded is not None and margin < expanded:
        yield (
            "The plan lies nearer to a limit than U: the new weighing may well find it outside. Aim further inside "
            "where the approved data allows it."
        )
    elif expanded is None and margin == 0.0:
        yield "The plan lies on a limit: the least error brings it outside. Aim further inside."


def _of_uncertainty(task: BallastTask) -> Iterator[str]:
    if task.moment.standard_uncertainty is None:
        yield "The moment was given without its uncertainty: none can be predicted, nor anything by the guarded rule."
        return
    exact = [place.name for place in task.places if place.mass_uncertainty is None or place.arm_uncertainty is None]
    if exact:
        yield f"Mass or arm taken as exact, since nothing is stated: {', '.join(exact)}."


def _of_places(task: BallastTask, plan: Plan) -> Iterator[str]:
    open_ended = [place.name for place in task.places if place.largest_mass is None and not place.pieces]
    if open_ended:
        yield f"No largest mass is stated: {', '.join(open_ended)}. Look it up: there always is one."
    again = [place.name for place in task.places if place.present_mass and place.fixed_mass]
    if again:
        yield (
            f"Weight is present, so bracket and screws are fitted already and are no change: {', '.join(again)}. They "
            "count in all."
        )
    if any(change.load is not None for change in plan.changes):
        yield (
            "The loads on a weight are 24, 12 and 12 times its weight (14 CFR 23.659, as it stood before 2017): "
            "information for its attachment. The type's own basis rules."
        )


def _of_mass(task: BallastTask, plan: Plan) -> Iterator[str]:
    if not plan.changes:
        return
    mass = None if task.surface is None else task.surface.mass
    if mass is not None and plan.sum_of_changes > LARGE_CHANGE * mass:
        yield (
            f"The plan changes {plan.sum_of_changes:.3g} kg of a surface of {mass:.3g} kg, more than half of it: check "
            "moment, arms and mass, and their units."
        )
    if task.limits.lower is not None or task.limits.upper is not None:
        yield (
            "Limits of the surface's mass, and moment limits that step with it, are not looked at in a plan: compare "
            "the mass after it."
        )


def _of_dynamics(task: BallastTask, plan: Plan) -> Iterator[str]:
    if task.inertia is None or task.product_of_inertia is None:
        yield "K/I is not known: inertia and product_of_inertia are needed, and the spanwise position of each place."
    elif plan.coefficient_after is None:
        yield "K/I cannot be given: the inertia after the change is not above zero."


def _of_the_search(task: BallastTask, best: Best, plans: Sequence[Plan]) -> Iterator[str]:
    same = same_moment(task)
    if same > SAME_MOMENT[0][1]:
        yield f"There are very many combinations: plans within {same:g} N m of the target count as equally near."
    if not best.proven:
        yield "The search was stopped by its size: a better plan may exist. State larger steps or fewer places."
    if len(plans) > 1:
        yield "Each further plan does without a place that the better ones use."
