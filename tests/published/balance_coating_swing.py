"""Computes the cases of balance_coating_swing.toml, each through the reader of its file and the library's door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from hingeline.balance.coating import CoatingResult, predict_coating
from hingeline.balance.spread import DynamicResult, dynamic_balance
from hingeline.balance.swing import inertia_by_swing
from hingeline.units import express, read
from hingeline_app.files.coating_file import read_coating
from hingeline_app.files.dynamic_file import read_dynamic
from hingeline_app.files.swing_file import read_swing

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

LAYER = """
[[layer]]
name = "coat {number}"
arm = "60 mm"
side = "aft"
area = "1 m^2"
"""


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def painted(text: str) -> CoatingResult:
    """Predict from the text of a coating file."""
    return predict_coating(read_coating(text.encode()))


def grams(*layers: str) -> float:
    """Mass of layers on a sheet of one square metre."""
    head = 'format = "hingeline/coating/1"\n'
    found = painted(head + "".join(LAYER.format(number=at) + layer for at, layer in enumerate(layers))).mass_change
    assert found is not None
    return 1000.0 * found.value


def mass_per_area(inputs: Inputs) -> Outcome:
    """Coats by their mass per area."""
    return {"grams": [grams(*(f'mass_per_area = "{coat}"\n' for coat in coats)) for coats in inputs["coats"]]}


def implied_density(inputs: Inputs) -> Outcome:
    """Coats by film and density."""
    return {"grams": [grams(f'film = "{film}"\ndensity = "{density}"\n') for film, density in inputs["films"]]}


def coating(inputs: Inputs) -> Outcome:
    """Mass, moment, and the moment as a part of the window."""
    found = painted(inputs["file"])
    assert found.mass_change is not None
    assert found.moment_change is not None
    limits = found.surfaces[0].limits
    assert limits.lower is not None
    assert limits.upper is not None
    change = found.moment_change.value
    return {
        "grams": 1000.0 * found.mass_change.value,
        "kilogram_centimetres": express(change, "kg cm", dimension="moment"),
        "part_of_window": change / (limits.upper - limits.lower),
    }


def coverage(inputs: Inputs) -> Outcome:
    """Area over which what a wet volume leaves has the wanted thickness."""
    density = 1000.0
    wet = (
        f'wet_volume = "{inputs["wet_volume"]}"\nvolume_solids = {inputs["volume_solids"]}\n'
        f'transfer = {inputs["transfer"]}\nsolids_density = "{density:g} kg/m^3"\n'
    )
    volume = grams(wet) / 1000.0 / density
    return {"square_feet": express(volume / read(inputs["film"], "length"), "ft^2", dimension="area")}


def spread(inputs: Inputs) -> DynamicResult:
    """Add up the file of a case."""
    return dynamic_balance(read_dynamic(inputs["file"].encode()))


def plate(inputs: Inputs) -> Outcome:
    """Mass and its moments."""
    found = spread(inputs)
    return {
        "mass": found.mass,
        "mass_moment": found.mass_moment,
        "inertia": found.inertia,
        "product": found.product_of_inertia,
        "coefficient": found.dynamic_coefficient,
    }


def three_places(inputs: Inputs) -> Outcome:
    """The weight, and what each place makes of it."""
    found = spread(inputs)
    assert found.weight is not None
    return {
        "weight": found.weight.mass,
        "mass_moment": [place.mass_moment for place in found.places],
        "inertia": [place.inertia for place in found.places],
        "coefficient": [place.dynamic_coefficient for place in found.places],
    }


def swing(inputs: Inputs) -> Outcome:
    """Inertia about the hinge line, and on the way to it."""
    found = inertia_by_swing(read_swing(inputs["file"].encode()))
    return {
        "inertia": found.inertia.value,
        "with_added_mass": found.inertia_with_added_mass,
        "about_centre": found.inertia_about_centre,
    }


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "mass per area": mass_per_area,
    "implied density": implied_density,
    "coating": coating,
    "coverage": coverage,
    "plate": plate,
    "three places": three_places,
    "swing": swing,
}
