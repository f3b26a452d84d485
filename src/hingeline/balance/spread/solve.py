"""From spread masses to static and dynamic balance, side by side."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from hingeline.balance.notes import CAUTIONS as OF_A_WEIGHING
from hingeline.balance.spread import equations
from hingeline.balance.spread.checks import refuse_cannot_balance, refuse_no_span, refuse_unusable
from hingeline.balance.spread.model import (
    DynamicResult,
    DynamicTask,
    MassPoint,
    Plate,
    Spread,
    TrialPlace,
    TrialWeight,
    WithWeight,
)
from hingeline.surface import aft
from hingeline.units import STANDARD_GRAVITY

# Three products of floats, each right to half a unit of its last digit (2**-53), and some air.
ROUNDING = 8.0 * 2.0**-53

CAUTIONS = (
    "An estimate from stated masses and places, not a measurement: weigh the surface for its static moment.",
    "What K/I may be stands in the approved data, or is for the type's design organisation to say. Nothing here "
    "says that a surface is free of flutter.",
    OF_A_WEIGHING[0],
)
NOTES = (
    "K and K/I hold for the axis from which the spanwise distances were taken. That is the flapping axis of a wing, "
    "the roll axis, or for a tail surface the axis that the fuselage twists about.",
    "Masses and places are taken as exact, so no uncertainty is given; a point has no inertia of its own.",
)
THREE_PLACES = (
    "At every place the static balance is the same, and K is not: forward of the hinge line, the same weight takes "
    "more off K the farther outboard it sits."
)


def dynamic_balance(task: DynamicTask) -> DynamicResult:
    """Say what static and dynamic balance a spread of mass has, and what a weight does to both.

    Parameters
    ----------
    task : DynamicTask
        SI floats.

    Returns
    -------
    DynamicResult
        S [kg m], I and K [kg m²] and K/I, without the trial weight and with it at each place.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.

    Notes
    -----
    S = Σ m x, I = Σ m x², K = Σ m x y, rectangles by their closed form; a weight at (x, y) adds m x, m x²
    and m x y. Sources: ``equations.py`` beside this file.

    Examples
    --------
    >>> from hingeline.balance.spread import DynamicTask, Plate, TrialWeight, dynamic_balance
    >>> plate = Plate("aileron", 0.0, 0.25, 2.5, 4.0, mass_per_area=5.0)
    >>> result = dynamic_balance(DynamicTask(plates=(plate,), weight=TrialWeight(arm=0.060)))
    >>> [round(place.dynamic_coefficient, 2) for place in result.places]
    [3.31, 0.0, -3.31]
    """
    refuse_unusable(task)
    before = spread_of(task.points, task.plates, local_gravity=task.local_gravity)
    weight = None if task.weight is None else _completed(task.weight, task, before)
    return DynamicResult(
        name=task.name,
        mass=before.mass,
        mass_moment=before.mass_moment,
        static_moment=before.static_moment,
        inertia=before.inertia,
        product_of_inertia=before.product_of_inertia,
        dynamic_coefficient=before.dynamic_coefficient,
        centre_aft=before.centre_aft,
        centre_spanwise=before.centre_spanwise,
        points=task.points,
        plates=task.plates,
        weight=weight,
        places=() if weight is None else tuple(_with_weight(task, weight, place) for place in weight.places),
        local_gravity=task.local_gravity,
        notes=_notes(before, weight),
        cautions=CAUTIONS,
    )


def spread_of(
    points: Sequence[MassPoint], plates: Sequence[Plate] = (), *, local_gravity: float = STANDARD_GRAVITY
) -> Spread:
    """Add up mass, mass moment, inertia and product of inertia.

    Parameters
    ----------
    points : sequence of MassPoint
    plates : sequence of Plate
        At least one of both together.
    local_gravity : float
        [m/s²]

    Returns
    -------
    Spread

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.

    Notes
    -----
    Added exactly, so that the order does not matter. A sum that is no more than the rounding of its terms is 0.

    Examples
    --------
    >>> from hingeline.balance.spread import MassPoint, spread_of
    >>> spread = spread_of([MassPoint("weight", 2.0, 0.1, "forward", 3.0)])
    >>> round(spread.inertia, 3), round(spread.product_of_inertia, 3), round(spread.dynamic_coefficient, 3)
    (0.02, -0.6, -30.0)
    """
    refuse_unusable(DynamicTask(points=tuple(points), plates=tuple(plates), local_gravity=local_gravity))
    terms = [_of_point(point) for point in points] + [_of_plate(plate) for plate in plates]
    mass, moment, inertia, product, outboard = (_sum(column) for column in zip(*terms, strict=True))
    return Spread(
        mass=mass,
        mass_moment=moment,
        static_moment=moment * local_gravity,
        inertia=inertia,
        product_of_inertia=product,
        dynamic_coefficient=_coefficient(product, inertia),
        centre_aft=moment / mass,
        centre_spanwise=outboard / mass,
    )


def _sum(terms: Sequence[float]) -> float:
    """Add exactly; what is left of terms that cancel to their own rounding is nothing, and has no sense."""
    total = math.fsum(terms)
    return 0.0 if abs(total) <= ROUNDING * math.fsum(map(abs, terms)) else total


def _coefficient(product: float, inertia: float) -> float | None:
    """Give K/I; None where there is no inertia to divide by."""
    if inertia <= 0.0:
        return None
    coefficient = product / inertia
    return coefficient if math.isfinite(coefficient) else None


def _of_point(point: MassPoint) -> tuple[float, float, float, float, float]:
    """Give mass, mass moment, inertia, product, and mass times spanwise distance."""
    mass, x, y = point.mass, point.x, point.spanwise
    return mass, mass * x, mass * x * x, equations.point_product(mass, x, y), mass * y


def _of_plate(plate: Plate) -> tuple[float, float, float, float, float]:
    mass = mass_of(plate)
    x, y = (plate.chordwise_from, plate.chordwise_to), (plate.spanwise_from, plate.spanwise_to)
    return (
        mass,
        equations.plate_moment(mass, *x),
        equations.plate_inertia(mass, *x),
        equations.plate_product(mass, *x, *y),
        equations.plate_moment(mass, *y),
    )


def mass_of(plate: Plate) -> float:
    """Give the mass of a plate [kg]."""
    if plate.mass is not None:
        return plate.mass
    return (plate.mass_per_area or 0.0) * plate.area


def _completed(weight: TrialWeight, task: DynamicTask, before: Spread) -> TrialWeight:
    """Fill in the mass that balances, and the three places, where they were left out."""
    mass = weight.mass
    if mass is None:
        mass = equations.balancing_mass(before.mass_moment, aft(weight.side) * weight.arm)
        refuse_cannot_balance(weight, before.mass_moment, mass)
    return replace(weight, mass=mass, places=weight.places or _three_places(task))


def _three_places(task: DynamicTask) -> tuple[TrialPlace, ...]:
    ends = [point.spanwise for point in task.points]
    ends += [end for plate in task.plates for end in (plate.spanwise_from, plate.spanwise_to)]
    low, high = sorted((min(ends), max(ends)), key=abs)
    if low == high:
        refuse_no_span()
    return (
        TrialPlace("inboard end", low),
        TrialPlace("middle", (low + high) / 2.0),
        TrialPlace("outboard end", high),
    )


def _with_weight(task: DynamicTask, weight: TrialWeight, place: TrialPlace) -> WithWeight:
    added = MassPoint("weight", weight.mass or 0.0, weight.arm, weight.side, place.spanwise)
    spread = spread_of((*task.points, added), task.plates, local_gravity=task.local_gravity)
    return WithWeight(
        name=place.name,
        spanwise=place.spanwise,
        mass=spread.mass,
        mass_moment=spread.mass_moment,
        static_moment=spread.static_moment,
        inertia=spread.inertia,
        product_of_inertia=spread.product_of_inertia,
        dynamic_coefficient=spread.dynamic_coefficient,
    )


def _notes(before: Spread, weight: TrialWeight | None) -> tuple[str, ...]:
    nothing = ("All mass lies on the hinge line: there is no K/I.",) if before.dynamic_coefficient is None else ()
    several = (THREE_PLACES,) if weight is not None and len({place.spanwise for place in weight.places}) > 1 else ()
    return (*several, *nothing, *NOTES)
