"""What a correction must fulfil before anything is computed from it; fields are named as in a ballast file."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import get_args

from hingeline.balance.ballast.model import BallastTask, Place, Target
from hingeline.balance.ballast.rooms import SMALLEST_CHANGE
from hingeline.balance.checks import (
    HEAVIEST,
    LARGEST_FORCE,
    LIGHTEST_SURFACE,
    LONGEST,
    SHORTEST_ARM,
    gravity_faults,
)
from hingeline.balance.limits import Rule
from hingeline.balance.refusing import between, fault, stated_faults
from hingeline.errors import InputRefused, Refusal

MOST_PLACES = 20
MOST_PIECES = 200
MOST_STEPS = 100_000
FARTHEST = 40.0  # m from the flapping or roll axis
SMALLEST_INERTIA = 1e-9  # kg m²: a gram at a millimetre
MEASURED_PART = 0.9  # of a bound that rests on measured numbers


def refuse_unusable_task(task: BallastTask) -> None:
    """Refuse a correction that cannot be computed.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refusals = list(_faults(task))
    if refusals:
        raise InputRefused(refusals)


def _faults(task: BallastTask) -> Iterator[Refusal]:
    yield from gravity_faults(task.local_gravity)
    yield from _of_moment(task)
    yield from _of_words(task)
    yield from _of_limits(task)
    yield from _of_target(task)
    yield from _of_surface(task)
    if not 1 <= len(task.places) <= MOST_PLACES:
        remedy = "Name the places that the approved data allows."
        yield fault("place", f"{len(task.places)} places", f"1 to {MOST_PLACES} places", remedy)
    names = [place.name for place in task.places]
    for index, place in enumerate(task.places):
        field = f"place[{index}]"
        if names.index(place.name) != index or not place.name.strip():
            yield fault(f"{field}.name", place.name, "a name of its own", "Plans name their places by it.")
        yield from _of_place(field, place, task)
    yield from _of_inertia(task)


def _of_moment(task: BallastTask) -> Iterator[Refusal]:
    moment = task.moment
    if abs(moment.value) >= LARGEST_FORCE:
        yield fault("moment", moment.value, f"less than {LARGEST_FORCE:g} N m", "Check the number and its unit.")
    k = moment.coverage_factor
    if k is not None and not 0.1 <= k <= 10.0:
        yield fault("moment.k", k, "a coverage factor between 0.1 and 10", "Certificates state it, mostly 2.")
    freedom = moment.degrees_of_freedom
    if freedom is not None and not 1.0 <= freedom <= 1e9:
        yield fault("moment.degrees_of_freedom", freedom, "1 or more", "Leave it out if it is not limited.")
    if not 0.5 <= task.coverage <= 0.9999:
        yield fault("coverage", task.coverage, "a probability between 0.5 and 0.9999", "0.95 is usual.")
    unknown = moment.standard_uncertainty is None and moment.expanded_uncertainty is None
    if task.limits.rule == "guarded" and unknown:
        remedy = (
            'The guarded rule draws the limits in by U: write {value = "2.106 N m", expanded = "0.044 N m", k = 2}.'
        )
        yield fault("moment", "without an uncertainty", "a measured moment with its uncertainty", remedy)


def _of_limits(task: BallastTask) -> Iterator[Refusal]:
    lower, upper = task.limits.lower, task.limits.upper
    for name, bound in (("lower", lower), ("upper", upper)):
        if bound is not None and not (math.isfinite(bound) and abs(bound) < LARGEST_FORCE):
            yield fault(f"limits.{name}", bound, "a finite limit", "Check the number and its unit.")
    if lower is not None and upper is not None and lower > upper:
        shown = f"{getattr(lower, 'text', lower)} … {getattr(upper, 'text', upper)}"
        remedy = "Are they swapped? Nose-heavy counts as negative, so the more nose-heavy limit is the lower one."
        yield fault("limits.lower", shown, "a lower limit below the upper one", remedy)
    if task.limits.bands or task.limits.mass is not None or task.limits.reading is not None:
        remedy = "Give the moment limits that hold for this surface as lower and upper."
        yield fault("limits", "bands, mass or reading", "lower and upper limits of the moment", remedy)


def _of_words(task: BallastTask) -> Iterator[Refusal]:
    """Refuse words that no branch knows: a file is checked before it comes here, a caller's records are not."""
    for field, word, allowed in (
        ("limits.rule", task.limits.rule, get_args(Rule)),
        ("target", task.target, get_args(Target)),
    ):
        if word not in allowed:
            yield fault(field, word, f"one of {', '.join(allowed)}", "Write one of these words.")


