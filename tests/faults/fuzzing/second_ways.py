"""Second ways to the numbers of a room, written anew: sums by hand, Simpson's rule, elements; mirrored, doubled."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace
from typing import Any

from hingeline.arm import ArmTask
from hingeline.balance import check_rows
from hingeline.balance.ballast import BallastTask
from hingeline.balance.coating import CoatingTask, Layer
from hingeline.balance.printed_limits import LimitRow, PrintedRange
from hingeline.balance.spread import DynamicTask
from hingeline.balance.swing import SwingTask
from hingeline.flutter import Air, FlutterTask, analyse
from hingeline.motion import Recording, judge

# Two ways in floats: of all that was added up, or of the number itself, whichever is more.
ALIKE = 1e-9


def alike(one: float, other: float, size: float = 0.0) -> None:
    """Two numbers are the same beside their own size, or beside that of what they were added up from."""
    assert math.isclose(one, other, rel_tol=ALIKE, abs_tol=ALIKE * size), (one, other, size)


def summed(terms: Iterable[float], found: float) -> None:
    """The sum of the terms is what was found."""
    each = tuple(terms)
    alike(sum(each), found, sum(map(abs, each)))


def aft_of(item: Any) -> float:
    """Say where something stands, aft positive [m]."""
    return float(item.arm if item.side == "aft" else -item.arm)


# ------------------------------------------------------------------ mass spread over a surface


def bits_of(asked: DynamicTask) -> list[tuple[float, float, float]]:
    """Cut every plate into nine points (Simpson's rule twice, exact for squares); points stay: mass, x, y."""
    bits = [(point.mass, aft_of(point), point.spanwise) for point in asked.points]
    for plate in asked.plates:
        x, y = (plate.chordwise_from, plate.chordwise_to), (plate.spanwise_from, plate.spanwise_to)
        mass = plate.mass
        if mass is None:
            mass = (plate.mass_per_area or 0.0) * (x[1] - x[0]) * (y[1] - y[0])
        bits += [(mass * a * b, at, along) for a, at in simpson(*x) for b, along in simpson(*y)]
    return bits


def simpson(low: float, high: float) -> tuple[tuple[float, float], ...]:
    """Give the three points of a length with the share of each."""
    return (1 / 6, low), (4 / 6, (low + high) / 2.0), (1 / 6, high)


def spread_by_points(asked: DynamicTask, found: Any) -> None:
    """S, I and K of the nine points of each plate; with a weight, of one point more."""
    bits = bits_of(asked)
    summed_by_points(bits, found)
    summed((mass for mass, _, _ in bits), found.mass)
    for place in found.places:
        x = found.weight.arm if found.weight.side == "aft" else -found.weight.arm
        summed_by_points([*bits, (found.weight.mass, x, place.spanwise)], place)


def summed_by_points(bits: list[tuple[float, float, float]], found: Any) -> None:
    summed((mass * x for mass, x, _ in bits), found.mass_moment)
    summed((mass * x * x for mass, x, _ in bits), found.inertia)
    summed((mass * x * y for mass, x, y in bits), found.product_of_inertia)
    if found.dynamic_coefficient is not None:
        size = sum(abs(mass * x * y) for mass, x, y in bits)
        alike(found.dynamic_coefficient * found.inertia, found.product_of_inertia, size)


# ------------------------------------------------------------------ a swing


def swung_by_the_integral(asked: SwingTask, found: Any) -> None:
    """The inertia by the four formulas, with SciPy's elliptic integral for the amplitude."""
    from scipy.special import ellipk

    per_swing = sum(asked.periods) / len(asked.periods) / asked.swings_per_period
    if asked.amplitude is not None and asked.method != "spring":
        per_swing /= 2.0 / math.pi * float(ellipk(math.sin(asked.amplitude / 2.0) ** 2))
    angular = 2.0 * math.pi / per_swing
    terms = inertia_terms(asked, angular)
    summed(terms, found.inertia.value)
    if found.radius_of_gyration is not None and asked.surface_mass:
        alike(found.radius_of_gyration.value**2 * asked.surface_mass, found.inertia.value)


def inertia_terms(asked: SwingTask, angular: float) -> tuple[float, ...]:
    """Give what the inertia is added up from, by the angular frequency [kg m²]."""
    way = 1.0 if asked.hangs == "tail down" else -1.0
    moment, weight = asked.surface_mass_moment or 0.0, asked.local_gravity / angular**2
    if asked.method == "own weight":
        return (way * moment * weight,)
    if asked.method == "added mass":
        mass, arm = asked.added_mass or 0.0, asked.added_arm or 0.0
        x = arm if asked.added_side == "aft" else -arm
        return way * moment * weight, way * mass * x * weight, -mass * arm**2
    if asked.method == "two wires":
        mass, spacing = asked.surface_mass or 0.0, asked.wire_spacing or 0.0
        return mass * weight * spacing**2 / (4.0 * (asked.wire_length or 0.0)), moment**2 / mass
    return ((asked.spring_rate or 0.0) * ((asked.spring_arm or 0.0) / angular) ** 2,)


# ------------------------------------------------------------------ paint and weights


def coats_by_hand(asked: CoatingTask, found: Any) -> None:
    """Every layer's mass at its arm, added to what was weighed."""
    for surface, result in zip(asked.surfaces, found.surfaces, strict=True):
        masses = [dry_mass(layer) for layer in surface.layers]
        moments = [mass * asked.local_gravity * aft_of(each) for mass, each in zip(masses, surface.layers, strict=True)]
        summed(masses, result.mass_change.value)
        summed(moments, result.moment_change.value)
        if surface.moment is not None:
            summed([surface.moment.value, *moments], result.moment_after.value)
        if surface.mass is not None:
            summed([surface.mass.value, *masses], result.mass_after.value)


def dry_mass(layer: Layer) -> float:
    """Give what a layer adds [kg]."""
    if layer.wet_volume is not None:
        parts = layer.volume_solids, layer.solids_density, layer.transfer
        return layer.count * layer.wet_volume * math.prod(part or 0.0 for part in parts)
    per_area = layer.mass_per_area
    return (
        layer.count
        * (layer.area or 0.0)
        * ((layer.film or 0.0) * (layer.density or 0.0) if per_area is None else per_area)
    )


def plans_by_hand(asked: BallastTask, found: Any) -> None:
    """Of every plan the weights at their arms give its moment, and no place carries more than it may."""
    places = {place.name: place for place in asked.places}
    for plan in found.plans:
        moments = [(each.mass + each.fixed_mass) * asked.local_gravity * aft_of(each) for each in plan.changes]
        summed([asked.moment.value, *moments], plan.moment_after.value)
        summed([each.mass + each.fixed_mass for each in plan.changes], plan.total_mass_change)
        for each in plan.changes:
            most = places[each.place].largest_mass
            assert most is None or each.mass_after <= most * (1.0 + ALIKE) + 1e-12, each
            assert each.mass_after >= -1e-12, each


# ------------------------------------------------------------------ limits on paper


def mirrored(asked: tuple[LimitRow, ...], found: Any) -> None:
    """The same document with its signs the other way round says the same, row by row and each row alone."""
    plain = tuple(row_in_floats(row, 1.0) for row in asked)
    turned = tuple(row_in_floats(row, -1.0) for row in asked)
    for row, other, result in zip(plain, turned, found.rows, strict=True):
        (one,), (two,) = check_rows((row,)).rows, check_rows((other,)).rows
        assert (one.lower, one.upper) == (two.lower, two.upper) == (result.lower, result.upper)
        assert len(one.contradictions) == len(two.contradictions)
        # A number on paper stands for an interval, and a float for itself: what the paper says twice, floats say too.
        assert len(result.contradictions) <= len(one.contradictions) + len(one.small_differences)


def row_in_floats(row: LimitRow, sign: float) -> LimitRow:
    """Write a row without its texts, and with ``sign`` -1 in the other sense."""
    moments = {
        name: range_in_floats(getattr(row, name), sign) for name in ("moment", "force", "reading", "second_unit")
    }
    masses = {name: range_in_floats(getattr(row, name), 1.0) for name in ("mass", "second_mass")}
    lengths = {name: in_float(getattr(row, name), 1.0) for name in ("arm", "second_arm", "chord")}
    senses = ("tail-heavy", "nose-heavy")
    positive = row.positive if sign > 0.0 else senses[row.positive == senses[0]]
    return replace(row, positive=positive, **moments, **masses, **lengths)  # type: ignore[arg-type]


def range_in_floats(printed: PrintedRange | None, sign: float) -> PrintedRange | None:
    if printed is None:
        return None
    ends = in_float(printed.lower, sign), in_float(printed.upper, sign)
    return PrintedRange(*(ends if sign > 0.0 else ends[::-1]))


def in_float(number: float | None, sign: float) -> float | None:
    return None if number is None else sign * float(number)


# ------------------------------------------------------------------ an arm


def swings_as_elements(asked: ArmTask, found: Any) -> None:
    """The lowest frequency of ten elements with cubic shapes: not below the beam's own, and nearly it."""
    beyond, rigid = asked.weight.beyond_tip, asked.root.stiffness
    length = asked.root.length - beyond
    stiffness = asked.material.modulus * found.section.second_moment.value
    if rigid is not None and rigid * length < 1e-6 * stiffness:
        # So short that it bends not at all beside its root: floats would lose the root among the elements.
        swinging = asked.weight.mass * asked.root.length**2 + asked.weight.inertia + found.arm_mass * length**2 / 3.0
        slowest = swinging / rigid
    else:
        slowest = slowest_of_elements(asked, *elements(stiffness, found.arm_mass, length, 10))
    assert math.isclose(1.0 / (2.0 * math.pi * math.sqrt(slowest)), found.natural_frequency.value, rel_tol=1e-3)


def slowest_of_elements(asked: ArmTask, bent: Any, heavy: Any) -> float:
    """Give the largest 1/w²: what bends is always stiff, but an arm of next to no mass leaves nothing to divide by."""
    from scipy.linalg import eigh

    mass, inertia, beyond = asked.weight.mass, asked.weight.inertia, asked.weight.beyond_tip
    heavy[-2:, -2:] += [[mass, mass * beyond], [mass * beyond, inertia + mass * beyond**2]]
    if asked.root.stiffness is not None:
        bent[1, 1] += asked.root.stiffness
    held = 2 if asked.root.stiffness is None else 1
    return float(eigh(heavy[held:, held:], bent[held:, held:], eigvals_only=True)[-1])


def elements(stiffness: float, mass: float, length: float, count: int) -> tuple[Any, Any]:
    """Give stiffness and mass of a beam of so many equal elements; at each end a deflection and a slope."""
    import numpy as np

    long = length / count
    one = np.array([[12, 6, -12, 6], [6, 4, -6, 2], [-12, -6, 12, -6], [6, 2, -6, 4]], dtype=float)
    own = np.array([[156, 22, 54, -13], [22, 4, 13, -3], [54, 13, 156, -22], [-13, -3, -22, 4]], dtype=float)
    scale = np.array([1.0, long, 1.0, long])
    one *= stiffness / long**3 * np.outer(scale, scale)
    own *= mass / count / 420.0 * np.outer(scale, scale)
    bent, heavy = np.zeros((2, 2 * count + 2, 2 * count + 2))
    for at in range(0, 2 * count, 2):
        bent[at : at + 4, at : at + 4] += one
        heavy[at : at + 4, at : at + 4] += own
    return bent, heavy


# ------------------------------------------------------------------ movements


def doubled(asked: Recording, found: Any) -> None:
    """Every angle and every reading twice as large moves as fast, dies out as fast, and is said to be the same."""
    channels = tuple(
        replace(each, values=tuple(None if value is None else 2.0 * value for value in each.values))
        for each in asked.channels
    )
    again = judge(replace(asked, channels=channels))
    assert again.statement == found.statement
    for name in ("frequency", "damping_ratio"):
        one, other = getattr(found, name), getattr(again, name)
        assert (one is None) == (other is None), name
        if one is not None:
            assert math.isclose(one.value, other.value, rel_tol=1e-6, abs_tol=1e-9), (name, one, other)


# ------------------------------------------------------------------ flutter

HEAVY = (
    "mass", "plunging_mass", "pitch_static_moment", "surface_static_moment", "pitch_inertia", "surface_inertia",
    "plunge_stiffness", "pitch_stiffness", "surface_stiffness", "tab_static_moment", "tab_inertia", "tab_stiffness",
)  # fmt: skip


def twice_as_heavy(asked: FlutterTask, found: Any) -> None:
    """Masses, stiffnesses and air twice as much: every speed and every frequency stays."""
    assert asked.section is not None
    twice = {name: 2.0 * getattr(asked.section, name) for name in HEAVY if getattr(asked.section, name) is not None}
    air = Air(density=2.0 * found.density)
    again = analyse(replace(asked, section=replace(asked.section, **twice), air=air, scatter=()))
    for one, other in zip(found.natural_frequencies, again.natural_frequencies, strict=True):
        assert math.isclose(one, other, rel_tol=1e-6, abs_tol=1e-9)
    assert (again.flutter is None, len(again.crossings)) == (found.flutter is None, len(found.crossings))
    for one, other in zip(found.crossings, again.crossings, strict=True):
        assert one.direction == other.direction
        assert math.isclose(one.speed, other.speed, rel_tol=1e-6)
        assert math.isclose(one.frequency, other.frequency, rel_tol=1e-6)
    for name in ("divergence", "reversal"):
        first, second = getattr(found, name), getattr(again, name)
        assert (first is None) == (second is None), name
        assert first is None or math.isclose(first.speed, second.speed, rel_tol=1e-6), name
