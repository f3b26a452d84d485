"""Computes the cases of arm.toml: through the reader of an arm file and the library's door where there is a file.

Lengths in mm, areas in mm², stresses in MPa, K in MPa √m, angles in deg, masses in g, moments of mass in g cm.
"""

from __future__ import annotations

import cmath
import math
import statistics
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

from hingeline.arm import (
    ArmResult,
    Loss,
    detection,
    examine,
    gap_under_load,
    growth,
    loading,
    stress_life,
    swept_by,
    travel_angle,
    vibration,
    wall,
)
from hingeline.arm.crack_geometry import (
    constant_intensity,
    surface_crack_factors,
    through_crack_factor,
    through_crack_intensity,
)
from hingeline.arm.critical_size import collapse_moment_ratio
from hingeline.arm.section import tube_section, with_bolt_hole
from hingeline.arm.worked import work_out
from hingeline.uncertainty import normal_quantile, probability_within
from hingeline.units import STANDARD_GRAVITY
from hingeline_app.files.arm_file import read_arm

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

MM, MPA = 1e3, 1e-6


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def examined(inputs: Inputs, samples: int | None = None) -> ArmResult:
    """Examine the file of a case."""
    return examine(read_arm(inputs["file"].encode()), samples=samples)


def section(inputs: Inputs) -> Outcome:
    """What is left of the section."""
    found = examined(inputs).section
    return {
        "area": 1e6 * found.area.value,
        "second_moment": 1e12 * found.second_moment.value,
        "section_modulus": 1e9 * found.section_modulus.value,
        "ratio_to_sound": found.ratio_to_sound,
        "part_of_wall_lost": found.part_of_wall_lost,
    }


def thinned(inputs: Inputs) -> Outcome:
    """The section's own axis, and the modulus of the sound side, from what is left where the crown governs."""
    task, found = read_arm(inputs["file"].encode()), examined(inputs).section
    assert task.tube is not None
    assert task.loss is not None
    outer = task.tube.outside_diameter / 2.0
    shift = outer - task.loss.depth - found.second_moment.value / found.section_modulus.value
    return {"shift": MM * shift, "other_modulus": 1e9 * found.second_moment.value / (outer + shift)}


def hole_ratio(inputs: Inputs) -> Outcome:
    """Modulus with the hole over that without."""
    task = read_arm(inputs["file"].encode())
    assert task.tube is not None
    whole = replace(task, tube=replace(task.tube, hole=None))
    return {"ratio_to_sound": work_out(task).root.section_modulus / work_out(whole).root.section_modulus}


def hole_in_a_thin_wall(inputs: Inputs) -> Outcome:
    """What a hole takes of I in the limit of a thin wall and a small hole, brought to the wall and hole of the case."""
    middle, wall_thickness, hole = inputs["mean_radius"], inputs["wall"], inputs["hole"]
    thin = 1e-3
    ring = (middle + thin * wall_thickness / 2.0, middle - thin * wall_thickness / 2.0)
    whole = tube_section(*ring).second_moment
    lost = (whole - with_bolt_hole(*ring, thin * hole).second_moment) / thin**2
    outer = middle + wall_thickness / 2.0
    return {"ratio_to_sound": 1.0 - lost / tube_section(outer, outer - wall_thickness).second_moment}


def stress(inputs: Inputs) -> Outcome:
    """The case of 24 g."""
    found = examined(inputs)
    normal = found.loads[0]
    return {
        "arm_mass": found.arm_mass,
        "moment": normal.moment.value,
        "stress": MPA * normal.stress.value,
        "margin_yield": normal.margin_yield,
        "margin_ultimate": normal.margin_ultimate,
        "stress_over_sound": normal.stress.value / normal.sound_stress,
    }


