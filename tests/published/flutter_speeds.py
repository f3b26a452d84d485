"""Computes the cases of flutter_speeds.toml, one function a kind, through the door of the library."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from math import pi
from typing import Any

from hingeline.flutter.build import build_system, modes_in_vacuo
from hingeline.flutter.model import Air, FlutterResult, FlutterTask, Section, Tailplane, TailplaneWeight, Wing
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.roots import assumed_root, find_roots
from hingeline.flutter.solve import analyse
from hingeline.flutter.wake import theodorsen
from tests.one_run import computed_once

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

SLUG, FOOT, POUND_FORCE = 14.593902937206364, 0.3048, 4.4482216152605
PLUNGE_AND_PITCH = ("plunge", "pitch")
THREE = ("plunge", "pitch", "surface")

# Conner, Tang, Dowell & Virgin, J. Fluids Struct. 11 (1997) 89-109, for one metre of span; from memory.
THREE_FREEDOM_RIG = Section(
    THREE, 0.127, -0.5, 1.558, hinge_line=0.5, plunging_mass=3.3843, pitch_static_moment=0.08587,
    surface_static_moment=0.00395, pitch_inertia=0.01347, surface_inertia=0.0003264, plunge_stiffness=2818.8,
    pitch_stiffness=37.3, surface_stiffness=3.9,
)  # fmt: skip


def with_numbers_over_pitch(inputs: Inputs) -> FlutterTask:
    """Make a section from the numbers of text books: mass over π ρ b², lengths in b, frequencies in ωα = 10 rad/s."""
    density, pitch = 1.225, 10.0
    mass = inputs["mass_ratio"] * pi * density
    inertia, control = mass * inputs["radius_squared"], mass * inputs.get("surface_radius_squared", 0.0)
    section = Section(
        THREE if control else PLUNGE_AND_PITCH, 1.0, inputs["axis"], mass,
        hinge_line=inputs.get("hinge_line", 0.5),
        pitch_static_moment=mass * inputs["offset"], pitch_inertia=inertia,
        surface_static_moment=mass * inputs.get("surface_offset", 0.0), surface_inertia=control,
        plunge_stiffness=mass * (pitch * inputs["plunge_over_pitch"]) ** 2, pitch_stiffness=inertia * pitch**2,
        surface_stiffness=control * (pitch * inputs.get("surface_over_pitch", 0.0)) ** 2,
    )  # fmt: skip
    return FlutterTask(
        Air(density=density), (1.0, 60.0), section=section, wake=inputs.get("wake", "theodorsen"),
        structural_damping=(inputs.get("structural_damping", 0.0),),
    )  # fmt: skip


def over_pitch(inputs: Inputs) -> Outcome:
    """Flutter speed over b ωα, frequency over ωα, divergence speed over b ωα."""
    result = analyse(with_numbers_over_pitch(inputs))
    assert result.flutter is not None
    found = {"speed": result.flutter.speed / 10.0, "frequency": result.flutter.frequency * 2 * pi / 10.0}
    return found if result.divergence is None else {**found, "divergence": result.divergence.speed / 10.0}


def rule_of_thumb(inputs: Inputs) -> Outcome:
    """By how much the rule √(μ r²/(1 + 2(a + x))) differs from the exact speed [%]."""
    where = inputs["axis"] + inputs["offset"]
    rule = (inputs["mass_ratio"] * inputs["radius_squared"] / (1 + 2 * where)) ** 0.5
    exact = over_pitch(inputs)["speed"]
    return {"speed": exact, "rule": rule, "rule_is_off_percent": 100.0 * (exact / rule - 1)}


def roots_over_pitch(inputs: Inputs) -> Outcome:
    """Roots over ωα at one speed, by the p-method and the p-k method, by frequency: real and imaginary part."""
    system, speed = build_system(with_numbers_over_pitch(inputs)), 10.0 * inputs["speed"]
    exact = [root.p for root in find_roots(system, speed, theodorsen)]
    assumed = [assumed_root(system, root, speed, theodorsen) for root in exact]
    parts = {}
    for name, roots in (("p", exact), ("pk", assumed)):
        for mode, root in enumerate(roots, 1):
            assert root is not None
            parts |= {f"{name}_{mode}_real": root.real / 10.0, f"{name}_{mode}_imaginary": root.imag / 10.0}
    return parts


def bridge_deck(inputs: Inputs) -> Outcome:
    """A flat plate without offsets, and Selberg's empirical formula beside it."""
    width, mass, inertia = inputs["width"], inputs["mass"], inputs["inertia"]
    bending, turning = inputs["vertical_frequency"], inputs["torsional_frequency"]
    section = Section(
        PLUNGE_AND_PITCH, width / 2, 0.0, mass, pitch_inertia=inertia,
        plunge_stiffness=mass * (2 * pi * bending) ** 2, pitch_stiffness=inertia * (2 * pi * turning) ** 2,
    )  # fmt: skip
    flutter = analyse(FlutterTask(Air(density=inputs["density"]), (1.0, 200.0), section=section)).flutter
    assert flutter is not None
    square = (mass * inertia) ** 0.5 / (inputs["density"] * width**3) * (1 - (bending / turning) ** 2)
    formula = 3.72 * width * turning * square**0.5
    off = 100.0 * (flutter.speed / formula - 1)
    return {"speed": flutter.speed, "formula": formula, "formula_is_off_percent": off}


