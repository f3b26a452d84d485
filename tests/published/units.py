"""How the published cases of units.toml are worked with this library."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline.units import express, read


def factors(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Say how many SI units one of each unit is."""
    return {"si": [float(read(f"1 {unit}", inputs["dimension"])) for unit in inputs["units"]]}


def conversions(inputs: Mapping[str, Any]) -> dict[str, Any]:
    """Bring values from one unit to another, through SI."""
    dimension = inputs["dimension"]
    typed = [read(f"{value} {inputs['from']}", dimension) for value in inputs["values"]]
    return {"values": [express(value, inputs["to"], dimension=dimension) for value in typed]}


COMPUTE: dict[str, Callable[[Mapping[str, Any]], dict[str, Any]]] = {
    "factors": factors,
    "conversions": conversions,
}