def loss_at_zero_margin(inputs: Inputs) -> Outcome:
    """Halve the loss from outside until the ultimate margin is nothing."""
    task = read_arm(inputs["file"].encode())
    low, high = 1e-6, 0.5e-3
    for _ in range(60):
        middle = (low + high) / 2.0
        margin = examine(replace(task, loss=Loss("outside", middle))).loads[0].margin_ultimate
        low, high = (middle, high) if margin is not None and margin > 0.0 else (low, middle)
    assert task.tube is not None
    return {"loss": MM * low, "wall_left": MM * (task.tube.wall - low), "part_of_wall": low / task.tube.wall}


def side_and_fore_and_aft(inputs: Inputs) -> Outcome:
    """Both cases of 12 g."""
    task, found = read_arm(inputs["file"].encode()), examined(inputs)
    _, pulled, sideways = found.loads
    acceleration = task.loads.fore_and_aft * STANDARD_GRAVITY
    straight = loading.axial_stress(acceleration, task.weight.mass + found.arm_mass, found.section.area.value)
    return {
        "along_hinge": MPA * sideways.stress.value,
        "fore_and_aft": MPA * pulled.stress.value,
        "of_offset": MPA * (pulled.stress.value - straight),
    }


def pull(inputs: Inputs) -> Outcome:
    """Fore and aft."""
    return {"axial": MPA * examined(inputs).loads[1].stress.value}


def oscillation(inputs: Inputs) -> Outcome:
    """Acceleration of the weight, and the amplitude at which it is the design load's."""
    amplitude = math.radians(inputs["amplitude"])
    in_g = loading.swing_acceleration(amplitude, inputs["frequency"], inputs["arm"]) / STANDARD_GRAVITY
    return {"acceleration_in_g": in_g, "amplitude_for_limit": inputs["amplitude"] * inputs["limit"] / in_g}


def bolts(inputs: Inputs) -> Outcome:
    """The worse bolt; the limit load without the fitting factor."""
    found = examined(inputs).bolts
    assert found is not None
    return {
        "load": found.load,
        "shear_stress": MPA * found.shear_stress,
        "margin_shear": found.margin_shear,
        "bearing_stress": MPA * found.bearing_stress,
        "margin_bearing": found.margin_bearing,
        "load_limit": found.load / 1.5 / 1.15,
    }


def frequency(inputs: Inputs) -> Outcome:
    """The arm's own frequency, both ways."""
    task = read_arm(inputs["file"].encode())
    found, worked = examine(task).natural_frequency, work_out(task)
    beam = worked.beam
    return {
        "stiffness": vibration.tip_stiffness(beam.stiffness, beam.length),
        "rayleigh": found.rayleigh,
        "exact": found.value,
        "root": vibration.first_root(beam),
        "ratio_to_sound": found.ratio_to_sound,
        "arm_mass": worked.mass,
        "effective_mass": vibration.tip_stiffness(beam.stiffness, beam.length) / (2.0 * math.pi * found.rayleigh) ** 2,
        "rayleigh_above_exact": found.rayleigh / found.value - 1.0,
    }


def against(inputs: Inputs) -> Outcome:
    """One number of a case with its file changed, over the same number unchanged."""
    kind, name, file = inputs["kind"], inputs["of"], inputs["file"]
    for old, new in inputs["changed"]:
        assert old in file
        file = file.replace(old, new)
    return {"ratio": COMPUTE[kind]({"file": file})[name] / COMPUTE[kind](inputs)[name]}


def soft_root(inputs: Inputs) -> Outcome:
    """Both flexibilities in a row, and the frequency with 33/140 of the tube at its end."""
    task = read_arm(inputs["file"].encode())
    worked = work_out(task)
    assert task.root.stiffness is not None
    stiffness = vibration.tip_stiffness(worked.beam.stiffness, worked.beam.length, float(task.root.stiffness))
    mass = task.weight.mass + 33.0 / 140.0 * worked.mass
    approximate = math.sqrt(stiffness / mass) / (2.0 * math.pi)
    rigid = examine(replace(task, root=replace(task.root, stiffness=None))).natural_frequency.rayleigh
    return {"stiffness": stiffness, "approximate": approximate, "ratio_to_rigid": approximate / rigid}