def rig(inputs: Inputs) -> FlutterTask:
    """The rig with three freedoms; its control spring may be removed."""
    section = replace(THREE_FREEDOM_RIG, surface_stiffness=3.9 * inputs.get("part_of_surface_spring", 1.0))
    return FlutterTask(
        Air(density=1.225), (0.5, 40.0), section=section, damping_ratios=tuple(inputs.get("damping_ratios", ()))
    )


def rig_onset(inputs: Inputs) -> Outcome:
    """Onset of the rig: speed, frequency, and how far a measurement is off [%]."""
    flutter = analyse(rig(inputs)).flutter
    assert flutter is not None
    found = {"speed": flutter.speed, "frequency": flutter.frequency}
    if "measured" not in inputs:
        return found
    return {**found, "theory_above_measurement_percent": 100.0 * (flutter.speed / inputs["measured"] - 1)}


def rig_frequencies(inputs: Inputs) -> Outcome:
    """Coupled frequencies in vacuo, and by how much printed ones differ [%]."""
    found = dict(zip(("plunge", "pitch", "surface"), modes_in_vacuo(rig(inputs)).frequencies.tolist(), strict=True))
    off = {f"{name}_off_percent": 100.0 * (found[name] / value - 1) for name, value in inputs["printed"].items()}
    return {**found, **off}


def rig_without_spring(inputs: Inputs) -> Outcome:
    """Onset with the control spring removed, as a part of that with it; and all crossings."""
    free = analyse(rig({"part_of_surface_spring": 0.0}))
    with_spring = rig_onset({})["speed"]
    assert free.flutter is not None
    return {
        "part": free.flutter.speed / with_spring,
        "speed": free.flutter.speed,
        "crossings": [point.speed for point in free.crossings],
        "directions": [point.direction for point in free.crossings],
    }


def rig_softened(inputs: Inputs) -> Outcome:
    """Lowest onset with a part of the control spring, the viscous damping of the whole spring kept."""
    part = inputs["part_of_surface_spring"]
    system = build_system(rig({"damping_ratios": inputs["damping_ratios"]}))
    stiffness = system.stiffness.copy()
    stiffness[2, 2] *= part
    points = find_neutral_points(replace(system, stiffness=stiffness), (0.5, 40.0), theodorsen)
    return {"speed": next(point.speed for point in points if point.direction == "into")}


def cantilever_wing() -> FlutterTask:
    """Goland's uniform wing, in slugs, feet and pounds; six shapes of each kind."""
    wing = Wing(
        20 * FOOT, 3 * FOOT, -0.34, 0.746 * SLUG / FOOT, 0.2, 1.943 * SLUG * FOOT,
        23.6e6 * POUND_FORCE * FOOT**2, 2.39e6 * POUND_FORCE * FOOT**2, 6, 6,
    )  # fmt: skip
    return FlutterTask(Air(density=0.0023769 * SLUG / FOOT**3), (10.0, 300.0), wing=wing)


