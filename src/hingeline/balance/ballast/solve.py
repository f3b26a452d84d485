"""Put a correction together: the best plans, each worked out in full, and what would mend it where there is none."""

from __future__ import annotations

from dataclasses import fields, replace
from typing import Any

from hingeline.balance.ballast.assess import centre, mass_before, plan_of, statements
from hingeline.balance.ballast.checks import refuse_unusable_task
from hingeline.balance.ballast.choice import coefficient
from hingeline.balance.ballast.model import BallastResult, BallastTask, Plan
from hingeline.balance.ballast.notes import CAUTIONS, notes_of
from hingeline.balance.ballast.reasons import reason_of, remedies_of
from hingeline.balance.ballast.search import Best, best_plans
from hingeline.balance.measured import with_both
from hingeline.errors import InputRefused


def plan_ballast(task: BallastTask) -> BallastResult:
    """Find the smallest change that brings a surface into its limits, and what it does to the dynamic balance.

    Parameters
    ----------
    task : BallastTask
        The moment as weighed [N m], its limits, the target, and what each place allows.

    Returns
    -------
    BallastResult
        The best plan, up to two others, or why there is none and what would mend it. Predicted: only a
        new weighing decides.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.
    RoutesDisagree
        Two computations of the predicted moment differ: there is no plan.

    Notes
    -----
    M after = M + Σ m g x, I after = I + Σ m x², K after = K + Σ m x y, over everything that is added
    (m > 0) or taken off (m < 0), brackets and screws included; x positive aft of the hinge line. Among all
    that the places allow: first the predicted M in the band of the rule (guarded: drawn in by the
    predicted U), then the distance of M from the target least, then Σ |m| least, then |K/I| least: a
    mixed-integer programme, solved by branch and bound (HiGHS). Less than a milligram is no change. With many places
    the solver may print a line of its own to the process's standard output.

    Examples
    --------
    >>> from hingeline.balance import Limits
    >>> from hingeline.balance.ballast import BallastTask, Place, plan_ballast
    >>> from hingeline.uncertainty import Measured
    >>> arm = Place("arm weight", 0.180, "forward", smallest_step=0.005, largest_mass=0.200)
    >>> limits = Limits(0.0, 2.10, source="data sheet 7")
    >>> task = BallastTask(Measured(2.106, 0.022), limits, (arm,), target="moment", target_moment=1.85)
    >>> result = plan_ballast(task)
    >>> [(change.place, round(change.mass, 3)) for change in result.changes], result.predicted_statement
    ([('arm weight', 0.145)], 'inside')
    """
    refuse_unusable_task(task)
    task = replace(task, moment=with_both(task.moment, task.coverage))
    found = best_plans(task)
    if not found:
        raise InputRefused.of(
            "place",
            "limits of a place that nothing meets",
            "places whose largest and smallest mass can be kept with their steps and pieces",
            "A weight that is present is too heavy or too light for its place and cannot be changed to fit.",
        )
    plans = tuple(plan_of(task, each) for each in found)
    best, plan = found[0], plans[0]
    found_result = result_of(task, best, plans)
    if plan.feasible:
        return found_result
    return replace(found_result, reason=reason_of(task, best), remedies=remedies_of(task, best))


def result_of(task: BallastTask, best: Best, plans: tuple[Plan, ...]) -> BallastResult:
    """Put the first of some plans beside what was before it; without a reason, should it not be feasible."""
    plan = plans[0]
    by_simple, by_guarded = statements(task.moment, task.limits.lower, task.limits.upper)
    before = mass_before(task)
    return BallastResult(
        surface=task.surface,
        places=task.places,
        local_gravity=task.local_gravity,
        moment_before=task.moment,
        statement_before_simple=by_simple,
        statement_before_guarded=by_guarded,
        target=task.target,
        rule=task.limits.rule,
        limits_source=task.limits.source,
        mass_before=before,
        centre_of_gravity_before=centre(task.moment.value, before, task.local_gravity),
        inertia_before=task.inertia,
        product_before=task.product_of_inertia,
        coefficient_before=coefficient(task.product_of_inertia, task.inertia),
        **_fields(plan),
        reason=None,
        remedies=(),
        plans=plans,
        notes=notes_of(task, best, plan, plans),
        cautions=CAUTIONS,
    )


def _fields(plan: Plan) -> dict[str, Any]:
    return {field.name: getattr(plan, field.name) for field in fields(plan)}
