"""What an arm must fulfil before anything is computed from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import get_args

from hingeline.arm.crack_checks import crack_faults
from hingeline.arm.model import ArmTask, Bar, LoadsAre, Loss, StressLife, Tube, Where
from hingeline.arm.refusing import (
    CHECK,
    FIRMEST,
    HEAVIEST,
    LONGEST,
    SHORTEST,
    SOFTEST,
    STIFFEST,
    THINNEST,
    WEAKEST,
    above_zero,
    fault,
    from_least,
    from_zero,
    in_pascals,
    one_of_words,
    stated_faults,
)
from hingeline.errors import InputRefused, Refusal

WIDEST = 1.0
MOST_FACTOR = 1000.0
FASTEST = 1e4
LONGEST_LIFE = 100.0
"""Of a stress life, as a power of ten: beyond it there is no number for it, and long before no meaning."""
WIDEST_LOCAL = math.radians(150.0) * (1.0 + 1e-12)
"""Beyond it the sliver that is left would govern the modulus, which means nothing."""


def refuse_unusable(task: ArmTask) -> None:
    """Refuse an arm that cannot be computed.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    faults = list(_faults(task))
    if faults:
        raise InputRefused(faults)


def _faults(task: ArmTask) -> Iterator[Refusal]:
    yield from above_zero("local_gravity", task.local_gravity, 100.0, "an acceleration", "m/s^2")
    yield from _coverage(task)
    if (task.tube is None) == (task.bar is None):
        given = "none of them" if task.tube is None else "tube and bar"
        yield fault("tube", given, "either a tube or a bar", "Give one of [tube] and [bar].")
        return
    place = "tube" if task.tube is not None else "bar"
    yield from _material(task, place)
    yield from _root(task, place)
    yield from _weight(task, place)
    if task.tube is not None:
        yield from _readings(task, task.tube)
        yield from _tube(task.tube, _as_checked(task))
    if task.bar is not None:
        if task.readings:
            yield fault(
                "readings", len(task.readings), "none: a gauge reads the wall of a tube", "Give the depth lost."
            )
        yield from _bar(task.bar, task.loss)
    yield from _limit(task)
    yield from _loads(task)
    yield from _motion(task)
    yield from _stress_life(task)
    yield from _bolts(task)
    yield from crack_faults(task)


def _as_checked(task: ArmTask) -> Loss | None:
    """Give the loss as it is checked: by readings, its ± is the gauge's and may be as large as the loss."""
    return replace(task.loss, depth_uncertainty=None) if task.loss is not None and task.readings else task.loss


def _readings(task: ArmTask, tube: Tube) -> Iterator[Refusal]:
    if task.readings and tube.wall_uncertainty is not None:
        remedy = "Give the drawing's wall without ±: the gauge's ± stands with each reading."
        yield fault("tube.wall", tube.wall, "the nominal wall alone, beside readings", remedy)
    for number, each in enumerate(task.readings):
        place = f"loss.reading[{number}].wall"
        yield from from_least(place, each.wall, THINNEST, WIDEST, "a wall")
        yield from stated_faults(place, each.wall_uncertainty, "m", each.wall)
    if task.readings and task.loss is not None:
        # How it was stated is looked at; its size may be anything beside a small loss.
        yield from stated_faults("loss.depth", task.loss.depth_uncertainty, "m", math.inf)


def _coverage(task: ArmTask) -> Iterator[Refusal]:
    if task.k is None and not 0.5 <= task.coverage <= 0.9999:
        yield fault("coverage", task.coverage, "a probability between 0.5 and 0.9999", "95 % is 0.95.")
    if task.k is not None and not 0.1 <= task.k <= 10.0:
        yield fault("k", task.k, "a coverage factor between 0.1 and 10", "2 is usual.")


def _material(task: ArmTask, place: str) -> Iterator[Refusal]:
    material = task.material
    yield from in_pascals(f"{place}.modulus", material.modulus, SOFTEST, STIFFEST, "a modulus")
    yield from above_zero(f"{place}.density", material.density, 3e4, "a density", "kg/m^3")
    yield from in_pascals(f"{place}.yield", material.yield_strength, WEAKEST, FIRMEST, "a yield strength")
    yield from in_pascals(f"{place}.ultimate", material.ultimate_strength, WEAKEST, FIRMEST, "an ultimate strength")
    if material.yield_strength > material.ultimate_strength:
        remedy = "Yield comes before ultimate: are they swapped?"
        yield fault(f"{place}.yield", material.yield_strength, "at most the ultimate strength", remedy)
    if material.flow_stress is not None:
        yield from above_zero(f"{place}.flow_stress", material.flow_stress, FIRMEST, "a flow stress", "Pa")
        if not 0.5 * material.yield_strength <= material.flow_stress <= material.ultimate_strength:
            remedy = "It lies between yield and ultimate strength; leave it out for their mean."
            expected = "from half the yield strength to the ultimate strength"
            yield fault(f"{place}.flow_stress", material.flow_stress, expected, remedy)


