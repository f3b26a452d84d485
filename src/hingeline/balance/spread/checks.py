"""What a spread of mass must fulfil before anything is computed from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hingeline.balance.checks import gravity_faults
from hingeline.balance.refusing import CHECK, HEAVIEST, LONGEST, arm_faults, between, fault, refuse_all
from hingeline.balance.spread.model import DynamicTask, MassPoint, Plate, TrialWeight
from hingeline.errors import InputRefused, Refusal
from hingeline.surface import aft

LARGEST_MASS_PER_AREA = 1000.0
FARTHEST = 50.0


def refuse_unusable(task: DynamicTask) -> None:
    """Refuse a task that cannot be computed.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refuse_all(_faults(task))


def _faults(task: DynamicTask) -> Iterator[Refusal]:
    yield from gravity_faults(task.local_gravity)
    if not task.points and not task.plates:
        yield fault("plate", "none", "at least one plate or point", "Say where the mass of the surface lies.")
    for index, point in enumerate(task.points):
        yield from _of_point(f"point[{index}]", point)
    for index, plate in enumerate(task.plates):
        yield from _of_plate(f"plate[{index}]", plate)
    if task.weight is not None:
        yield from _of_weight(task.weight)


def _of_point(place: str, point: MassPoint) -> Iterator[Refusal]:
    yield from between(f"{place}.mass", point.mass, 0.0, HEAVIEST, "a mass", "kg")
    yield from arm_faults(f"{place}.arm", point.arm)
    yield from _of_spanwise(f"{place}.spanwise", point.spanwise)


def _of_spanwise(field: str, spanwise: float) -> Iterator[Refusal]:
    if not (math.isfinite(spanwise) and abs(spanwise) <= FARTHEST):
        yield fault(field, spanwise, f"a distance within ± {FARTHEST:g} m of the flapping or roll axis", CHECK)


def _of_plate(place: str, plate: Plate) -> Iterator[Refusal]:
    for name, ends, most in (
        ("chordwise", (plate.chordwise_from, plate.chordwise_to), LONGEST),
        ("spanwise", (plate.spanwise_from, plate.spanwise_to), FARTHEST),
    ):
        low, high = ends
        shown = f"{getattr(low, 'text', low)} … {getattr(high, 'text', high)}"
        if not all(math.isfinite(end) and abs(end) <= most for end in ends):
            yield fault(f"{place}.{name}", shown, f"two distances within ± {most:g} m", CHECK)
        elif low >= high:
            remedy = "Aft of the hinge line and outboard of the axis count as positive: give the smaller one first."
            yield fault(f"{place}.{name}", shown, "from a smaller to a larger distance", remedy)
    yield from _of_plate_mass(place, plate)


def _of_plate_mass(place: str, plate: Plate) -> Iterator[Refusal]:
    if (plate.mass is None) == (plate.mass_per_area is None):
        shown = "none" if plate.mass is None else "mass and mass_per_area"
        yield fault(f"{place}.mass", shown, "either mass or mass_per_area", "Give the mass of the plate one way.")
    elif plate.mass is not None:
        yield from between(f"{place}.mass", plate.mass, 0.0, HEAVIEST, "a mass", "kg")
    elif plate.mass_per_area is not None:
        most = LARGEST_MASS_PER_AREA
        yield from between(f"{place}.mass_per_area", plate.mass_per_area, 0.0, most, "a mass per area", "kg/m^2")


def _of_weight(weight: TrialWeight) -> Iterator[Refusal]:
    yield from between("weight.arm", weight.arm, 0.0, LONGEST, "a distance from the hinge line", "m")
    if weight.mass is not None:
        yield from between("weight.mass", weight.mass, 0.0, HEAVIEST, "a mass", "kg")
    for index, place in enumerate(weight.places):
        yield from _of_spanwise(f"weight.place[{index}].spanwise", place.spanwise)


def refuse_cannot_balance(weight: TrialWeight, mass_moment: float, mass: float) -> None:
    """Refuse a weight on the side that is heavy already, where its mass is to be found.

    Raises
    ------
    InputRefused
        No mass there balances the surface.
    """
    if 0.0 < mass <= HEAVIEST:
        return
    heavy = "balanced" if mass_moment == 0.0 else "tail-heavy" if mass_moment > 0.0 else "nose-heavy"
    remedy = "Give weight.mass."
    if mass_moment * aft(weight.side) > 0.0:
        remedy = f'Put it on the other side ("{"forward" if weight.side == "aft" else "aft"}"), or give weight.mass.'
    raise InputRefused.of(
        "weight.mass", "missing", f"the mass to try: the surface is {heavy}, and no mass there balances it", remedy
    )


def refuse_no_span() -> None:
    """Refuse to guess places along the span of a surface without any.

    Raises
    ------
    InputRefused
        All its mass lies at one place along the span.
    """
    raise InputRefused.of(
        "weight.place", "missing", "places along the span", "All mass lies at one place along the span: name places."
    )
