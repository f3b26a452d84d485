"""What a weighing must fulfil before anything is computed from it.

All faults are gathered, so that a file can be mended in one go. Fields are
named as they stand in a weighing file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import fields

from hingeline.balance.model import Limits, Support, Weighing
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty.stated import Stated

# No surface of a light aircraft and no bench scale goes beyond these.
LONGEST = 10.0
HEAVIEST = 1000.0
LIGHTEST_SURFACE = 1e-3
LARGEST_FORCE = 10_000.0
SHORTEST_ARM = 1e-3
LARGEST_LEVEL = math.radians(5.0)
# What a level error acts through: what is expected of each, and what to do where it is missing.
OF_A_LEVEL_ERROR = {
    "mass": ("the surface's mass", "A level error acts through the mass: give it, or leave level out."),
    "vertical_offset": (
        "the height of the surface's centre of gravity",
        "A level error acts through the height of the centre of gravity: give it, or leave level out.",
    ),
}
GRAVITY_ON_EARTH = (9.7, 9.9)
BEYOND_EDGE = 1.05
FAR_BEYOND = 3.0
# An uncertainty as large as this is a slip of the unit; the level has a limit of its own.
LARGEST_STATED = {"kg": HEAVIEST, "N": LARGEST_FORCE, "m": 1.0, "rad": math.pi, "m/s^2": 0.1, "1": 1.0}


def refuse_unusable(weighing: Weighing, *, before: bool = False) -> None:
    """Refuse a weighing that cannot be computed.

    Parameters
    ----------
    weighing : Weighing
    before : bool
        Before the work: readings are not asked for yet.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refusals = list(_faults(weighing, before=before))
    if refusals:
        raise InputRefused(refusals)


# What a word may be, and in which units an uncertainty may be stated: files are checked before they come here,
# a caller's records are not.
_WORDS = {
    "side": ("aft", "forward"),
    "pushes": ("up", "down"),
    "reading_unit": ("kg", "N"),
    "state": ("not fitted", "fitted, not counted"),
    "rule": ("simple", "guarded"),
    "shape": ("limit", "triangular", "standard", "expanded", "resolution"),
}
_UNITS = {
    "arm": ("m", "1"),
    "arm_uncertainty": ("m", "1"),
    "mass_uncertainty": ("kg", "1"),
    "level": ("rad",),
    "gravity": ("m/s^2", "1"),
}
_OF_A_READING = ("kg", "N", "1")


def _faults(weighing: Weighing, *, before: bool) -> Iterator[Refusal]:
    for place, item in (*_carriers(weighing), ("limits", weighing.limits)):
        yield from _of_words(place, item)
    yield from gravity_faults(weighing.local_gravity)
    yield from _of_surface(weighing)
    if not weighing.supports and not weighing.hung:
        yield _fault("support", "none", "a support or a hung mass", "Say what holds the surface level.")
    for index, support in enumerate(weighing.supports):
        yield from _of_support(f"support[{index}]", support, weighing, before=before)
    for index, hung in enumerate(weighing.hung):
        yield from _within(f"hung[{index}].mass", hung.mass, 0.0, HEAVIEST, "a mass", "kg")
        yield from _of_arm(f"hung[{index}].arm", hung.arm)
    for index, part in enumerate(weighing.parts):
        yield from _within(f"part[{index}].mass", part.mass, 0.0, HEAVIEST, "a mass", "kg")
        if part.arm != 0.0:
            yield from _of_arm(f"part[{index}].arm", part.arm)
    yield from _of_uncertainty(weighing)
    yield from _of_limits(weighing)


def _of_words(place: str, item: object) -> Iterator[Refusal]:
    for name, allowed in _WORDS.items():
        word = getattr(item, name, allowed[0])
        if word not in allowed:
            yield _fault(f"{place}.{name}", word, " or ".join(allowed), "Write one of these words.")


def _fault(field: str, value: object, expected: str, remedy: str) -> Refusal:
    shown = getattr(value, "text", value)
    return Refusal(field, str(shown).removesuffix(".0"), expected, remedy)


def _within(field: str, value: float, low: float, high: float, kind: str, unit: str) -> Iterator[Refusal]:
    """Refuse what is not finite, not above 0, or not from ``low`` up to ``high``."""
    if not (math.isfinite(value) and value > 0.0 and low <= value <= high):
        expected = f"{kind} above 0 and up to {high:g} {unit}"
        if low:
            expected = f"{kind} from {low:g} up to {high:g} {unit}"
        yield _fault(field, value, expected, "Check the number and its unit.")


def gravity_faults(gravity: float) -> Iterator[Refusal]:
    """Refuse a local gravity that no place on Earth has."""
    low, high = GRAVITY_ON_EARTH
    if not (math.isfinite(gravity) and low <= gravity <= high):
        expected = f"local gravity between {low} and {high} m/s^2"
        yield _fault("local_gravity", gravity, expected, "Leave it out to use 9.80665 m/s^2.")