def _of_target(task: BallastTask) -> Iterator[Refusal]:
    lower, upper, target = task.limits.lower, task.limits.upper, task.target_moment
    one_sided = "A band with one end has no middle, and none has no end: give the moment to aim at."
    if task.target == "middle" and (lower is None or upper is None):
        yield fault("target", "middle", "a moment, or nearest, where a limit is missing", one_sided)
    if task.target == "nearest" and lower is None and upper is None:
        yield fault("target", "nearest", "a moment, where no limits are given", one_sided)
    if task.target == "moment" and (target is None or not math.isfinite(target) or abs(target) >= LARGEST_FORCE):
        yield fault("target", target, "nearest, middle, or a moment", "Write for example 1.85 N m.")
    elif task.target == "moment" and target is not None and not _inside(target, lower, upper):
        yield fault("target", target, "a moment inside the limits", "Aim for what the approved data allows.")


def _inside(target: float, lower: float | None, upper: float | None) -> bool:
    return (lower is None or target >= lower) and (upper is None or target <= upper)


def _of_surface(task: BallastTask) -> Iterator[Refusal]:
    surface = task.surface
    if surface is None:
        return
    if surface.mass is not None:
        yield from between("surface.mass", surface.mass, LIGHTEST_SURFACE, HEAVIEST, "a mass", "kg")
        yield from _lighter_than_its_weights(surface.mass, task.places)
    depth = surface.hinge_to_trailing_edge
    if depth is not None:
        yield from between("surface.hinge_to_trailing_edge", depth, SHORTEST_ARM, LONGEST, "a length", "m")
    for index, weight in enumerate(surface.balance_weights):
        yield from between(f"surface.balance_weight[{index}].mass", weight.mass, 0.0, HEAVIEST, "a mass", "kg")
        yield from _of_arm(f"surface.balance_weight[{index}].arm", weight.arm)


def _lighter_than_its_weights(mass: float, places: tuple[Place, ...]) -> Iterator[Refusal]:
    """Refuse a surface that weighs no more than what its places carry now: the weights are part of it."""
    carried = sum(place.present_mass for place in places)  # not fsum: what is no mass is told at its own place
    if math.isfinite(carried) and 0.0 < mass <= carried:
        remedy = "Give the mass of the whole surface, its weights included; check the numbers and their units."
        yield fault("surface.mass", mass, f"more than the weights present, {carried:.6g} kg", remedy)


def _of_arm(field: str, arm: float) -> Iterator[Refusal]:
    if not (math.isfinite(arm) and SHORTEST_ARM <= arm <= LONGEST):
        remedy = 'Give the distance without a sign; its direction goes into "side". Check the unit.'
        yield fault(field, arm, f"a distance from the hinge line between 1 mm and {LONGEST:g} m", remedy)


def _of_place(field: str, place: Place, task: BallastTask) -> Iterator[Refusal]:
    yield from _of_arm(f"{field}.arm", place.arm)
    depth = None if task.surface is None else task.surface.hinge_to_trailing_edge
    if depth is not None and place.side == "aft" and depth < place.arm <= LONGEST:
        expected = f"an arm up to the trailing edge, {depth * 1000:.4g} mm aft of the hinge line"
        yield fault(f"{field}.arm", place.arm, expected, "Check the number and its unit.")
    spanwise = place.spanwise
    if spanwise is not None and not (math.isfinite(spanwise) and abs(spanwise) <= FARTHEST):
        yield fault(f"{field}.spanwise", spanwise, f"a distance within ± {FARTHEST:g} m", "Check the unit.")
    yield from _of_masses(field, place)
    yield from _of_steps(field, place)
    yield from stated_faults(f"{field}.arm_uncertainty", place.arm_uncertainty, "m", LONGEST)
    yield from stated_faults(f"{field}.mass_uncertainty", place.mass_uncertainty, "kg", HEAVIEST)


def _of_masses(field: str, place: Place) -> Iterator[Refusal]:
    for name in ("largest_mass", "smallest_mass"):
        mass = getattr(place, name)
        if mass is not None:
            yield from between(f"{field}.{name}", mass, 0.0, HEAVIEST, "a mass", "kg")
    for name in ("fixed_mass", "present_mass"):
        mass = getattr(place, name)
        if not (math.isfinite(mass) and 0.0 <= mass <= HEAVIEST):
            yield fault(f"{field}.{name}", mass, f"a mass from 0 to {HEAVIEST:g} kg", "Check the number and its unit.")
    largest, smallest = place.largest_mass, place.smallest_mass
    if largest is not None and smallest is not None and smallest > largest:
        shown = f"{getattr(smallest, 'text', smallest)} beside {getattr(largest, 'text', largest)}"
        yield fault(f"{field}.smallest_mass", shown, "at most the largest mass", "Are they swapped?")
    if largest is not None and place.fixed_mass > largest:
        remedy = "The largest mass holds for all that is there, bracket and screws included."
        yield fault(f"{field}.fixed_mass", place.fixed_mass, "at most the largest mass", remedy)


