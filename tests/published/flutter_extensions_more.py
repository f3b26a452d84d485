"""Computes the cases of flutter_extensions_more.toml."""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping
from dataclasses import replace
from typing import Any

import numpy as np

from hingeline.flutter.build import build_system
from hingeline.flutter.cycle_fit import Motion, motion_of
from hingeline.flutter.describing import cycle_speeds, cycles_at
from hingeline.flutter.free_play import lowest_cycle
from hingeline.flutter.harmonic_balance import balance_harmonics
from hingeline.flutter.marching import march
from hingeline.flutter.model import Air, FlutterTask, Section, Tailplane
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.slack import Slack
from hingeline.flutter.static_effects import (
    ControlAir,
    Manoeuvre,
    PointMass,
    mass_hinge_moment,
    stick_force,
    stick_force_per_g,
    surface_mass,
    weight_gone,
)
from hingeline.flutter.wake import two_lag
from tests.one_run import computed_once

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]
RUNS = {
    "tailplane": (4.0, 8.0, 12.0, 16.0, 20.0, 25.0, 30.0, 35.0, 40.0, 45.0, 50.0, 54.0),
    "section": (6.0, 10.0, 14.0, 18.0, 22.0, 26.0, 30.0, 34.0),
}
STARTS = (1.5, 6.0)


def static(inputs: Inputs) -> Outcome:
    """Give the hinge moment of a surface's mass, and what is felt when a weight is lost."""
    pieces = [PointMass(**one) for one in inputs["points"]]
    surface = surface_mass(pieces)
    manoeuvre = Manoeuvre(
        inputs["load_factor"], inputs["forward_specific_force"], inputs["pitch_acceleration"], inputs["deflection"]
    )
    moment = mass_hinge_moment(surface, manoeuvre, inputs["hinge_aft_of_cg"])
    found = {
        "static_moment": surface.static_moment,
        "inertia": surface.inertia,
        "mass_hinge_moment": moment,
        "stick_force": stick_force(moment, inputs["gearing"]),
        "stick_force_per_g": stick_force_per_g(surface, inputs["deflection"], inputs["gearing"]),
    }
    if "lost" in inputs:
        kept = surface_mass(one for index, one in enumerate(pieces) if index != inputs["lost"])
        air = ControlAir(
            inputs["density"], inputs["speed"], inputs["area"], inputs["chord"],
            inputs["hinge_moment_per_tab"], inputs["hinge_moment_per_deflection"],
        )  # fmt: skip
        gone = weight_gone(surface, kept, manoeuvre, inputs["gearing"], air, inputs["hinge_aft_of_cg"])
        found["moment_change_when_lost"] = gone.hinge_moment
        found["stick_force_change"] = gone.stick_force
        found["tab_angle_to_trim_out"] = gone.tab_angle
        found["floating_angle_change"] = gone.floating_angle
    return found


def slack_in(inputs: Inputs) -> Slack:
    """Give the model of a case, with the damping matrix that it states."""
    task = FlutterTask(Air(density=1.225), (1.0, 100.0))
    if "tailplane" in inputs:
        task = replace(task, tailplane=Tailplane(**inputs["tailplane"]))
        stiffness = inputs["tailplane"]["circuit_stiffness"]
    else:
        task = replace(task, section=Section(("plunge", "pitch", "surface"), **inputs["section"]))
        stiffness = inputs["section"]["surface_stiffness"]
    damping = np.array(inputs["viscous_damping_matrix"])
    return Slack(replace(build_system(task), damping=damping), np.eye(len(damping))[-1], stiffness, inputs["half_gap"])


def curve(inputs: Inputs) -> Outcome:
    """Give the speeds of one harmonic by amplitude."""
    slack, speeds = slack_in(inputs), (inputs["speeds"][0], inputs["speeds"][1])
    points = [point for amplitude in inputs["amplitudes"] for point in cycle_speeds(slack, amplitude, speeds)]
    lowest = lowest_cycle(slack, speeds)
    return {
        "linear_speed": find_neutral_points(slack.system, speeds, two_lag)[0].speed,
        "curve_speeds": [point.speed for point in points],
        "curve_frequencies": [point.angular_frequency / (2 * math.pi) for point in points],
        "curve_directions": [point.direction for point in points],
        "lowest_speed": None if lowest is None else lowest.speed,
        "lowest_amplitude": None if lowest is None else lowest.amplitude,
    }


_MARCHED: dict[str, dict[tuple[float, float], Motion]] = {}


def marched(inputs: Inputs) -> Motion:
    """Give one run, all runs of its model marched together once."""
    name = "tailplane" if "tailplane" in inputs else "section"
    if name not in _MARCHED:
        runs = [(speed, start) for speed in RUNS[name] for start in STARTS]
        found = march(slack_in(inputs), runs)
        _MARCHED[name] = {(run.speed, run.start): motion_of(run) for run in found}
    return _MARCHED[name][inputs["speed"], inputs["start"]]


def marched_run(inputs: Inputs) -> Outcome:
    """Give one run's outcome, and the same cycle by one and by many harmonics."""
    motion, slack = marched(inputs), slack_in(inputs)
    found: Outcome = {"outcome": motion.outcome, "peak": motion.peak}
    if motion.outcome != "cycle":
        return found
    largest = max(cycles_at(slack, inputs["speed"]), key=lambda one: one.amplitude)
    many = balance_harmonics(slack, inputs["speed"], motion.angular_frequency, motion.coefficients[::2])
    assert many is not None
    return found | {
        "fundamental": abs(motion.coefficients[0]),
        "frequency": motion.angular_frequency / (2 * math.pi),
        "one_harmonic": largest.amplitude,
        "one_harmonic_frequency": largest.angular_frequency / (2 * math.pi),
        "amplitude_difference": largest.amplitude / abs(motion.coefficients[0]) - 1,
        "frequency_difference": largest.angular_frequency / motion.angular_frequency - 1,
        "many_harmonics": many.fundamental,
        "many_harmonics_frequency": many.angular_frequency / (2 * math.pi),
        "many_harmonics_peak": many.peak,
    }


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {"static": static, "curve": curve, "march": marched_run}

compute = computed_once(COMPUTE)