def _of_surface(weighing: Weighing) -> Iterator[Refusal]:
    surface = weighing.surface
    if not surface.name.strip():
        yield _fault("surface.name", surface.name, "a name", "Name the surface as the records do.")
    if surface.mass is not None:
        yield from _within("surface.mass", surface.mass, LIGHTEST_SURFACE, HEAVIEST, "a mass", "kg")
    depth = surface.hinge_to_trailing_edge
    if depth is not None:
        yield from _within("surface.hinge_to_trailing_edge", depth, SHORTEST_ARM, LONGEST, "a length", "m")
    offset = surface.vertical_offset
    if offset is not None and not (math.isfinite(offset) and abs(offset) <= LONGEST):
        yield _fault("surface.vertical_offset", offset, f"a height within ± {LONGEST:g} m", "Check the unit.")
    for index, weight in enumerate(surface.balance_weights):
        place = f"surface.balance_weight[{index}]"
        yield from _of_words(place, weight)
        yield from _within(f"{place}.mass", weight.mass, 0.0, HEAVIEST, "a mass", "kg")
        yield from _of_arm(f"{place}.arm", weight.arm)


def _of_arm(field: str, arm: float) -> Iterator[Refusal]:
    if not math.isfinite(arm) or arm <= 0.0:
        remedy = 'Give the distance without a sign; its direction goes into "side".'
        yield _fault(field, arm, "a distance from the hinge line, more than 0", remedy)
    elif not SHORTEST_ARM <= arm <= LONGEST:
        yield _fault(field, arm, f"a distance between 1 mm and {LONGEST:g} m", _meant(arm, 0.01, 2.0))


def _of_support(field: str, support: Support, weighing: Weighing, *, before: bool) -> Iterator[Refusal]:
    yield from _of_arm(f"{field}.arm", support.arm)
    yield from _of_depth(f"{field}.arm", support, weighing)
    yield from _of_which_readings(field, support, before=before)
    top, unit = (HEAVIEST, "kg") if support.reading_unit == "kg" else (LARGEST_FORCE, "N")
    for name in ("readings", "rising", "falling"):
        for index, reading in enumerate(getattr(support, name)):
            if not (math.isfinite(reading) and 0.0 <= reading <= top):
                yield _reading_fault(f"{field}.{name}[{index}]", reading, top, unit)
    yield from _of_tare(field, support, top, unit)


def _reading_fault(field: str, reading: float, top: float, unit: str) -> Refusal:
    remedy = "Check the number and its unit."
    if reading < 0.0:
        remedy = (
            "A support only pushes. Where the surface must be held down, it is nose-heavy about an aft support: "
            'use a support forward of the hinge line, or a hook with pushes = "down".'
        )
    return _fault(field, reading, f"a reading from 0 to {top:g} {unit}", remedy)


def _of_depth(field: str, support: Support, weighing: Weighing) -> Iterator[Refusal]:
    depth = weighing.surface.hinge_to_trailing_edge
    if depth is None or support.side != "aft" or not math.isfinite(support.arm):
        return
    if SHORTEST_ARM < depth <= LONGEST and BEYOND_EDGE * depth < support.arm <= LONGEST:
        expected = f"an arm up to the trailing edge, {depth * 1000:.4g} mm aft of the hinge line"
        far = support.arm > FAR_BEYOND * depth
        remedy = _meant(support.arm, 0.0, depth * BEYOND_EDGE) if far else "Check the number and its unit."
        yield _fault(field, support.arm, expected, remedy + " If a bar carries the load beyond it, leave "
                     "surface.hinge_to_trailing_edge out.")  # fmt: skip


def _meant(arm: float, low: float, high: float) -> str:
    """Guess a slip of the unit, else of the decimal point, and ask."""
    for factor in (0.001, 1000.0, 0.1, 10.0, 0.01, 100.0):
        if max(low, 0.02) <= arm * factor <= high:
            return f"Did you mean {arm * factor * 1000:.4g} mm?"
    return "Check the number and its unit."


def _of_which_readings(field: str, support: Support, *, before: bool) -> Iterator[Refusal]:
    pair = bool(support.rising) or bool(support.falling)
    if support.readings and pair:
        yield _fault(f"{field}.readings", "beside rising and falling", "either readings, or rising and falling",
                     "Leave one of the two out.")  # fmt: skip
    elif pair and not (support.rising and support.falling):
        missing = "falling" if support.rising else "rising"
        yield _fault(f"{field}.{missing}", "none", "readings while rising and while falling",
                     f"Give {missing} too, or give the others as readings.")  # fmt: skip
    elif not pair and not support.readings and not before:
        yield _fault(f"{field}.readings", "none", "at least one reading", "Give what the scale showed.")