def _of_steps(field: str, place: Place) -> Iterator[Refusal]:
    step = place.smallest_step
    if step is not None:
        yield from between(f"{field}.smallest_step", step, 0.999 * SMALLEST_CHANGE, HEAVIEST, "a step", "kg")
        if place.pieces:
            remedy = "A stock of weights has its own steps: leave smallest_step out, or the pieces."
            yield fault(f"{field}.smallest_step", step, "no step beside pieces", remedy)
        span = max(place.largest_mass or 0.0, place.present_mass)
        if math.isfinite(step) and step > 0.0 and span / step > MOST_STEPS:
            yield fault(f"{field}.smallest_step", step, f"at most {MOST_STEPS} steps in all", "Leave the step out.")
    if len(place.pieces) > MOST_PIECES:
        yield fault(f"{field}.pieces", f"{len(place.pieces)} pieces", f"at most {MOST_PIECES}", "Leave some out.")
    for index, piece in enumerate(place.pieces):
        yield from between(f"{field}.pieces[{index}]", piece, 0.999 * SMALLEST_CHANGE, HEAVIEST, "a mass", "kg")


def _of_inertia(task: BallastTask) -> Iterator[Refusal]:
    inertia, product = task.inertia, task.product_of_inertia
    if inertia is not None:
        yield from _of_the_size(task, inertia)
    if product is None:
        return
    if not (math.isfinite(product) and abs(product) <= 1e6):
        yield fault("product_of_inertia", product, "a finite product of inertia", "Check the number and its unit.")
    elif inertia is not None and SMALLEST_INERTIA <= inertia <= 1e6:
        yield from _product_beside(inertia, product, task)
    for index, place in enumerate(task.places):
        if place.spanwise is None:
            remedy = "The product of inertia changes with it: measure from the flapping or roll axis."
            yield fault(f"place[{index}].spanwise", "missing", "the spanwise position of the place", remedy)


def _of_the_size(task: BallastTask, inertia: float) -> Iterator[Refusal]:
    carried = math.fsum(place.present_mass * place.arm * place.arm for place in task.places if place.arm <= LONGEST)
    least = _least_inertia(task)
    if not (math.isfinite(inertia) and SMALLEST_INERTIA <= inertia <= 1e6):
        yield fault("inertia", inertia, "more than 0 kg m^2", "About the hinge line: hingeline swing finds it.")
    elif inertia <= carried:
        expected = f"more than the weights present have alone, {carried:.4g} kg m^2"
        yield fault("inertia", inertia, expected, "It is that of the whole surface about the hinge line.")
    elif inertia < least:
        expected = f"at least {least:.4g} kg m^2, which this moment needs in a surface of this mass"
        yield fault("inertia", inertia, expected, "Check moment, mass and inertia, and their units.")


def _least_inertia(task: BallastTask) -> float:
    """Give the inertia that no surface of this mass and static moment can stay below, (M/g)²/m [kg m²]; 0: not known.

    Cauchy and Schwarz: (∫ x dm)² ≤ ∫ dm ∫ x² dm. Both are measured, so a tenth is left to them, and U.
    """
    mass, moment = None if task.surface is None else task.surface.mass, task.moment
    if (
        mass is None
        or not LIGHTEST_SURFACE <= mass <= HEAVIEST
        or any(_of_moment(task))
        or any(gravity_faults(task.local_gravity))
    ):
        return 0.0
    unsure = moment.expanded_uncertainty or 2.0 * (moment.standard_uncertainty or 0.0)
    static = max(0.0, abs(moment.value) - unsure) / task.local_gravity
    return MEASURED_PART * static * static / mass


def _product_beside(inertia: float, product: float, task: BallastTask) -> Iterator[Refusal]:
    """Refuse a product of inertia that no surface of this inertia can have: K² ≤ I ∫ y² dm, y within reach."""
    mass = None if task.surface is None else task.surface.mass
    heavy = mass if mass is not None and LIGHTEST_SURFACE <= mass <= HEAVIEST else HEAVIEST
    most = math.sqrt(inertia * heavy) * FARTHEST
    if abs(product) > most:
        expected = f"at most {most:.4g} kg m^2 in size, beside an inertia of {inertia:.4g} kg m^2"
        yield fault("product_of_inertia", product, expected, "Check both numbers and their units.")
