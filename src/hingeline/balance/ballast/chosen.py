"""A change that a person chose, worked out in full, whether or not a search would have found it."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace

from hingeline.balance.ballast.aim import aim_of
from hingeline.balance.ballast.assess import plan_of
from hingeline.balance.ballast.checks import refuse_unusable_task
from hingeline.balance.ballast.choice import Choice, moment_after, prediction
from hingeline.balance.ballast.model import BallastResult, BallastTask, Place
from hingeline.balance.ballast.rooms import SMALLEST_CHANGE
from hingeline.balance.ballast.search import Best
from hingeline.balance.ballast.solve import result_of
from hingeline.balance.checks import HEAVIEST
from hingeline.balance.measured import with_both
from hingeline.errors import InputRefused, Refusal


def predict_change(task: BallastTask, masses: Sequence[float]) -> BallastResult:
    """Say what a chosen change would do: predicted moment, statement, mass, inertia.

    Parameters
    ----------
    task : BallastTask
        As for :func:`plan_ballast`; the target is not used.
    masses : sequence of float
        Weights added at each place, in their order; negative: taken off [kg].

    Returns
    -------
    BallastResult
        With the chosen change as its only plan. Predicted: only a new weighing decides.

    Raises
    ------
    InputRefused
        A place does not allow its change; the task itself cannot be used.
    RoutesDisagree
        Two computations of the predicted moment differ.

    Notes
    -----
    The sums are those of :func:`plan_ballast`: M after = M + Σ m g x, and so on.

    Examples
    --------
    >>> from hingeline.balance import Limits
    >>> from hingeline.balance.ballast import BallastTask, Place, predict_change
    >>> from hingeline.uncertainty import Measured
    >>> arm = Place("arm weight", 0.180, "forward", smallest_step=0.005, largest_mass=0.200)
    >>> task = BallastTask(Measured(2.106, 0.022), Limits(0.0, 2.10, source="data sheet 7"), (arm,))
    >>> predict_change(task, [0.145]).predicted_statement
    'inside'
    """
    refuse_unusable_task(task)
    refusals = list(_faults(task.places, masses))
    if refusals:
        raise InputRefused(refusals)
    task = replace(task, moment=with_both(task.moment, task.coverage))
    choices = tuple(
        Choice(place, max(mass, 0.0), max(-mass, 0.0)) for place, mass in zip(task.places, masses, strict=True)
    )
    predicted, _ = prediction(task, choices)
    aim = aim_of(task, predicted.expanded_uncertainty)
    best = Best(choices, aim, feasible=True, from_target=abs(moment_after(task, choices) - aim.moment))
    return result_of(task, best, (plan_of(task, best),))


def _faults(places: Sequence[Place], masses: Sequence[float]) -> Iterator[Refusal]:
    if len(places) != len(masses):
        yield Refusal("masses", f"{len(masses)} masses", f"{len(places)}, one a place", "Give 0 where nothing changes.")
        return
    for index, (place, mass) in enumerate(zip(places, masses, strict=True)):
        yield from _at_a_place(f"masses[{index}]", place, mass)


def _at_a_place(field: str, place: Place, mass: float) -> Iterator[Refusal]:
    if not (math.isfinite(mass) and abs(mass) <= HEAVIEST):
        yield Refusal(field, f"{mass:g} kg", f"a value within ± {HEAVIEST:g} kg", "Check the number and its unit.")
        return
    shown, carried = f"{mass * 1e3:g} g", Choice(place, max(mass, 0.0), max(-mass, 0.0)).in_all
    if place.pieces and mass > 0.0:
        yield Refusal(field, shown, f"what the search chooses of the pieces of {place.name}", "Take one of its plans.")
    if mass < -place.present_mass - SMALLEST_CHANGE:
        expected = f"at most {place.present_mass * 1e3:g} g taken off {place.name}"
        yield Refusal(field, shown, expected, "No more is there.")
    if mass and place.largest_mass is not None and carried > place.largest_mass + SMALLEST_CHANGE:
        remedy = "Choose less." if mass > 0.0 else "Take more off."
        yield Refusal(field, shown, f"at most {place.largest_mass * 1e3:g} g in all at {place.name}", remedy)
    if mass and place.smallest_mass is not None and SMALLEST_CHANGE < carried < place.smallest_mass - SMALLEST_CHANGE:
        expected = f"nothing, or at least {place.smallest_mass * 1e3:g} g in all at {place.name}"
        yield Refusal(field, shown, expected, "Choose more, or take all off.")
    if place.smallest_step is not None and abs(mass - round(mass / place.smallest_step) * place.smallest_step) > (
        SMALLEST_CHANGE
    ):
        expected = f"whole steps of {place.smallest_step * 1e3:g} g at {place.name}"
        yield Refusal(field, shown, expected, "Round to a step.")