def _of_tare(field: str, support: Support, top: float, unit: str) -> Iterator[Refusal]:
    tare, shown = support.tare, (*support.readings, *support.rising, *support.falling)
    if not (math.isfinite(tare) and 0.0 <= tare <= top):
        yield _fault(f"{field}.tare", tare, f"a tare from 0 to {top:g} {unit}", "Enter 0 if there is none.")
    elif shown and all(tare > reading for reading in shown):
        remedy = "Are reading and tare swapped? If the surface lifts off the support, it is heavy to the other side."
        yield _fault(f"{field}.tare", tare, "a tare below the readings", remedy)


def _of_uncertainty(weighing: Weighing) -> Iterator[Refusal]:
    stated = weighing.uncertainty
    for field in fields(stated):
        each = getattr(stated, field.name)
        if isinstance(each, Stated):
            yield from _of_stated(f"uncertainty.{field.name}", each)
    for place, item in _carriers(weighing):
        for name in ("arm_uncertainty", "mass_uncertainty", "tare_uncertainty"):
            each = getattr(item, name, None)
            if each is not None:
                yield from _of_stated(f"{place}.{name}", each)
    yield from _of_coverage(weighing)
    yield from _of_friction(weighing)
    yield from _of_level(weighing)


def _carriers(weighing: Weighing) -> Iterator[tuple[str, object]]:
    yield "surface", weighing.surface
    for kind, items in (("support", weighing.supports), ("hung", weighing.hung), ("part", weighing.parts)):
        for index, item in enumerate(items):
            yield f"{kind}[{index}]", item


def _of_stated(field: str, stated: Stated) -> Iterator[Refusal]:
    yield from _of_words(field, stated)
    units = _UNITS.get(field.rpartition(".")[2], _OF_A_READING)
    if stated.unit not in units:
        yield _fault(f"{field}.unit", stated.unit, " or ".join(units), "1 stands for a part of the value.")
    name = "limit" if stated.shape == "triangular" else stated.shape
    most = LARGEST_STATED.get(stated.unit, LARGEST_FORCE)
    if not (math.isfinite(stated.amount) and 0.0 <= stated.amount < most):
        size = "100 %" if stated.relative else f"{most:.3g} {stated.unit}"
        remedy = "Give the size without a sign." if stated.amount < 0.0 else "Check the number and its unit."
        yield _fault(f"{field}.{name}", stated.amount, f"0 or more, and less than {size}", remedy)
    k, freedom = stated.coverage_factor, stated.degrees_of_freedom
    if k is None and stated.shape == "expanded":
        yield _fault(
            f"{field}.k", "missing", "the coverage factor of the expanded one", "Copy it from the certificate."
        )
    if k is not None and not (math.isfinite(k) and 0.1 <= k <= 10.0):
        yield _fault(f"{field}.k", k, "a coverage factor between 0.1 and 10", "Certificates state it, mostly 2.")
    if freedom is not None and not (math.isfinite(freedom) and 1.0 <= freedom <= 1e9):
        yield _fault(f"{field}.degrees_of_freedom", freedom, "1 or more", "Leave it out if it is not limited.")


def _of_coverage(weighing: Weighing) -> Iterator[Refusal]:
    coverage, k = weighing.uncertainty.coverage, weighing.uncertainty.k
    if k is None and not (math.isfinite(coverage) and 0.5 <= coverage <= 0.9999):
        yield _fault("uncertainty.coverage", coverage, "a probability between 0.5 and 0.9999", "0.95 is usual.")
    if k is not None and not (math.isfinite(k) and 0.1 <= k <= 10.0):
        yield _fault("uncertainty.k", k, "a coverage factor between 0.1 and 10", "2 is usual.")


def _of_friction(weighing: Weighing) -> Iterator[Refusal]:
    friction = weighing.uncertainty.friction
    if friction is not None and any(support.rising for support in weighing.supports):
        remedy = "Leave it out: the rising and falling readings already show the friction and cancel it."
        yield _fault("uncertainty.friction", friction.amount, "no stated friction beside a rising and falling pair",
                     remedy)  # fmt: skip


def _of_level(weighing: Weighing) -> Iterator[Refusal]:
    level, surface = weighing.uncertainty.level, weighing.surface
    if level is None:
        return
    if level.amount > LARGEST_LEVEL:
        yield _fault("uncertainty.level", level.amount, "at most 5 degrees", "Level the surface better.")
    for name, (words, remedy) in OF_A_LEVEL_ERROR.items():
        if getattr(surface, name) is None:
            yield _fault(f"surface.{name}", "missing", words, remedy)