def _root(task: ArmTask, place: str) -> Iterator[Refusal]:
    root = task.root
    yield from from_least(f"{place}.length", root.length, SHORTEST, LONGEST, "the length of the arm")
    yield from stated_faults(f"{place}.length", root.length_uncertainty, "m", root.length)
    if root.stiffness is not None:
        yield from above_zero(f"{place}.root_stiffness", root.stiffness, 1e12, "a stiffness", "N m/rad")
    yield from from_zero(f"{place}.hinge_to_root", root.hinge_to_root, LONGEST, "a distance", "m")


def _weight(task: ArmTask, place: str) -> Iterator[Refusal]:
    weight = task.weight
    yield from above_zero("weight.mass", weight.mass, HEAVIEST, "the mass of the weight", "kg")
    yield from stated_faults("weight.mass", weight.mass_uncertainty, "kg", weight.mass)
    yield from from_zero("weight.beyond_tip", weight.beyond_tip, LONGEST, "a distance", "m")
    yield from from_zero("weight.inertia", weight.inertia, 1e6, "a moment of inertia", "kg m^2")
    yield from from_zero("weight.off_axis", weight.off_axis, WIDEST, "a distance", "m")
    if weight.beyond_tip >= task.root.length > 0.0:
        remedy = f"{place}.length goes from the root to the weight's centre, and the {place} ends beyond_tip before it."
        yield fault("weight.beyond_tip", weight.beyond_tip, "less than the length of the arm", remedy)


def _tube(tube: Tube, loss: Loss | None) -> Iterator[Refusal]:
    diameter = tube.outside_diameter
    yield from from_least("tube.outside_diameter", diameter, SHORTEST, WIDEST, "a diameter")
    yield from from_least("tube.wall", tube.wall, THINNEST, WIDEST, "a wall")
    yield from stated_faults("tube.outside_diameter", tube.outside_diameter_uncertainty, "m", diameter)
    yield from stated_faults("tube.wall", tube.wall_uncertainty, "m", tube.wall)
    if tube.wall >= diameter / 2.0 > 0.0:
        remedy = "Check both: the wall is one thickness, the diameter is not the radius."
        yield fault("tube.wall", tube.wall, "less than half the outside diameter", remedy)
    yield from _loss(loss, tube.wall, "the wall")
    yield from _tube_loss(loss)
    yield from _hole(tube, loss)


def _tube_loss(loss: Loss | None) -> Iterator[Refusal]:
    if loss is None:
        return
    if loss.where == "local" and loss.half_angle is None:
        remedy = 'Add half_angle = "22 deg"; where the extent was not mapped, use "outside": it is the worse.'
        yield fault("loss.half_angle", "missing", "the half angle of a local loss", remedy)
    elif loss.where != "local" and loss.half_angle is not None:
        yield fault("loss.half_angle", loss.half_angle, 'nothing here unless the loss is "local"', "Leave it out.")
    elif loss.half_angle is not None and not 0.0 < loss.half_angle <= WIDEST_LOCAL:
        remedy = 'Beyond it is all round: write where = "outside".'
        yield fault("loss.half_angle", loss.half_angle, "an angle above 0 and up to 150 deg", remedy)


def _hole(tube: Tube, loss: Loss | None) -> Iterator[Refusal]:
    if tube.hole is None:
        return
    yield from above_zero("tube.hole", tube.hole, WIDEST, "a diameter", "m")
    if loss is not None and loss.where == "local":
        remedy = 'Write where = "outside" for the loss: it is the worse.'
        yield fault("tube.hole", tube.hole, "no hole beside a local loss, which is not worked out", remedy)
    if tube.hole >= 2.0 * (tube.outside_diameter / 2.0 - tube.wall) > 0.0:
        yield fault("tube.hole", tube.hole, "less than the inside diameter", CHECK)


def _bar(bar: Bar, loss: Loss | None) -> Iterator[Refusal]:
    for name in ("width", "height"):
        size = getattr(bar, name)
        yield from from_least(f"bar.{name}", size, SHORTEST, WIDEST, f"a {name}")
        yield from stated_faults(f"bar.{name}", getattr(bar, f"{name}_uncertainty"), "m", size)
    if loss is None:
        return
    if loss.where == "inside":
        yield fault("loss.where", "inside", '"outside" or "local": a bar is solid', "Write one of these words.")
    if loss.half_angle is not None:
        yield fault("loss.half_angle", loss.half_angle, "nothing here: of a bar the whole face goes", "Leave it out.")
    thinnest = bar.height if loss.where == "local" else min(bar.width, bar.height) / 2.0
    yield from _loss(loss, thinnest, "what the bar has")


