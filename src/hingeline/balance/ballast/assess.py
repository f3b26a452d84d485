"""A choice worked out in full: moments, uncertainty, statements, inertia, loads; the moment by two routes."""

from __future__ import annotations

from fractions import Fraction

from hingeline.balance.ballast import equations
from hingeline.balance.ballast.aim import Aim
from hingeline.balance.ballast.choice import (
    Choice,
    Choices,
    coefficient,
    inertia_after,
    moment_after,
    prediction,
    product_after,
    rounding_of,
    sum_of_changes,
)
from hingeline.balance.ballast.model import BallastTask, Change, Plan, WeightLoad
from hingeline.balance.ballast.rooms import SMALLEST_CHANGE
from hingeline.balance.ballast.search import Best, same_moment
from hingeline.balance.decide import Applicable, moment_limits
from hingeline.balance.equations import centre_of_gravity
from hingeline.balance.model import Rule, Statement
from hingeline.errors import RoutesDisagree
from hingeline.uncertainty import INSIDE, Measured, guarded, margin, probability_within, simple


def plan_of(task: BallastTask, best: Best) -> Plan:
    """Work a choice out in full."""
    choices, limits = best.choices, task.limits
    aim, changed = best.aim.moment, tuple(each for each in best.choices if each.size)
    predicted, budget = prediction(task, choices)
    refuse_disagreement(task, choices)
    predicted = _on_the_mark(predicted, (limits.lower, limits.upper, aim), rounding_of(task, choices))
    lower, upper, expanded = limits.lower, limits.upper, predicted.expanded_uncertainty
    by_simple, by_guarded = statements(predicted, lower, upper)
    mass = mass_after(task, choices)
    inertia, product = inertia_after(task, choices), product_after(task, choices)
    standard = predicted.standard_uncertainty
    return Plan(
        changes=tuple(_change(task, each) for each in changed),
        feasible=_feasible(task, predicted, best.aim),
        moment_after=predicted,
        from_target=abs(predicted.value - aim),
        target_moment=aim,
        limits=moment_limits(Applicable(lower, upper), expanded),
        predicted_statement=by_simple if limits.rule == "simple" else by_guarded,
        predicted_statement_simple=by_simple,
        predicted_statement_guarded=by_guarded,
        predicted_margin=margin(predicted.value, lower, upper),
        predicted_probability_within=probability_within(predicted.value, standard, lower, upper) if standard else None,
        total_mass_change=sum(each.mass for each in choices),
        sum_of_changes=sum_of_changes(choices),
        mass_after=mass,
        centre_of_gravity_after=centre(predicted.value, mass, task.local_gravity),
        inertia_after=inertia,
        product_after=product,
        coefficient_after=coefficient(product, inertia),
        budget=budget.rows if budget is not None else (),
    )


def statements(moment: Measured, lower: float | None, upper: float | None) -> tuple[Statement | None, Statement | None]:
    """Say what is true of a moment by the simple and by the guarded rule."""
    expanded = moment.expanded_uncertainty
    return simple(moment.value, lower, upper), guarded(moment.value, expanded, lower, upper)


def statement_by(rule: Rule, by_simple: Statement | None, by_guarded: Statement | None) -> Statement | None:
    """Choose the statement of the rule in force."""
    return by_simple if rule == "simple" else by_guarded


def _feasible(task: BallastTask, predicted: Measured, aim: Aim) -> bool:
    lower, upper = task.limits.lower, task.limits.upper
    if lower is None and upper is None:
        # Without limits the target is all there is to meet, as near as a milligram at the longest arm goes.
        arm = max(place.arm for place in task.places)
        near = max(same_moment(task), SMALLEST_CHANGE * task.local_gravity * arm)
        return abs(predicted.value - aim.moment) <= near
    return statement_by(task.limits.rule, *statements(predicted, lower, upper)) == INSIDE


def _on_the_mark(predicted: Measured, marks: tuple[float | None, ...], rounding: float) -> Measured:
    """Put a moment that misses a limit or the target by no more than rounding onto it: on the limit is inside."""
    for mark in marks:
        if mark is not None and predicted.value != mark and abs(predicted.value - mark) <= rounding:
            return Measured(
                float(mark),
                predicted.standard_uncertainty,
                predicted.expanded_uncertainty,
                predicted.coverage_factor,
                predicted.degrees_of_freedom,
            )
    return predicted


def refuse_disagreement(task: BallastTask, choices: Choices) -> None:
    """Work the predicted moment out once more, in exact fractions, and compare.

    Raises
    ------
    RoutesDisagree
        They differ by more than rounding.
    """
    gravity, exact = Fraction(task.local_gravity), Fraction(task.moment.value)
    for each in choices:
        lever = Fraction(each.place.arm) * (1 if each.place.side == "aft" else -1)
        weights = Fraction(each.added) - Fraction(each.taken)
        bracket = Fraction(each.place.fixed_mass) if each.added and not each.place.present_mass else Fraction(0)
        exact += (weights + bracket) * gravity * lever
    first, allowed = moment_after(task, choices), rounding_of(task, choices)
    if abs(Fraction(first) - exact) > Fraction(allowed):
        raise RoutesDisagree("predicted moment", repr(first), repr(float(exact)), repr(allowed))


def mass_before(task: BallastTask) -> float | None:
    """Give the surface's mass [kg]; None where it is not known."""
    return None if task.surface is None else task.surface.mass


def mass_after(task: BallastTask, choices: Choices) -> float | None:
    """Give the surface's mass after the change [kg]; None where it is not known."""
    mass = mass_before(task)
    return None if mass is None else mass + sum(each.mass for each in choices)


def centre(moment: float, mass: float | None, local_gravity: float) -> float | None:
    """Give the centre of gravity aft of the hinge line [m]; None without a mass."""
    return None if mass is None or mass <= 0.0 else centre_of_gravity(moment, mass, local_gravity)


def _change(task: BallastTask, choice: Choice) -> Change:
    place, left = choice.place, choice.in_all
    return Change(
        place=place.name,
        arm=place.arm,
        side=place.side,
        mass=choice.weights,
        pieces=choice.pieces,
        fixed_mass=choice.bracket,
        mass_after=left,
        moment=equations.moment_of_change(choice.mass, place.x, task.local_gravity),
        load=WeightLoad(*equations.inertia_loads(left)) if left > SMALLEST_CHANGE else None,
    )
