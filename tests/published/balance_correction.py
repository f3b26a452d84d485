"""Computes the cases of balance_correction.toml, each through the reader of its file and the library's door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline.balance.ballast import BallastResult, inertia_loads, plan_ballast
from hingeline.units import express
from hingeline_app.files.ballast_file import read_ballast

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]


def planned(inputs: Inputs) -> BallastResult:
    """Plan the correction of a case."""
    return plan_ballast(read_ballast(inputs["file"].encode()).task)


def weight_to_add(inputs: Inputs) -> Outcome:
    """Give the correction and the weight that makes it, in the units of the case."""
    result = planned(inputs)
    (change,) = result.changes
    shift = result.moment_after.value - result.moment_before.value
    return {
        "total_correction": abs(express(shift, inputs["moment_unit"], dimension="moment")),
        "weight": express(change.mass, inputs["mass_unit"], dimension="mass"),
    }


def weight_for_mass_aft(inputs: Inputs) -> Outcome:
    """Give the weight that carries a mass added aft, the ratio of both, and how much the surface grows."""
    (change,) = planned(inputs).changes
    weight, added = change.mass * 1000.0, inputs["added_g"]
    return {"weight_g": weight, "ratio": weight / added, "total_mass_growth_g": weight + added}


def weight_window(inputs: Inputs) -> Outcome:
    """Say whether a weight may grow to what was asked: whether the plan that needs it is allowed."""
    result = planned(inputs)
    window = {place.name: (place.smallest_mass, place.largest_mass) for place in result.places}
    total = express(inputs["total_kg"], "lb", dimension="mass")
    lower, upper = window["rudder top weight"]
    within = lower <= inputs["total_kg"] <= upper  # type: ignore[operator]
    heaviest = max(change.mass_after for change in result.changes)
    return {
        "total_lb": total,
        "within": within,
        "feasible": result.feasible,
        "heaviest_lb": express(heaviest, "lb", dimension="mass"),
    }


def loads(inputs: Inputs) -> Outcome:
    """Give the inertia loads on a weight."""
    return inertia_loads(inputs["weight_kg"])._asdict()


def dynamic(inputs: Inputs) -> Outcome:
    """Give what one weight does to moment, inertia, product and K/I."""
    result = planned(inputs)
    return {
        "S_kgm": result.moment_after.value / result.local_gravity,
        "I_kgm2": result.inertia_after,
        "K_kgm2": result.product_after,
        "K_over_I": result.coefficient_after,
        "K_over_I_before": result.coefficient_before,
        "weight_kg": result.changes[0].mass,
    }


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "weight to add": weight_to_add,
    "weight for mass aft": weight_for_mass_aft,
    "weight window": weight_window,
    "loads": loads,
    "dynamic": dynamic,
}