def roots(inputs: Inputs) -> Outcome:
    """Every root of the frequency equation up to 18, each halved to its last digit."""
    beam = vibration.Beam(1.0, 1.0, 1.0, inputs["ratio"])
    found, step = [], 0.05
    for at in range(1, 360):
        low, high = step * at, step * (at + 1)
        before = vibration.frequency_equation(low, beam)
        if before * vibration.frequency_equation(high, beam) < 0.0:
            for _ in range(60):
                middle = (low + high) / 2.0
                same = vibration.frequency_equation(middle, beam) * before > 0.0
                low, high = (middle, high) if same else (low, middle)
            found.append(low)
    return {"squares": [root**2 for root in found[:5]], "roots": found[:6]}


def guide(inputs: Inputs) -> Outcome:
    """The arm's frequency beside those of the surface."""
    found = examined(inputs).frequency_guide
    assert found is not None
    return {"guide": found.guide_frequency, "ratio": found.ratio}


def effectiveness(inputs: Inputs) -> Outcome:
    """Apparent over real mass."""
    found = [vibration.apparent_mass(ratio, inputs["damping_ratio"]) for ratio in inputs["ratios"]]
    return {
        "real": [one.real for one in found],
        "imaginary": [one.imag for one in found],
        "magnitude": [abs(one) for one in found],
        "phase": [math.degrees(cmath.phase(one)) for one in found],
    }


def crack(inputs: Inputs) -> Outcome:
    """Critical size, cycles, and K at the start."""
    task = read_arm(inputs["file"].encode())
    found, assumed = examine(task).crack, task.crack
    assert found is not None
    assert assumed is not None
    factor = assumed.geometry_factor or 1.0
    return {
        "critical": MM * found.critical_size,
        "cycles": found.cycles,
        "intensity": MPA * constant_intensity(factor, assumed.stress_range, found.initial_size),
    }


def growth_units(inputs: Inputs) -> Outcome:
    """Constants for metres and MPa √m."""
    return {"constants": [growth.growth_constant_in_metres(*one) for one in inputs["constants"]]}


def through_crack(inputs: Inputs) -> Outcome:
    """Factor and K of a crack through the wall."""
    ring = (inputs["mean_radius"], inputs["wall"])
    angles = [math.radians(angle) for angle in inputs["half_angles"]]
    return {
        "factor": [through_crack_factor(*ring, angle) for angle in angles],
        "intensity": [MPA * through_crack_intensity(inputs["stress"], *ring, angle) for angle in angles],
    }


def collapse(inputs: Inputs) -> Outcome:
    """What is left of the ring's plastic moment."""
    return {"ratio": [collapse_moment_ratio(math.radians(angle)) for angle in inputs["half_angles"]]}


def critical_angle(inputs: Inputs) -> Outcome:
    """Half angles of fracture and collapse."""
    task = read_arm(inputs["file"].encode())
    found = examine(task).crack
    assert found is not None
    assert found.fracture_size is not None
    assert task.tube is not None
    radius = (task.tube.outside_diameter - task.tube.wall) / 2.0
    return {
        "fracture": math.degrees(found.fracture_size / radius),
        "length": MM * 2.0 * found.critical_size,
        "collapse": math.degrees(found.collapse_size / radius),
        "governing": found.governed_by,
    }


def crack_without_factor(inputs: Inputs) -> Outcome:
    """The life with the factor left out."""
    end = inputs["mean_radius"] * math.radians(inputs["end_angle"])
    cycles = growth.closed_form_cycles(
        inputs["start"], end, constant=6.9e-12, exponent=3.0, factor=1.0, stress_range=60e6
    )
    with_it = examined(inputs).crack
    assert with_it is not None
    return {"cycles": cycles, "ratio": with_it.cycles / cycles}


