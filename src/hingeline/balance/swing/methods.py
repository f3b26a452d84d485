"""The four methods: what each gives, and how it depends on what went into it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from hingeline.balance.swing import equations
from hingeline.balance.swing.checks import refuse_no_pendulum
from hingeline.balance.swing.model import Method, SwingTask
from hingeline.surface import aft


@dataclass(frozen=True, slots=True)
class Swung:
    """One method, worked out.

    Parameters
    ----------
    swinging : float
        The part of the inertia that goes with the period squared [kg m²].
    inertia : float
        About the hinge line [kg m²].
    sensitivities : dict
        Change of the inertia with each quantity that the method asks for, by its name.
    """

    swinging: float
    inertia: float
    sensitivities: dict[str, float] = field(default_factory=dict)


def swung(task: SwingTask, period: float) -> Swung:
    """Work out the inertia from the period at zero amplitude, by the method of the task."""
    return _METHODS[task.method](task, period)


def _given(task: SwingTask, name: str) -> float:
    """Give what the checks made sure of."""
    return float(getattr(task, name))


def _way(task: SwingTask) -> float:
    return 1.0 if task.hangs == "tail down" else -1.0


def _own_weight(task: SwingTask, period: float) -> Swung:
    hanging = _way(task) * _given(task, "surface_mass_moment")
    refuse_no_pendulum(task, hanging)
    inertia = equations.pendulum_inertia(hanging, period, task.local_gravity)
    per_moment = _way(task) * equations.pendulum_inertia(1.0, period, task.local_gravity)
    return Swung(inertia, inertia, {"surface_mass_moment": per_moment})


def _added_mass(task: SwingTask, period: float) -> Swung:
    mass, arm = _given(task, "added_mass"), _given(task, "added_arm")
    way, x = _way(task), aft(task.added_side) * arm
    hanging = way * (_given(task, "surface_mass_moment") + mass * x)
    refuse_no_pendulum(task, hanging)
    whole = equations.pendulum_inertia(hanging, period, task.local_gravity)
    per_moment = way * equations.pendulum_inertia(1.0, period, task.local_gravity)
    return Swung(
        whole,
        equations.without_added_mass(whole, mass, arm),
        {
            "surface_mass_moment": per_moment,
            "added_mass": per_moment * x - arm * arm,
            "added_arm": per_moment * mass * aft(task.added_side) - 2.0 * mass * arm,
        },
    )


def _two_wires(task: SwingTask, period: float) -> Swung:
    mass, moment = _given(task, "surface_mass"), _given(task, "surface_mass_moment")
    spacing, length = _given(task, "wire_spacing"), _given(task, "wire_length")
    centre = equations.two_wire_inertia(mass, spacing, length, period, task.local_gravity)
    return Swung(
        centre,
        equations.about_hinge_line(centre, mass, moment),
        {
            "surface_mass": centre / mass - (moment / mass) ** 2,
            "surface_mass_moment": 2.0 * moment / mass,
            "wire_spacing": 2.0 * centre / spacing,
            "wire_length": -centre / length,
        },
    )


def _spring(task: SwingTask, period: float) -> Swung:
    rate, arm = _given(task, "spring_rate"), _given(task, "spring_arm")
    inertia = equations.spring_inertia(rate, arm, period)
    return Swung(inertia, inertia, {"spring_rate": inertia / rate, "spring_arm": 2.0 * inertia / arm})


_METHODS: dict[Method, Callable[[SwingTask, float], Swung]] = {
    "own weight": _own_weight,
    "added mass": _added_mass,
    "two wires": _two_wires,
    "spring": _spring,
}
