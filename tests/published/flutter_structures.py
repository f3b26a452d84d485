"""Computes the cases of flutter_structures.toml; each case's inputs are a flutter file, read as a user's is."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

import numpy as np
from scipy.optimize import brentq

from hingeline.flutter.build import build_system
from hingeline.flutter.model import Aileron, FlutterResult, FlutterTask, Tailplane, TailplaneWeight
from hingeline.flutter.roots import find_roots
from hingeline.flutter.solve import analyse
from hingeline.flutter.tailplane import static_moment
from hingeline.flutter.wake import theodorsen
from hingeline_app.files.flutter_file import task_of
from tests.one_run import computed_once

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]


def onset(inputs: Inputs) -> Outcome:
    """Analyse one model, and add up what its balance weights leave."""
    task = task_of(inputs["file"])
    result = analyse(task)
    return {
        "growing_at_lowest_speed": result.growing_at_lowest_speed,
        "none_found": result.flutter is None,
        "speed": speed_of(result),
        "speed_by_beam_elements": speed_of(result),
        "frequency": frequency_of(result),
        "natural_frequencies": list(result.natural_frequencies[: inputs.get("frequencies", 0)]),
        "growing_root_over_speed": growing_root(task) if result.growing_at_lowest_speed else [],
        **net_moments(task),
    }


def speed_of(result: FlutterResult) -> float:
    """Give the onset speed; 0 where none was found."""
    return 0.0 if result.flutter is None else result.flutter.speed


def frequency_of(result: FlutterResult) -> float:
    """Give the frequency at the onset; 0 where none was found."""
    return 0.0 if result.flutter is None else result.flutter.frequency


def growing_root(task: FlutterTask) -> list[float]:
    """Give the root that grows fastest at the lowest speed, over that speed."""
    roots = find_roots(build_system(task), task.speeds[0], theodorsen)
    fastest = max((root.p for root in roots), key=lambda p: p.real)
    return [fastest.real / task.speeds[0], fastest.imag / task.speeds[0]]


def net_moments(task: FlutterTask) -> Outcome:
    """Give static moment and product of inertia of the control with its weights."""
    if task.wing is not None and task.wing.aileron is not None:
        return net_of_aileron(task.wing.aileron)
    if task.modes is None:
        return {}
    own = sum(strip.width * strip.surface_static_moment for strip in task.modes.strips)
    return {"net_static_moment": own - sum(weight.mass * weight.arm for weight in task.modes.weights)}


def net_of_aileron(aileron: Aileron) -> Outcome:
    """Add the weights, which are not in the aileron's own totals."""
    moment = aileron.static_moment - sum(one.mass * one.arm for one in aileron.weights)
    product = (aileron.product_of_inertia or 0.0) - sum(one.mass * one.arm * one.spanwise for one in aileron.weights)
    return {"net_static_moment": moment, "net_product_of_inertia": product}


def arm(inputs: Inputs) -> Outcome:
    """Analyse a tailplane without its weight, with it on a rigid arm, and on arms of rising frequency."""
    task = task_of(inputs["file"])
    tailplane = task.tailplane
    assert tailplane is not None
    (weight,) = tailplane.weights
    results = [with_weights(task, (replace(weight, arm_frequency=hertz),)) for hertz in inputs["arm_frequencies"]]
    without, rigid = with_weights(task, ()), with_weights(task, (weight,))
    arms = [replace(task, tailplane=replace(tailplane, weights=(replace(weight, arm_frequency=hertz),)))
            for hertz in inputs["arm_frequencies"]]  # fmt: skip
    return {
        "without_weight": speed_of(without),
        "without_weight_frequency": frequency_of(without),
        "rigid_arm": speed_of(rigid),
        "rigid_arm_frequency": frequency_of(rigid),
        "arm_stiffnesses": [float(build_system(one).stiffness[-1, -1]) for one in arms],
        "speeds": [speed_of(result) for result in results],
        "frequencies": [frequency_of(result) for result in results],
    }


def with_weights(task: FlutterTask, weights: Sequence[TailplaneWeight]) -> FlutterResult:
    """Analyse the same tailplane with other weights."""
    return analyse(replace(task, tailplane=replace(tailplane_of(task), weights=tuple(weights))))


def tailplane_of(task: FlutterTask) -> Tailplane:
    """Give the tailplane of a task that has one."""
    assert task.tailplane is not None
    return task.tailplane


def rig(inputs: Inputs) -> Outcome:
    """Give damping at one speed, and onset, of the bench section with rising mass on its arm."""
    task, speed = task_of(inputs["file"]), inputs["at"]
    tasks = [with_added(task, mass, inputs["arm"]) for mass in inputs["added"]]
    least = [least_damped(one, speed) for one in tasks]
    results = [analyse(one) for one in tasks]
    stops = mass_at_which_growth_stops(task, inputs, [p.real for p in least])
    bare = static_moment(tailplane_of(task))
    return {
        "static_moments": [bare - mass * inputs["arm"] for mass in inputs["added"]],
        "damping_ratios": [-p.real / abs(p) for p in least],
        "frequencies": [p.imag / (2 * np.pi) for p in least],
        "growth_rates": [p.real for p in least],
        "onsets": [speed_of(result) for result in results],
        "onset_frequencies": [frequency_of(result) for result in results],
        "mass_at_which_growth_stops": stops,
        "static_moment_there": bare - stops * inputs["arm"],
        "frequency_there": least_damped(with_added(task, stops, inputs["arm"]), speed).imag / (2 * np.pi),
        "diverges": any(result.divergence is not None for result in results),
    }


def mass_at_which_growth_stops(task: FlutterTask, inputs: Inputs, growth: Sequence[float]) -> float:
    """Give the added mass from which on nothing grows at the speed, by halving the last interval."""
    last = max(index for index, rate in enumerate(growth) if rate > 0)
    found: float = brentq(
        lambda mass: least_damped(with_added(task, mass, inputs["arm"]), inputs["at"]).real,
        inputs["added"][last],
        inputs["added"][last + 1],
        xtol=1e-14,
    )
    return found


def with_added(task: FlutterTask, mass: float, lever: float) -> FlutterTask:
    """Give the same section with a mass on its arm."""
    return replace(task, tailplane=replace(tailplane_of(task), weights=weights_of(mass, lever)))


def weights_of(mass: float, lever: float) -> tuple[TailplaneWeight, ...]:
    """Give the added mass; none for nothing added."""
    return (TailplaneWeight(mass, lever),) if mass else ()


def least_damped(task: FlutterTask, speed: float) -> complex:
    """Give the root of the largest real part at a speed: it is the one that decides."""
    roots = find_roots(build_system(task), speed, theodorsen)
    return max((root.p for root in roots), key=lambda p: p.real)


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {"onset": onset, "arm": arm, "rig": rig}

compute = computed_once(COMPUTE)
