"""What a coating task must fulfil before anything is computed from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple, get_args

from hingeline.balance.checks import gravity_faults
from hingeline.balance.coating.model import CoatedSurface, CoatingTask, Layer
from hingeline.balance.model import Limits, Rule
from hingeline.balance.refusing import (
    HEAVIEST,
    LARGEST_FORCE,
    arm_faults,
    between,
    coverage_faults,
    fault,
    limit_faults,
    measured_faults,
    refuse_all,
    stated_faults,
)
from hingeline.errors import Refusal

MOST_COUNTS = 100.0


class Factor(NamedTuple):
    """One quantity that the mass of a layer is made of."""

    words: str
    unit: str
    largest: float


# The largest that a movable surface of a light aircraft can be meant to have.
FACTORS = {
    "area": Factor("area", "m^2", 20.0),
    "mass_per_area": Factor("mass per area", "kg/m^2", 20.0),
    "film": Factor("film", "m", 0.01),
    "density": Factor("density", "kg/m^3", 25_000.0),
    "wet_volume": Factor("wet volume", "m^3", 0.1),
    "volume_solids": Factor("volume solids", "1", 1.0),
    "solids_density": Factor("solids density", "kg/m^3", 25_000.0),
    "transfer": Factor("transfer", "1", 1.0),
}
WAYS = (
    ("mass_per_area",),
    ("film", "density"),
    ("wet_volume", "volume_solids", "solids_density", "transfer"),
)
ONE_WAY = "exactly one of mass_per_area; film and density; wet_volume, volume_solids, solids_density and transfer"


SMALLEST_PART = 1e-15


def refuse_unusable(task: CoatingTask) -> None:
    """Refuse a task that cannot be computed.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refuse_all(_faults(task))


def _faults(task: CoatingTask) -> Iterator[Refusal]:
    yield from gravity_faults(task.local_gravity)
    yield from coverage_faults(task.coverage)
    if not task.surfaces:
        yield fault("layer", "none", "at least one layer", "Say what is painted on or stripped off.")
    alone = len(task.surfaces) == 1
    names = [surface.name for surface in task.surfaces]
    for index, surface in enumerate(task.surfaces):
        place = "" if alone else f"surface[{index}]."
        if not alone and (not surface.name.strip() or names.count(surface.name) > 1):
            yield fault(f"{place}name", surface.name, "a name of its own", "Name each surface as the records do.")
        yield from _of_surface(place, surface)


def _of_surface(place: str, surface: CoatedSurface) -> Iterator[Refusal]:
    if not surface.layers:
        yield fault(f"{place}layer", "none", "at least one layer", "Say what is painted on or stripped off.")
    for index, layer in enumerate(surface.layers):
        yield from _of_layer(f"{place}layer[{index}]", layer)
    yield from measured_faults(f"{place}moment", surface.moment, LARGEST_FORCE, "N m")
    yield from measured_faults(f"{place}mass", surface.mass, HEAVIEST, "kg")
    if surface.mass is not None and surface.mass.value <= 0.0:
        yield fault(f"{place}mass", surface.mass.value, "a mass above 0", "Give it as weighed, or leave it out.")
    yield from _of_limits(place, surface)


def _of_layer(place: str, layer: Layer) -> Iterator[Refusal]:
    if not layer.name.strip():
        yield fault(f"{place}.name", layer.name, "a name", "Name the layer, such as primer or filler.")
    if not (math.isfinite(layer.count) and 0.0 < abs(layer.count) <= MOST_COUNTS):
        yield fault(f"{place}.count", layer.count, f"a number within ± {MOST_COUNTS:g} that is not 0",
                    "Faces times coats; with a minus for what is stripped.")  # fmt: skip
    yield from arm_faults(f"{place}.arm", layer.arm)
    yield from stated_faults(f"{place}.arm", layer.arm_uncertainty, "m", 1.0)
    yield from _of_way(place, layer)
    for name, factor in FACTORS.items():
        value = getattr(layer, name)
        if value is not None:
            # So close to 0 it is a slip, and what is divided by it would have no end.
            least = factor.largest * SMALLEST_PART if 0.0 < value < factor.largest * SMALLEST_PART else 0.0
            yield from between(f"{place}.{name}", value, least, factor.largest, factor.words, _shown(factor.unit))
            yield from stated_faults(f"{place}.{name}", getattr(layer, f"{name}_uncertainty"), factor.unit, value)


def _shown(unit: str) -> str:
    return "" if unit == "1" else unit


def _of_way(place: str, layer: Layer) -> Iterator[Refusal]:
    """Ask for the mass one way, and for all that this way needs."""
    begun = [way for way in WAYS if any(getattr(layer, name) is not None for name in way)]
    if len(begun) != 1:
        given = [name for way in begun for name in way if getattr(layer, name) is not None]
        yield fault(place, ", ".join(given) or "none", ONE_WAY, "Give the mass of the layer one way.")
        return
    (way,) = begun
    for name in way:
        if getattr(layer, name) is None:
            others = ", ".join(each for each in way if each != name)
            yield fault(f"{place}.{name}", "missing", f"{name}, which belongs to {others}", "Add it.")
    if "wet_volume" not in way and layer.area is None:
        yield fault(f"{place}.area", "missing", "the area of one face", "Add it: a mass per area or a film needs it.")


def _of_limits(place: str, surface: CoatedSurface) -> Iterator[Refusal]:
    limits = surface.limits
    if limits.rule not in get_args(Rule):
        expected = f"one of {', '.join(get_args(Rule))}"
        yield fault(f"{place}limits.rule", limits.rule, expected, "Write one of these words.")
    yield from limit_faults(f"{place}limits", limits.lower, limits.upper, moment=True)
    if limits.mass is not None:
        yield from limit_faults(f"{place}limits.mass", limits.mass.lower, limits.mass.upper)
    for index, band in enumerate(limits.bands):
        yield from limit_faults(f"{place}limits.band[{index}].mass", band.lightest, band.heaviest)
        yield from limit_faults(f"{place}limits.band[{index}]", band.lower, band.upper, moment=True)
    if limits.bands and (limits.lower is not None or limits.upper is not None):
        yield fault(f"{place}limits.band", "beside lower or upper", "mass bands, or one band for every mass",
                    "Leave lower and upper out, or the bands.")  # fmt: skip
    if (limits.bands or limits.mass is not None) and surface.mass is None:
        yield fault(f"{place}mass", "missing", "the surface's mass, since limits depend on it", "Weigh it whole.")
    if limits != Limits() and not _limits_something(limits):
        yield fault(f"{place}limits", "none", "a lower or an upper limit", "Give one, or leave the table out.")


def _limits_something(limits: Limits) -> bool:
    return bool(limits.bands) or limits.mass is not None or not (limits.lower is None and limits.upper is None)


def refuse_nothing_left(place: str, before: float | None, change: float) -> None:
    """Refuse to strip more than the surface weighs.

    Raises
    ------
    InputRefused
        One of the masses must be wrong.
    """
    if before is not None and before + change <= 0.0:
        expected = f"more than the {-change:.6g} kg that the layers take off"
        refuse_all([fault(f"{place}mass", before, expected, "Check the layers and the surface's mass.")])
