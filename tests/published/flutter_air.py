"""Computes the cases of flutter_air.toml, one function a kind, by the library's public names."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

import numpy as np

from hingeline.flutter.pressure_series import strip_forces_by_series
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.tab_air import strip_forces_with_tab
from hingeline.flutter.wake import theodorsen

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

NAMES = {
    "Ma": "apparent_mass",
    "Bn": "air_damping",
    "Bc": "delayed_damping",
    "Kn": "air_stiffness",
    "Kc": "delayed_stiffness",
}


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def wake(inputs: Inputs) -> Outcome:
    """C = F + i G at one reduced frequency."""
    value = theodorsen(1j * inputs["k"])
    return {"F": float(value.real), "minus_G": float(-value.imag)}


def wake_against_a_table(inputs: Inputs) -> Outcome:
    """How far an entry of a table lies from the exact value."""
    return {"table_minus_exact": inputs["table"] - wake(inputs)[inputs["part"]]}


def flap_effectiveness(inputs: Inputs) -> Outcome:
    """Steady lift of a unit flap angle over that of a unit pitch angle."""
    air = strip_forces(1.0, 0.0, inputs["hinge_line"], 1.0)
    steady = air.air_stiffness + air.delayed_stiffness
    return {"effectiveness": float(steady[0, 2] / steady[0, 1])}


def series(inputs: Inputs) -> Outcome:
    """Largest difference of the strip's matrices from the series', over the largest entry."""
    a, c = inputs["elastic_axis"], inputs["hinge_line"]
    ours, theirs = strip_forces(1.0, a, c, 1.0), strip_forces_by_series(1.0, a, [c], 1.0, inputs["terms"])
    pairs = [(getattr(ours, name), getattr(theirs, name)) for name in NAMES.values()]
    return {"largest_difference": float(max(np.max(np.abs(one - other)) / np.max(np.abs(one)) for one, other in pairs))}


def tab_matrices(inputs: Inputs) -> Outcome:
    """All matrices of a strip with control and tab, and their sum at each reduced frequency, row by row."""
    air = strip_forces_with_tab(1.0, inputs["elastic_axis"], inputs["hinge_line"], inputs["tab_hinge_line"], 1.0)
    found: Outcome = {short: getattr(air, name).ravel().tolist() for short, name in NAMES.items()}
    for k in inputs["k"]:
        c = theodorsen(1j * k)
        damping, stiffness = air.air_damping + c * air.delayed_damping, air.air_stiffness + c * air.delayed_stiffness
        whole = -(k**2) * air.apparent_mass + 1j * k * damping + stiffness
        parts = np.stack((whole.real, whole.imag), axis=-1)
        found["A_k_" + str(k).replace(".", "_")] = parts.ravel().tolist()
    return found


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "wake": wake,
    "wake against a table": wake_against_a_table,
    "flap effectiveness": flap_effectiveness,
    "series": series,
    "tab matrices": tab_matrices,
}
