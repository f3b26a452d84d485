"""How each published case of an arm is computed."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline.arm.crack_geometry import constant_intensity
from hingeline.arm.critical_size import constant_fracture_size, falling_root
from hingeline.arm.growth import MEGA, closed_form_cycles, cycles_along
from hingeline.arm.stress_life import used_up
from hingeline.arm.vibration import Beam, frequency_equation

Inputs = Mapping[str, Any]
Found = Mapping[str, float | None]


def roots(inputs: Inputs) -> Found:
    """Find roots of the frequency equation between given ends; their squares."""
    beam = Beam(1.0, 1.0, 1.0, inputs["tip_mass_ratio"])
    return {name: _root(beam, *ends) ** 2 for name, ends in zip(inputs["names"], inputs["brackets"], strict=True)}


def _root(beam: Beam, low: float, high: float) -> float:
    way = 1.0 if frequency_equation(low, beam) > 0.0 else -1.0
    return falling_root(lambda root: way * frequency_equation(root, beam), low, high)


def crack_growth(inputs: Inputs) -> Found:
    """Grow a crack to its critical size, in closed form and by adding up."""
    factor, stress, start = inputs["factor"], inputs["stress"], inputs["start"]
    constant, exponent = inputs["constant"], inputs["exponent"]
    end = constant_fracture_size(inputs["toughness"], factor, stress)

    def rate(size: float) -> float:
        return float(constant * (constant_intensity(factor, stress, size) / MEGA) ** exponent)

    closed = closed_form_cycles(start, end, constant=constant, exponent=exponent, factor=factor, stress_range=stress)
    return {"critical size": 1e3 * end, "cycles": closed, "cycles, second way": cycles_along(rate, start, end)[-1][1]}


def blocks(inputs: Inputs) -> Found:
    """Count the blocks of several loads that use a life up."""
    return {"blocks": 1.0 / used_up(zip(inputs["done"], inputs["lives"], strict=True))}


OF_ARMS: dict[str, Callable[[Inputs], Found]] = {
    "arm roots": roots,
    "crack growth": crack_growth,
    "used up": blocks,
}