def _of_limits(weighing: Weighing) -> Iterator[Refusal]:
    limits = weighing.limits
    yield from _of_range("limits", limits.lower, limits.upper, moment=True)
    if limits.mass is not None:
        yield from _of_range("limits.mass", limits.mass.lower, limits.mass.upper)
        yield from _some_limit("limits.mass", limits.mass.lower, limits.mass.upper)
        yield from _needs_mass("limits.mass", weighing)
    if limits.reading is not None:
        yield from _of_range("limits.reading", limits.reading.lower, limits.reading.upper, moment=True)
        yield from _some_limit("limits.reading", limits.reading.lower, limits.reading.upper)
        if len(weighing.supports) != 1:
            yield _fault("limits.reading", f"{len(weighing.supports)} supports", "one support",
                         "A limit of the reading holds for one support, at the document's own point.")  # fmt: skip
    yield from _of_their_gravity(weighing)
    fraction = limits.friction_fraction
    if fraction is not None and not (math.isfinite(fraction) and 0.0 < fraction <= 1.0):
        yield _fault("limits.friction_fraction", fraction, "a part above 0 and up to 1", "2.5 % is 0.025.")
    yield from _of_bands(weighing, limits)


def _of_their_gravity(weighing: Weighing) -> Iterator[Refusal]:
    """Refuse limits in kg cm, in-lb and the like that were read for another place: gravity must cancel."""
    places = [("limits", weighing.limits), *((f"limits.band[{i}]", b) for i, b in enumerate(weighing.limits.bands))]
    for place, item in places:
        for name in ("lower", "upper"):
            bound = getattr(item, name)
            if getattr(bound, "local_gravity", None) not in (None, weighing.local_gravity):
                expected = f"a limit read with the weighing's local gravity, {float(weighing.local_gravity)} m/s^2"
                yield _fault(f"{place}.{name}", bound, expected, "Read its text again with local_gravity.")


def _of_bands(weighing: Weighing, limits: Limits) -> Iterator[Refusal]:
    if not limits.bands:
        return
    if limits.lower is not None or limits.upper is not None:
        yield _fault("limits.band", "beside lower or upper", "mass bands, or one band for every mass",
                     "Leave lower and upper out, or the bands.")  # fmt: skip
    yield from _needs_mass("limits.band", weighing)
    for index, band in enumerate(limits.bands):
        yield from _of_range(f"limits.band[{index}].mass", band.lightest, band.heaviest)
        yield from _of_range(f"limits.band[{index}]", band.lower, band.upper, moment=True)
        yield from _some_limit(f"limits.band[{index}]", band.lower, band.upper)


def _needs_mass(field: str, weighing: Weighing) -> Iterator[Refusal]:
    if weighing.surface.mass is None:
        yield _fault(
            "surface.mass", "missing", f"the surface's mass, since {field} is given", "Weigh the whole surface."
        )


def _some_limit(field: str, lower: float | None, upper: float | None) -> Iterator[Refusal]:
    """Refuse a table of limits without a limit: nothing could ever be outside it."""
    if lower is None and upper is None:
        yield _fault(field, "none", "a lower or an upper limit", "Give one of them, or leave the table out.")


def _of_range(field: str, lower: float | None, upper: float | None, *, moment: bool = False) -> Iterator[Refusal]:
    for name, bound in (("lower", lower), ("upper", upper)):
        if bound is None:
            continue
        if not (math.isfinite(bound) and abs(bound) < LARGEST_FORCE):
            yield _fault(f"{field}.{name}", bound, "a limit of ordinary size", "Check the number and its unit.")
        elif not moment and bound < 0.0:
            yield _fault(f"{field}.{name}", bound, "a mass, 0 or more", "Give it without a sign.")
    if lower is not None and upper is not None and lower > upper:
        remedy = "Are they swapped?"
        if moment:
            remedy += " Nose-heavy counts as negative, so the more nose-heavy limit is the lower one."
        shown = f"{getattr(lower, 'text', lower)} … {getattr(upper, 'text', upper)}"
        yield _fault(f"{field}.lower", shown, "a lower limit below the upper one", remedy)


def refuse_impossible_centre(weighing: Weighing, centre: float | None) -> None:
    """Refuse a moment and a mass that put the centre of gravity behind the trailing edge.

    Raises
    ------
    InputRefused
        One of the two numbers must be wrong.
    """
    depth = weighing.surface.hinge_to_trailing_edge
    if centre is None or depth is None or abs(centre) <= depth:
        return
    shown = getattr(weighing.surface.mass, "text", weighing.surface.mass)
    raise InputRefused.of(
        "surface.mass",
        shown,
        f"a mass that puts the centre of gravity within {depth * 1000:.4g} mm of the hinge line",
        f"With these readings it would lie {abs(centre) * 1000:.4g} mm {'aft' if centre > 0 else 'forward'}: "
        "one of mass, readings and arm is wrong.",
    )