def wing(inputs: Inputs) -> Outcome:
    """Speed, angular frequency, natural frequencies and divergence of the wing; how far the print is off [%]."""
    result = analyse(cantilever_wing())
    assert result.flutter is not None
    assert result.divergence is not None
    angular = 2 * pi * result.flutter.frequency
    found = {
        "speed": result.flutter.speed,
        "angular_frequency": angular,
        "first_frequency": result.natural_frequencies[0],
        "second_frequency": result.natural_frequencies[1],
        "divergence": result.divergence.speed,
    }
    printed = inputs.get("printed", {})
    return {**found, **{f"{name}_off_percent": 100.0 * (found[name] / value - 1) for name, value in printed.items()}}


def tail(inputs: Inputs) -> Outcome:
    """Onset of the all-moving tailplane; no words for none."""
    flutter = tail_result(inputs).flutter
    return {"none": "none found"} if flutter is None else {"speed": flutter.speed}


def tail_result(inputs: Inputs) -> FlutterResult:
    """The invented all-moving tailplane: 3 m by 0.76 m, 11 kg, radius of gyration 26 % of the chord."""
    place, circuit = inputs.get("centre_of_gravity", 0.42), inputs.get("circuit_frequency", 12.0)
    own = 11.0 * (0.26 * 0.76) ** 2
    inertia, tuned = (own + 11.0 * (0.76 * (at - 0.25)) ** 2 for at in (place, 0.42))
    weight = inputs.get("weight", 0.0)
    tailplane = Tailplane(
        3.0, 0.76, 0.25, place, 11.0, inertia, 25.0, 8.0, circuit_stiffness=tuned * (2 * pi * circuit) ** 2,
        weights=(TailplaneWeight(weight, 0.35),) if weight else (),
    )  # fmt: skip
    return analyse(FlutterTask(Air(density=1.225), (1.0, 400.0), tailplane=tailplane))


def elevator(inputs: Inputs) -> Outcome:
    """Onset of the invented tail strip with an elevator: 9 kg/m, 2.2 kg/m of it elevator, g = 0.03."""
    offset, semichord = inputs["offset"], 0.38
    inertia = 2.2 * semichord**2 * (0.18**2 + offset**2)
    section = Section(
        ("plunge", "surface"), semichord, -0.5, 9.0, hinge_line=0.4, surface_static_moment=2.2 * semichord * offset,
        surface_inertia=inertia, plunge_stiffness=9.0 * (2 * pi * 8.0) ** 2,
        surface_stiffness=inertia * (2 * pi * inputs["circuit_frequency"]) ** 2,
    )  # fmt: skip
    task = FlutterTask(Air(density=1.225), (1.0, 150.0), section=section, structural_damping=(0.03,))
    flutter = analyse(task).flutter
    return {"none": "none found"} if flutter is None else {"speed": flutter.speed}


def sensitivity(inputs: Inputs) -> Outcome:
    """dU/dfield of the onset by the field's short name, with its elasticity and what the frequency [rad/s] does."""
    section = Section(THREE, **inputs["section"])
    task = FlutterTask(
        Air(density=1.225), tuple(inputs["speeds"]), section=section, structural_damping=(inputs["structural_damping"],)
    )
    result = analyse(task, with_sensitivities=True)
    assert result.flutter is not None
    assert result.sensitivities is not None
    found = {}
    for one in result.sensitivities:
        name = one.field.rpartition(".")[2]
        found[name], found[f"elasticity_of_{name}"] = one.derivative, one.elasticity
        found[f"frequency_by_{name}"] = 2 * pi * (one.frequency_derivative or 0.0)
    return {"speed": result.flutter.speed, "frequency": result.flutter.frequency, **found}


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "section over pitch": over_pitch,
    "rule of thumb": rule_of_thumb,
    "roots over pitch": roots_over_pitch,
    "bridge deck": bridge_deck,
    "rig onset": rig_onset,
    "rig frequencies": rig_frequencies,
    "rig without spring": rig_without_spring,
    "rig softened": rig_softened,
    "wing": wing,
    "tail": tail,
    "elevator": elevator,
    "sensitivity": sensitivity,
}

compute = computed_once(COMPUTE)
