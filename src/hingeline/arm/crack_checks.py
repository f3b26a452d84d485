"""What a crack, and the way it is looked for, must fulfil before anything is computed from them."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hingeline.arm.crack_geometry import THICKEST, THINNEST, WIDEST
from hingeline.arm.detection import methods
from hingeline.arm.growth import GROWTH_UNITS
from hingeline.arm.model import ArmTask, Crack
from hingeline.arm.refusing import CHECK, FIRMEST, LONGEST, above_zero, fault, stated_faults
from hingeline.arm.worked import radii
from hingeline.errors import Refusal

LARGEST_TOUGHNESS = 1e9
LONGEST_INTERVAL = 3600.0 * 1e6

# What each geometry takes; the rest is refused beside it.
TAKES: dict[str, tuple[str, ...]] = {
    "constant": ("geometry_factor", "initial", "final"),
    "surface": ("depth", "half_length"),
    "tube through": ("half_angle", "final"),
}
NEEDS: dict[str, tuple[str, ...]] = {
    "constant": ("geometry_factor", "initial"),
    "surface": ("depth", "half_length"),
    "tube through": ("half_angle",),
}
EXAMPLES = {
    "geometry_factor": "geometry_factor = 1.12",
    "initial": 'initial = "1.27 mm"',
    "depth": 'depth = "0.5 mm"',
    "half_length": 'half_length = "1.0 mm"',
    "half_angle": 'half_angle = "10 deg"',
}
# Without a size at the start, that of the method of detection is taken.
BY_METHOD = ("initial", "half_angle")


def crack_faults(task: ArmTask) -> Iterator[Refusal]:
    """Go through everything that is wrong with crack and detection."""
    yield from _detection(task)
    crack = task.crack
    if crack is None:
        return
    yield from _growth(crack)
    yield from _fields(task, crack)
    yield from _sizes(crack)
    if crack.geometry != "constant":
        yield from _ring(task, crack)


def _detection(task: ArmTask) -> Iterator[Refusal]:
    how = task.detection
    if how is None:
        return
    if how.method is not None and how.method not in methods():
        yield fault("detection.method", how.method, f"one of {', '.join(methods())}", "Write one of these words.")
    if (how.half_found is None) != (how.spread is None):
        missing = "half_found" if how.half_found is None else "spread"
        yield fault(f"detection.{missing}", "missing", "half_found and spread together", "Give both, or neither.")
    if how.half_found is not None:
        yield from above_zero("detection.half_found", how.half_found, LONGEST, "a size", "m")
    if how.spread is not None:
        yield from above_zero("detection.spread", how.spread, 10.0, "a standard deviation of a logarithm", "")


def _growth(crack: Crack) -> Iterator[Refusal]:
    yield from above_zero("crack.stress_range", crack.stress_range, FIRMEST, "a stress range", "Pa")
    yield from above_zero("crack.toughness", crack.toughness, LARGEST_TOUGHNESS, "a toughness", "Pa m^0.5")
    yield from above_zero("crack.growth_constant", crack.growth_constant, 1e-3, "a growth constant", "", 1e-60)
    if crack.growth_units not in GROWTH_UNITS:
        expected = f"one of {'; '.join(GROWTH_UNITS)}"
        yield fault("crack.growth_units", crack.growth_units, expected, "The units that the source gives.")
    if not 1.0 <= crack.growth_exponent <= 8.0:
        yield fault("crack.growth_exponent", crack.growth_exponent, "an exponent from 1 to 8", "Metals: 2 to 4.")
    yield from above_zero("crack.cycles_per_hour", crack.cycles_per_hour, 1e7, "a number", "")
    if not 1.0 <= crack.factor <= 100.0:
        yield fault("crack.factor", crack.factor, "a factor from 1 to 100", "3 is usual for a single load path.")
    if crack.approved_interval is not None:
        yield from above_zero("crack.approved_interval", crack.approved_interval, LONGEST_INTERVAL, "a time", "s")
    if not 0.0 <= crack.growth_log_deviation <= 3.0:
        remedy = "A factor of 2 at 95 % is 0.35."
        yield fault("crack.growth_log_deviation", crack.growth_log_deviation, "a number from 0 to 3", remedy)
    for name, unit in (("stress_range", "Pa"), ("toughness", "Pa m^0.5"), ("largest_stress", "Pa")):
        value = getattr(crack, name)
        if value is not None:
            yield from stated_faults(f"crack.{name}", getattr(crack, f"{name}_uncertainty"), unit, value)


def _fields(task: ArmTask, crack: Crack) -> Iterator[Refusal]:
    """Ask for what the geometry needs, and refuse what belongs to another."""
    if crack.geometry not in TAKES:
        yield fault("crack.geometry", crack.geometry, f"one of {', '.join(TAKES)}", "Write one of these words.")
        return
    by_method = task.detection is not None and task.detection.method is not None
    for name in NEEDS[crack.geometry]:
        if getattr(crack, name) is None and not (name in BY_METHOD and by_method):
            remedy = f"Add {EXAMPLES[name]}."
            if name in BY_METHOD:
                remedy = f"{remedy[:-1]}, or a method of detection, whose planning size is then taken."
            yield fault(f"crack.{name}", "missing", f'a value: the geometry is "{crack.geometry}"', remedy)
    for name in dict.fromkeys(name for names in TAKES.values() for name in names):
        if name not in TAKES[crack.geometry] and getattr(crack, name) is not None:
            expected = f'nothing here: the geometry is "{crack.geometry}"'
            yield fault(f"crack.{name}", getattr(crack, name), expected, "Leave it out, or change the geometry.")


def _sizes(crack: Crack) -> Iterator[Refusal]:
    for name in ("initial", "final", "depth", "half_length"):
        size = getattr(crack, name)
        if size is not None:
            yield from above_zero(f"crack.{name}", size, LONGEST, "a size", "m")
    if crack.geometry_factor is not None:
        yield from above_zero("crack.geometry_factor", crack.geometry_factor, 100.0, "a factor", "")
    if crack.largest_stress is not None:
        yield from above_zero("crack.largest_stress", crack.largest_stress, FIRMEST, "a stress", "Pa")
    if crack.initial is not None:
        yield from stated_faults("crack.initial", crack.initial_uncertainty, "m", crack.initial)
        if crack.final is not None and crack.final < crack.initial:
            remedy = "A crack does not shrink: are they swapped?"
            yield fault("crack.final", crack.final, "at least the initial size", remedy)
    if crack.half_angle is not None:
        yield from stated_faults("crack.half_angle", crack.half_angle_uncertainty, "rad", crack.half_angle)
    if crack.depth is not None and crack.half_length is not None and crack.depth > crack.half_length:
        remedy = "The formula holds for cracks no deeper than half their length."
        yield fault("crack.depth", crack.depth, "at most the half length", remedy)


def _ring(task: ArmTask, crack: Crack) -> Iterator[Refusal]:
    """Refuse a crack in a tube that its formulas are not for."""
    if task.tube is None:
        expected = '"constant": the arm is a bar'
        yield fault("crack.geometry", crack.geometry, expected, "The others are for tubes.")
        return
    outer, inner = radii(task.tube, task.loss)
    if not outer > inner > 0.0:
        return  # refused already
    mean, wall = (outer + inner) / 2.0, outer - inner
    if not THICKEST <= mean / wall <= THINNEST:
        yield fault(
            "crack.geometry", f"{crack.geometry}, with a mean radius of {mean / wall:.3g} walls",
            f"a mean radius of {THICKEST:g} to {THINNEST:g} walls",
            'The factor does not hold here: use geometry = "constant" with a factor from the design office.',
        )  # fmt: skip
    if crack.half_angle is not None and not 0.0 < crack.half_angle < WIDEST * math.pi:
        yield fault("crack.half_angle", crack.half_angle, f"an angle above 0 and below {180.0 * WIDEST:g} deg", CHECK)
    if crack.final is not None and crack.half_angle is not None and crack.final < mean * crack.half_angle:
        remedy = "A crack does not shrink. Both are half lengths round the tube."
        yield fault("crack.final", crack.final, f"at least {1e3 * mean * crack.half_angle:.4g} mm", remedy)
    if crack.depth is not None and crack.depth >= wall:
        remedy = 'Through the wall it is geometry = "tube through".'
        yield fault("crack.depth", crack.depth, "less than the wall that is left", remedy)
