"""A layer worked out: its mass, its moment, and what makes them uncertain."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hingeline.balance.coating import equations
from hingeline.balance.coating.checks import FACTORS, WAYS
from hingeline.balance.coating.model import Layer
from hingeline.surface import aft
from hingeline.uncertainty import Contribution


@dataclass(frozen=True, slots=True)
class Coat:
    """One layer with the change it makes.

    Parameters
    ----------
    layer : Layer
    one_mass : float
        Of one coat on one face [kg].
    mass : float
        ``count`` times as much [kg].
    moment : float
        [N m]
    mass_causes, moment_causes : tuple of Contribution
        Each common to the layer's ``count`` [kg, N m].
    """

    layer: Layer
    one_mass: float
    mass: float
    moment: float
    mass_causes: tuple[Contribution, ...]
    moment_causes: tuple[Contribution, ...]

    @property
    def mass_per_area(self) -> float | None:
        """Of one coat on one face, where the area is known [kg/m²]."""
        return None if self.layer.area is None else self.one_mass / self.layer.area


def combined_standard(causes: tuple[Contribution, ...]) -> float:
    """Give the standard uncertainty of independent causes together, in the result's unit."""
    return math.hypot(*(cause.sensitivity * cause.standard_uncertainty for cause in causes))


def coat_of(layer: Layer, local_gravity: float) -> Coat:
    """Work a layer out."""
    one = one_mass(layer)
    mass, x = layer.count * one, aft(layer.side) * layer.arm
    moment = equations.coat_moment(mass, x, local_gravity)
    by_mass = _mass_causes(layer, mass)
    arm = _cause(layer, "arm", "arm", "m", local_gravity * mass * aft(layer.side))
    lifted = (_scaled(cause, local_gravity * x) for cause in by_mass)
    return Coat(layer, one, mass, moment, by_mass, (*lifted, *arm))


def one_mass(layer: Layer) -> float:
    """Give the mass of one coat on one face, by the way the layer is given [kg]."""
    given = [getattr(layer, name) or 0.0 for name in factors_of(layer)]
    if layer.wet_volume is not None:
        return equations.wet_mass(*given)
    if layer.film is not None:
        area, film, density = given
        return area * equations.film_mass_per_area(film, density)
    return math.prod(given)


def factors_of(layer: Layer) -> tuple[str, ...]:
    """Name the quantities whose product is the layer's mass."""
    way = next(way for way in WAYS if getattr(layer, way[0]) is not None)
    return way if "wet_volume" in way else ("area", *way)


def _mass_causes(layer: Layer, mass: float) -> tuple[Contribution, ...]:
    """List the causes: the mass is a product, so its change with a factor is mass over factor."""
    return tuple(
        cause
        for name in factors_of(layer)
        for cause in _cause(layer, name, FACTORS[name].words, FACTORS[name].unit, mass / getattr(layer, name))
    )


def _cause(layer: Layer, name: str, words: str, unit: str, sensitivity: float) -> tuple[Contribution, ...]:
    stated = getattr(layer, f"{name}_uncertainty")
    if stated is None:
        return ()
    size = stated.of(getattr(layer, name))
    return (Contribution(f"{words} of {layer.name}", size, unit, sensitivity, stated.degrees_of_freedom),)


def _scaled(cause: Contribution, factor: float) -> Contribution:
    return Contribution(
        cause.source, cause.standard_uncertainty, cause.unit, cause.sensitivity * factor, cause.degrees_of_freedom
    )


def not_stated(layer: Layer) -> list[str]:
    """Name the quantities of a layer of whose uncertainty nothing is stated."""
    names = [*factors_of(layer), "arm"]
    words = {**{name: factor.words for name, factor in FACTORS.items()}, "arm": "arm"}
    return [f"{words[name]} of {layer.name}" for name in names if getattr(layer, f"{name}_uncertainty") is None]