def surface_crack(inputs: Inputs) -> Outcome:
    """K over S √(π a), in tension and in bending."""
    found = [
        surface_crack_factors(depth, half, thickness, math.radians(place))
        for depth, half, thickness, place in inputs["rows"]
    ]
    shape = [math.sqrt(1.0 + 1.464 * (depth / half) ** 1.65) for depth, half, _, _ in inputs["rows"]]
    return {
        "tension": [tension for tension, _ in found],
        "bending": [bending for _, bending in found],
        "tension_factor": [tension * root for (tension, _), root in zip(found, shape, strict=True)],
        "bending_factor": [bending * root for (_, bending), root in zip(found, shape, strict=True)],
    }


def interval(inputs: Inputs) -> Outcome:
    """The computed interval, and the one that is shown, in hours."""
    task = read_arm(inputs["file"].encode())
    found = examine(task).crack
    assert found is not None
    assert found.interval_shown is not None
    assert task.crack is not None
    computed = found.cycles / (task.crack.factor * task.crack.cycles_per_hour)
    said = any(inputs["says"] in caution for caution in examine(task).cautions)
    return {
        "life": found.cycles / task.crack.cycles_per_hour,
        "computed": computed,
        "shown": found.interval_shown / 3600.0,
        "shorter": found.shorter_than_approved,
        "said": said,
    }


def detected(inputs: Inputs) -> Outcome:
    """Chances to find, and the size found nine times in ten."""
    curve = (inputs["half_found"], inputs["spread"])
    return {
        "chances": [detection.chance_to_find(size, *curve) for size in inputs["sizes"]],
        "nine_in_ten": MM * detection.size_found(0.9, *curve),
    }


def fitted_detection(inputs: Inputs) -> Outcome:
    """Sizes off a fitted curve, in its unit."""
    fit = (inputs["intercept"], inputs["slope"])
    quantile = normal_quantile(inputs["confidence"])
    none = (0.0, 0.0, 0.0)
    return {
        "half": detection.size_found_at_confidence(0.5, *fit, none, quantile),
        "nine_in_ten": detection.size_found_at_confidence(0.9, *fit, none, quantile),
        "at_95": detection.size_found_at_confidence(0.9, *fit, tuple(inputs["covariance"]), quantile),
    }


def visits(inputs: Inputs) -> Outcome:
    """Chance that one of several visits finds it."""
    curve = (inputs["half_found"], inputs["spread"])
    found = detection.chance_in_visits(detection.chance_to_find(size, *curve) for size in inputs["sizes"])
    return {"found": found, "missed": 1.0 - found}


def life(inputs: Inputs) -> Outcome:
    """Stress life of one load."""
    found = examined(inputs).stress_life
    assert found is not None
    (load,) = found.loads
    return {"amplitude": MPA * load.amplitude_without_mean, "cycles": load.cycles}


def used_up(inputs: Inputs) -> Outcome:
    """Blocks of three loads, and what each has of the harm."""
    pairs = list(zip(inputs["done"], inputs["lives"], strict=True))
    whole = stress_life.used_up(pairs)
    return {"blocks": 1.0 / whole, "percent": [100.0 * done / lasts / whole for done, lasts in pairs]}


def scatter(inputs: Inputs) -> Outcome:
    """Quantiles of the life, in millions of cycles."""
    found = examined(inputs, samples=inputs["samples"]).crack
    assert found is not None
    assert found.distribution is not None
    _, low, middle, high, _ = (quantile.cycles / 1e6 for quantile in found.distribution.quantiles)
    return {"low": low, "middle": middle, "high": high, "low_over_middle": low / middle}


def gauge(inputs: Inputs) -> Outcome:
    """The wall with its uncertainty, and the chance that it is above the limit."""
    found = wall.wall_thickness(inputs["readings"], inputs["step"], tuple(inputs["calibration"]), inputs["curvature"])
    assert found.standard_uncertainty is not None
    rectangles = (inputs["step"] / 2.0, inputs["curvature"])
    normal = math.sqrt(found.standard_uncertainty**2 - sum(width**2 / 3.0 for width in rectangles))
    limit = inputs["limit"]
    return {
        "mean": MM * found.value,
        "scatter": MM * statistics.stdev(inputs["readings"]),
        "expanded": MM * 2.0 * found.standard_uncertainty,
        "statement": "inside" if found.value >= limit else "outside",
        "standard_uncertainty": MM * found.standard_uncertainty,
        "probability_normal": probability_within(found.value, found.standard_uncertainty, limit, None),
        "probability_shapes": wall.chance_above(limit, found.value, normal, rectangles),
    }


