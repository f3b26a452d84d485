"""Invented weighings of the invented Merle T2, as many as wanted: each method, unit and sense comes up.

They are typed texts read as a file's would be, so that both routes begin at the same letters.
"""

from __future__ import annotations

from collections.abc import Iterator
from random import Random
from typing import Any

from hingeline.balance import HungMass, Limits, Part, Stated, StatedUncertainty, Support, Surface, Weighing
from hingeline.surface import Side
from hingeline.uncertainty.stated import Shape
from hingeline.units import Typed, read

# Surface, mass [kg], hinge line to trailing edge [mm], largest reading [g].
SURFACES = (
    ("Elevator, left half", 4.1, 270, 900),
    ("Rudder", 5.2, 410, 700),
    ("Aileron, right", 2.9, 190, 600),
    ("Elevator tab", 0.31, 62, 80),
)
SIDES: tuple[Side, ...] = ("aft", "forward")
MASS_UNITS = {"g": 1.0, "kg": 1e-3, "oz": 0.0352739619, "lb": 0.00220462262}
FORCE_UNITS = {"N": 0.00980665, "daN": 0.000980665, "lbf": 0.00220462262}
LENGTH_UNITS = {"mm": 1.0, "cm": 0.1, "in": 0.0393700787}
MOMENT_UNITS = {"N m": 1.0, "N cm": 100.0, "kg cm": 10.1971621, "in-lb": 8.85074579, "m daN": 0.1, "oz-in": 141.611933}


def weighings(count: int, seed: int) -> Iterator[Weighing]:
    """Give ``count`` weighings; the same ones for the same seed."""
    chance = Random(seed)
    return (_weighing(chance) for _ in range(count))


def _weighing(chance: Random) -> Weighing:
    name, mass, depth, largest = chance.choice(SURFACES)
    gravity = chance.choice((9.80665, _typed(chance, 9.81, {"m/s^2": 1.0}, "acceleration", 3)))
    supports = tuple(_support(chance, depth, largest, gravity) for _ in range(chance.choice((0, 1, 1, 1, 1, 2))))
    hung = tuple(_hung(chance, depth, largest) for _ in range(chance.choice((0, 0, 1)) if supports else 1))
    parts = tuple(_part(chance, depth, largest) for _ in range(chance.choice((0, 0, 1))))
    surface = Surface(name, _mass(chance, 1000.0 * mass), vertical_offset=_length(chance, chance.choice((-20.0, 12.0))))
    stated = _stated(chance, paired=any(support.rising for support in supports))
    return Weighing(surface, supports, hung, parts, stated, _limits(chance, gravity), gravity)


def _support(chance: Random, depth: float, largest: float, gravity: float) -> Support:
    by_force = chance.random() < 0.3
    units, dimension = (FORCE_UNITS, "force") if by_force else (MASS_UNITS, "mass")
    unit = chance.choice(list(units))
    middle = largest * chance.uniform(0.2, 1.0)

    def reading(grams: float) -> Typed:
        return _typed(chance, grams, {unit: units[unit]}, dimension, 4, gravity)

    several = [reading(middle * chance.uniform(0.995, 1.005)) for _ in range(chance.choice((1, 3, 5)))]
    pair = chance.random() < 0.2
    return Support(
        arm=_length(chance, depth * chance.uniform(0.4, 0.95)),
        side=chance.choice(SIDES),
        readings=() if pair else tuple(several),
        rising=(reading(1.02 * middle),) if pair else (),
        falling=(reading(0.98 * middle),) if pair else (),
        reading_unit="N" if by_force else "kg",
        pushes=chance.choice(("up", "up", "down")),
        tare=reading(0.05 * middle) if chance.random() < 0.5 else 0.0,
        scale=chance.choice((None, "HL-3")),
    )


def _hung(chance: Random, depth: float, largest: float) -> HungMass:
    mass, arm = _mass(chance, largest * chance.uniform(0.2, 1.0)), _length(chance, depth * chance.uniform(0.3, 1.1))
    return HungMass(mass, arm, chance.choice(SIDES))


def _part(chance: Random, depth: float, largest: float) -> Part:
    mass, arm = _mass(chance, 0.1 * largest), _length(chance, depth * chance.uniform(0.1, 0.9))
    state = chance.choice(("not fitted", "fitted, not counted"))
    return Part("tab pushrod", state, mass, arm, chance.choice(SIDES))  # type: ignore[arg-type]


def _stated(chance: Random, *, paired: bool) -> StatedUncertainty:
    """State most causes; a rising and falling pair shows the friction itself. A given k keeps most of them quick."""
    causes: dict[str, Any] = {
        "scale": _of("1 g", "mass", "resolution"),
        "calibration": _of("2 g", "mass", "expanded"),
        "friction": _of("2 g", "mass", "limit"),
        "arm": _of("0.5 mm", "length", "triangular"),
        "level": _of("0.5 deg", "angle", "limit"),
        "mass_uncertainty": _of("1 g", "mass", "standard"),
    }
    given = {name: stated for name, stated in causes.items() if chance.random() < 0.8}
    if paired:
        given.pop("friction", None)
    return StatedUncertainty(**given, k=None if chance.random() < 0.1 else 2.0)


def _of(amount: str, dimension: str, shape: Shape) -> Stated:
    typed = read(amount, dimension)
    unit = {"mass": "kg", "length": "m", "angle": "rad"}[dimension]
    return Stated(typed, unit, shape, 2.0 if shape == "expanded" else None)


def _limits(chance: Random, gravity: float) -> Limits:
    lower, upper = (
        _typed(chance, end, MOMENT_UNITS, "moment", 4, gravity) if chance.random() < 0.8 else None
        for end in (-9.0, 9.0)
    )
    return Limits(lower, upper, chance.choice(("simple", "guarded")), source="Merle T2 data sheet (invented)")


def _mass(chance: Random, grams: float) -> Typed:
    return _typed(chance, grams, MASS_UNITS, "mass", 5)


def _length(chance: Random, millimetres: float) -> Typed:
    return _typed(chance, millimetres, LENGTH_UNITS, "length", 4)


def _typed(
    chance: Random,
    value: float,
    units: dict[str, float],
    dimension: str,
    digits: int,
    gravity: float = 9.80665,
) -> Typed:
    """Type a value in one of the units, with so many digits after the point, and read it."""
    unit = chance.choice(list(units))
    return read(f"{value * units[unit]:.{digits}f} {unit}", dimension, local_gravity=gravity)
