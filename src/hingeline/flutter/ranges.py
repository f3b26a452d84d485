"""What each number of a flutter model may be: the range that a real aircraft, or a bench model, can have."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from typing import NamedTuple

from hingeline.errors import Refusal
from hingeline.flutter.structures import (
    Aileron,
    AileronWeight,
    MeasuredMode,
    Modes,
    ModeStrip,
    ModeWeight,
    Section,
    Tailplane,
    TailplaneWeight,
    Wing,
)


class Range(NamedTuple):
    """What a number may be.

    ``low`` itself is allowed only where ``closed`` is true.
    """

    words: str
    unit: str
    low: float
    high: float
    closed: bool = False

    def holds(self, value: float) -> bool:
        """Whether a value lies inside."""
        above = value >= self.low if self.closed else value > self.low
        return math.isfinite(value) and above and value <= self.high

    @property
    def positive(self) -> bool:
        """Whether nothing below zero can be meant."""
        return self.low >= 0.0

    def expected(self) -> str:
        """Say what is allowed."""
        unit = f" {self.unit}" if self.unit else ""
        if self.closed:
            return f"{self.words} from {self.low:g} and up to {self.high:g}{unit}"
        return f"{self.words} above {self.low:g} and up to {self.high:g}{unit}"


def positive(words: str, unit: str, high: float, low: float = 0.0) -> Range:
    """Give a range above zero; ``low`` keeps out what is a slip of the exponent."""
    return Range(words, unit, low, high, closed=low > 0.0)


def not_negative(words: str, unit: str, high: float) -> Range:
    """Give a range from zero on."""
    return Range(words, unit, 0.0, high, closed=True)


def signed(words: str, unit: str, high: float) -> Range:
    """Give a range on both sides of zero."""
    return Range(words, unit, -high, high, closed=True)


LENGTH = positive("a length", "m", 100.0, 1e-4)
SEMICHORD = positive("a semichord", "m", 100.0, 1e-4)
AXIS = signed("a place on the chord, semichords aft of mid-chord,", "", 5.0)
MASS = positive("a mass", "kg", 1e5, 1e-6)
MASS_PER_LENGTH = positive("a mass of one metre of span", "kg/m", 1e6, 1e-6)
INERTIA = positive("a moment of inertia", "kg m^2", 1e6, 1e-12)
INERTIA_PER_LENGTH = positive("a moment of inertia of one metre of span", "kg m", 1e8, 1e-12)
MOMENT = signed("a mass moment", "kg m", 1e5)
MOMENT_PER_LENGTH = signed("a mass moment of one metre of span", "kg", 1e6)
STIFFNESS = not_negative("a stiffness", "N m/rad", 1e10)
FREQUENCY = not_negative("a frequency", "Hz", 1e5)
ARM = not_negative("an arm ahead of the hinge line", "m", 10.0)
SHAPE = signed("a shape value", "", 1e6)
RATIO = Range("a damping ratio", "", 0.0, 0.9, closed=True)

RANGES: Mapping[type, Mapping[str, Range]] = {
    Section: {
        "semichord": SEMICHORD,
        "elastic_axis": AXIS,
        "hinge_line": AXIS,
        "tab_hinge_line": AXIS,
        "mass": MASS_PER_LENGTH,
        "plunging_mass": MASS_PER_LENGTH,
        "pitch_static_moment": MOMENT_PER_LENGTH,
        "surface_static_moment": MOMENT_PER_LENGTH,
        "tab_static_moment": MOMENT_PER_LENGTH,
        "pitch_inertia": INERTIA_PER_LENGTH,
        "surface_inertia": INERTIA_PER_LENGTH,
        "tab_inertia": INERTIA_PER_LENGTH,
        "plunge_stiffness": not_negative("a stiffness of one metre of span", "N/m^2", 1e10),
        "pitch_stiffness": not_negative("a stiffness of one metre of span", "N", 1e10),
        "surface_stiffness": not_negative("a stiffness of one metre of span", "N", 1e10),
        "tab_stiffness": not_negative("a stiffness of one metre of span", "N", 1e10),
        "tab_gear": signed("a gear ratio", "", 10.0),
        "tab_rigid_gear": signed("a gear ratio", "", 10.0),
    },
    Tailplane: {
        "span": LENGTH,
        "chord": LENGTH,
        "hinge_line": Range("a part of the chord from the leading edge", "", 0.0, 1.0, closed=True),
        "centre_of_gravity": Range("a part of the chord from the leading edge", "", -1.0, 2.0, closed=True),
        "mass": MASS,
        "inertia": INERTIA,
        "support_mass": not_negative("a mass", "kg", 1e5),
        "support_frequency": FREQUENCY,
        "circuit_stiffness": STIFFNESS,
        "circuit_frequency": FREQUENCY,
        "part_of_span_in_jet": positive("a part of the span", "", 1.0, 1e-3),
        "support_damping_ratio": RATIO,
        "circuit_damping_ratio": RATIO,
    },
    TailplaneWeight: {
        "mass": MASS,
        "arm": ARM,
        "arm_frequency": positive("a frequency of the weight on its arm", "Hz", 1e5, 1e-3),
        "arm_stiffness": positive("a spring rate of the arm", "N/m", 1e10, 1e-9),
    },
    Wing: {
        "length": LENGTH,
        "semichord": SEMICHORD,
        "elastic_axis": AXIS,
        "mass": MASS_PER_LENGTH,
        "static_offset": signed("an offset in semichords", "", 5.0),
        "inertia": INERTIA_PER_LENGTH,
        "bending_stiffness": positive("a stiffness", "N m^2", 1e14, 1e-9),
        "torsion_stiffness": positive("a stiffness", "N m^2", 1e14, 1e-9),
        "bending_modes": Range("a whole number of shapes", "", 1.0, 12.0, closed=True),
        "torsion_modes": Range("a whole number of shapes", "", 1.0, 12.0, closed=True),
    },
    Aileron: {
        "from_root": not_negative("a distance from the root", "m", 100.0),
        "to": positive("a distance from the root", "m", 100.0),
        "hinge_line": AXIS,
        "mass": MASS,
        "static_moment": MOMENT,
        "inertia": INERTIA,
        "product_of_inertia": signed("a product of inertia", "kg m^2", 1e6),
        "stiffness": STIFFNESS,
    },
    AileronWeight: {
        "mass": MASS,
        "arm": ARM,
        "spanwise": not_negative("a distance from the root", "m", 100.0),
    },
    Modes: {"surface_stiffness": STIFFNESS},
    MeasuredMode: {"generalised_mass": MASS, "frequency": FREQUENCY},
    ModeStrip: {
        "width": LENGTH,
        "semichord": SEMICHORD,
        "axis": AXIS,
        "hinge_line": AXIS,
        "plunge": SHAPE,
        "pitch": SHAPE,
        "surface": SHAPE,
        "surface_static_moment": MOMENT_PER_LENGTH,
        "surface_inertia": not_negative("a moment of inertia of one metre of span", "kg m", 1e8),
    },
    ModeWeight: {
        "mass": MASS,
        "arm": ARM,
        "axis_to_weight": signed("a distance aft of the axis", "m", 100.0),
        "plunge": SHAPE,
        "pitch": SHAPE,
    },
}

IN_A_FILE = {"from_root": "from", "weights": "weight", "strips": "strip", "modes": "mode"}
"""Where a field of a record has another name in a file."""


def out_of_range(place: str, record: object) -> Iterator[Refusal]:
    """Refuse each number of a record that is out of its range; one that is left out is not looked at.

    Parameters
    ----------
    place : str
        Where the record stands in a file, such as ``"wing.aileron"``.
    record : object
        Any of the structures' records.
    """
    for name, allowed in RANGES[type(record)].items():
        given = getattr(record, name)
        field = f"{place}.{IN_A_FILE.get(name, name)}"
        if isinstance(given, tuple):
            for index, value in enumerate(given):
                yield from one_out_of_range(f"{field}[{index}]", value, allowed)
        elif given is not None:
            yield from one_out_of_range(field, given, allowed)


def one_out_of_range(field: str, value: float, allowed: Range) -> Iterator[Refusal]:
    """Refuse one number that is out of its range."""
    if not allowed.holds(value):
        yield fault(field, value, allowed.expected(), remedy_of(allowed, value))


def remedy_of(allowed: Range, value: float) -> str:
    """Say what is most likely wrong."""
    if allowed is AXIS:
        return "Places on the chord count from mid-chord in semichords: -0.5 is a quarter of the chord."
    if allowed is ARM and value < 0.0:
        return "An arm ahead of the hinge line is positive."
    return "Check the number and its unit."


def fault(field: str, value: object, expected: str, remedy: str) -> Refusal:
    """Refuse one value, shown as it was typed or with six digits."""
    shown = getattr(value, "text", value)
    return Refusal(field, f"{shown:.6g}" if type(shown) is float else str(shown), expected, remedy)


def counted(count: int, noun: str) -> str:
    """Say how many there are."""
    return f"{count} {noun}" if count == 1 else f"{count} {noun}s"