def blend(inputs: Inputs) -> Outcome:
    """Length of a blended depression."""
    return {"length": MM * wall.blend_length(inputs["depth"]), "part_of_wall": inputs["depth"] / inputs["wall"]}


def protection(inputs: Inputs) -> Outcome:
    """Mass and moment of a coat, and of metal ground off; both act at half the arm."""
    size, arm = inputs["outside_diameter"], inputs["arm"]
    coat = 1e3 * wall.film_mass(size, arm, inputs["film"], inputs["coat_density"])
    metal = 1e3 * wall.ground_mass(size, arm, inputs["depth"], inputs["density"])
    half = 100.0 * arm / 2.0
    return {"coat": coat, "coat_moment": coat * half, "metal": metal, "metal_moment": metal * half}


def travel(inputs: Inputs) -> Outcome:
    """The angle of a distance at the trailing edge, both ways, and as an arc."""
    distance, edge = inputs["distance"], inputs["hinge_to_edge"]
    straight = travel_angle(distance, edge)
    return {
        "angle": math.degrees(straight),
        "square": math.degrees(travel_angle(distance, edge, "square")),
        "as_an_arc": math.degrees(distance / edge),
        "half": math.degrees(straight) / 2.0,
        "within": distance <= inputs.get("limit", distance),
    }


def plays(inputs: Inputs) -> Outcome:
    """The angles of free plays that are stated in per cent of the chord."""
    return {"angles": [math.degrees(travel_angle(each, 100.0)) for each in inputs["percent_of_chord"]]}


def clearance(inputs: Inputs) -> Outcome:
    """How far the weight goes, and what the design load leaves of its gap."""
    beam = work_out(read_arm(inputs["file"].encode())).beam
    stiffness = vibration.tip_stiffness(beam.stiffness, beam.length)
    left = gap_under_load(inputs["gap"], beam.weight, inputs["load_factor"] * STANDARD_GRAVITY, stiffness)
    return {
        "tip_travel": MM * swept_by(beam.length, math.radians(inputs["travel"])),
        "deflection": MM * (inputs["gap"] - left),
        "touches": left <= 0.0,
    }


def words(inputs: Inputs) -> Outcome:
    """Depths in words, and as parts of the wall."""
    depths = inputs["depths"]
    return {
        "words": [wall.depth_word(depth) for depth in depths],
        "parts": [depth / inputs["wall"] for depth in depths],
    }


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "section": section,
    "thinned": thinned,
    "hole ratio": hole_ratio,
    "hole in a thin wall": hole_in_a_thin_wall,
    "against": against,
    "stress": stress,
    "loss at zero margin": loss_at_zero_margin,
    "side and fore and aft": side_and_fore_and_aft,
    "pull": pull,
    "oscillation": oscillation,
    "bolts": bolts,
    "frequency": frequency,
    "soft root": soft_root,
    "roots": roots,
    "guide": guide,
    "effectiveness": effectiveness,
    "crack": crack,
    "growth units": growth_units,
    "through crack": through_crack,
    "collapse": collapse,
    "critical angle": critical_angle,
    "crack without factor": crack_without_factor,
    "surface crack": surface_crack,
    "interval": interval,
    "detection": detected,
    "fitted detection": fitted_detection,
    "visits": visits,
    "stress life": life,
    "used up": used_up,
    "scatter": scatter,
    "gauge": gauge,
    "blend": blend,
    "protection": protection,
    "travel": travel,
    "plays": plays,
    "clearance": clearance,
    "words": words,
}