def _loss(loss: Loss | None, most: float, of: str) -> Iterator[Refusal]:
    if loss is None:
        return
    yield from one_of_words("loss.where", loss.where, get_args(Where))
    yield from above_zero("loss.depth", loss.depth, WIDEST, "a depth", "m")
    yield from stated_faults("loss.depth", loss.depth_uncertainty, "m", loss.depth)
    if loss.depth >= most > 0.0:
        remedy = f"A depth of {most:.4g} m would be all of it: check the depth and its unit."
        yield fault("loss.depth", loss.depth, f"less than {of}", remedy)


def _limit(task: ArmTask) -> Iterator[Refusal]:
    if task.wall_limit is None:
        return
    if task.tube is None:
        yield fault("limit.wall", task.wall_limit.smallest, "no limit of a wall: the arm is a bar", "Leave it out.")
        return
    yield from above_zero("limit.wall", task.wall_limit.smallest, WIDEST, "a wall", "m")
    if task.wall_limit.smallest > task.tube.wall:
        remedy = "The approved data gives what must be left, not what may go."
        yield fault("limit.wall", task.wall_limit.smallest, "at most the wall", remedy)


def _loads(task: ArmTask) -> Iterator[Refusal]:
    yield from one_of_words("loads.are", task.loads.are, get_args(LoadsAre))
    for name in ("normal", "fore_and_aft", "along_hinge"):
        yield from above_zero(f"loads.{name}", getattr(task.loads, name), MOST_FACTOR, "a load factor", "")


def _motion(task: ArmTask) -> Iterator[Refusal]:
    motion = task.oscillation
    if motion is not None:
        yield from above_zero("oscillation.frequency", motion.frequency, FASTEST, "a frequency", "Hz")
        yield from from_zero("oscillation.damping_ratio", motion.damping_ratio, 1.0, "a damping ratio", "")
        if motion.amplitude is not None:
            yield from above_zero("oscillation.amplitude", motion.amplitude, math.pi / 2.0, "an angle", "rad")
    for number, frequency in enumerate(task.surface_frequencies):
        yield from above_zero(f"surface_frequencies[{number}]", frequency, FASTEST, "a frequency", "Hz")


def _stress_life(task: ArmTask) -> Iterator[Refusal]:
    life = task.stress_life
    if life is None:
        return
    yield from above_zero("stress_life.strength", life.strength, FIRMEST, "a fatigue strength", "Pa")
    if not -1.0 < life.exponent < -0.01:
        yield fault("stress_life.exponent", life.exponent, "a number between -1 and -0.01", "Metals: about -0.1.")
    if not life.loads:
        yield fault("stress_life.load", "none", "at least one load", "Add [[stress_life.load]].")
    for number, load in enumerate(life.loads):
        place = f"stress_life.load[{number}]"
        yield from above_zero(f"{place}.amplitude", load.amplitude, life.strength, "an amplitude", "Pa")
        if _is_endless(load.amplitude, life):
            expected = "an amplitude whose life with this exponent can be counted"
            yield fault(f"{place}.amplitude", load.amplitude, expected, CHECK)
        yield from above_zero(f"{place}.cycles_per_hour", load.cycles_per_hour, 1e7, "a number", "")
        if not abs(load.mean) < task.material.ultimate_strength:
            yield fault(f"{place}.mean", load.mean, "less than the ultimate strength", CHECK)


def _is_endless(amplitude: float, life: StressLife) -> bool:
    if not (0.0 < amplitude <= life.strength and life.exponent < 0.0):
        return False
    return (math.log10(amplitude) - math.log10(life.strength)) / life.exponent > LONGEST_LIFE


def _bolts(task: ArmTask) -> Iterator[Refusal]:
    bolts = task.bolts
    if bolts is None:
        return
    if task.tube is None:
        yield fault("bolts", "a bar", "bolts through a tube", "Leave the table out: a bar's bolts are not worked out.")
    yield from from_least("bolts.spacing", bolts.spacing, SHORTEST, LONGEST, "a distance")
    yield from from_least("bolts.diameter", bolts.diameter, SHORTEST, WIDEST, "a diameter")
    yield from above_zero("bolts.shear_strength", bolts.shear_strength, FIRMEST, "a strength", "Pa")
    yield from above_zero("bolts.bearing_strength", bolts.bearing_strength, FIRMEST, "a strength", "Pa")
    if bolts.shear_planes not in (1, 2):
        yield fault("bolts.shear_planes", bolts.shear_planes, "1 or 2", "A bolt through a clamp has 2.")
    if not 1.0 <= bolts.fitting_factor <= 5.0:
        yield fault("bolts.fitting_factor", bolts.fitting_factor, "a factor from 1 to 5", "1.15 is usual.")
