"""What a swing must fulfil before anything is computed from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import NamedTuple, get_args

from hingeline.balance.checks import gravity_faults
from hingeline.balance.refusing import (
    HEAVIEST,
    LONGEST,
    between,
    coverage_faults,
    fault,
    refuse_all,
    stated_faults,
)
from hingeline.balance.swing.model import Hangs, Method, SwingTask
from hingeline.errors import InputRefused, Refusal
from hingeline.surface import Side

LARGEST_AMPLITUDE = math.radians(90.0)
MOST_SWINGS = 1000
SHORTEST_PERIOD, LONGEST_PERIOD = 0.02, 60.0


class Quantity(NamedTuple):
    """One quantity that a method asks for."""

    words: str
    unit: str
    largest: float
    signed: bool = False


QUANTITIES = {
    "surface_mass": Quantity("mass of the surface", "kg", HEAVIEST),
    "surface_mass_moment": Quantity("mass moment of the surface", "kg m", HEAVIEST, signed=True),
    "added_mass": Quantity("added mass", "kg", HEAVIEST),
    "added_arm": Quantity("arm of the added mass", "m", LONGEST),
    "wire_spacing": Quantity("spacing of the wires", "m", LONGEST),
    "wire_length": Quantity("length of the wires", "m", LONGEST),
    "spring_rate": Quantity("spring rate", "N/m", 1e7),
    "spring_arm": Quantity("arm of the spring", "m", LONGEST),
}
NEEDS: dict[Method, tuple[str, ...]] = {
    "own weight": ("surface_mass_moment",),
    "added mass": ("surface_mass_moment", "added_mass", "added_arm"),
    "two wires": ("surface_mass", "surface_mass_moment", "wire_spacing", "wire_length"),
    "spring": ("spring_rate", "spring_arm"),
}
PENDULUMS: tuple[Method, ...] = ("own weight", "added mass")


def refuse_unusable(task: SwingTask) -> None:
    """Refuse a swing that cannot be computed.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refuse_all(_faults(task))


def _faults(task: SwingTask) -> Iterator[Refusal]:
    yield from gravity_faults(task.local_gravity)
    if task.k is None:
        yield from coverage_faults(task.coverage)
    elif not (math.isfinite(task.k) and 0.1 <= task.k <= 10.0):
        yield fault("k", task.k, "a coverage factor between 0.1 and 10", "2 is usual.")
    if task.method not in NEEDS:
        yield fault("method", task.method, f"one of {', '.join(NEEDS)}", "Write one of these words.")
        return
    for name, words in (("hangs", get_args(Hangs)), ("added_side", get_args(Side))):
        if getattr(task, name) not in words:
            yield fault(name, getattr(task, name), f"one of {', '.join(words)}", "Write one of these words.")
    yield from _of_times(task)
    yield from _of_amplitude(task)
    for name, quantity in QUANTITIES.items():
        yield from _of_quantity(task, name, quantity)


def _of_times(task: SwingTask) -> Iterator[Refusal]:
    swings = task.swings_per_period
    if not 1 <= swings <= MOST_SWINGS:
        expected = f"a whole number from 1 to {MOST_SWINGS}"
        yield fault("swings_per_period", swings, expected, "There and back counts as 1.")
        return
    if not task.periods:
        yield fault("periods", "none", "at least one time", "Give what the watch showed.")
    for index, period in enumerate(task.periods):
        if not (math.isfinite(period) and SHORTEST_PERIOD <= period / swings <= LONGEST_PERIOD):
            low, high = SHORTEST_PERIOD * swings, LONGEST_PERIOD * swings
            expected = f"a time from {low:g} to {high:g} s for {swings} swings"
            yield fault(f"periods[{index}]", period, expected, "Check the time and swings_per_period.")
    if task.periods:
        yield from stated_faults("uncertainty.timing", task.timing_uncertainty, "s", min(task.periods))


def _of_amplitude(task: SwingTask) -> Iterator[Refusal]:
    amplitude = task.amplitude
    if amplitude is None:
        return
    if not (math.isfinite(amplitude) and 0.0 <= amplitude <= LARGEST_AMPLITUDE):
        yield fault("amplitude", amplitude, "an angle to one side from 0 to 90 deg", "Small swings are better: 5 deg.")
    yield from stated_faults("amplitude", task.amplitude_uncertainty, "rad", LARGEST_AMPLITUDE)


def _of_quantity(task: SwingTask, name: str, quantity: Quantity) -> Iterator[Refusal]:
    value, wanted = getattr(task, name), name in NEEDS[task.method]
    if value is None:
        if wanted:
            remedy = "Add it: 0 kg m for a balanced surface." if quantity.signed else "Add it."
            yield fault(name, "missing", f"the {quantity.words}, which this method needs", remedy)
        return
    if not wanted and name != "surface_mass":
        yield fault(name, value, f"nothing here: the method is {task.method}", "Leave it out, or change the method.")
    elif not quantity.signed:
        yield from between(name, value, 0.0, quantity.largest, f"the {quantity.words}", quantity.unit)
        yield from stated_faults(name, getattr(task, f"{name}_uncertainty"), quantity.unit, value)
    else:
        if not (math.isfinite(value) and abs(value) <= quantity.largest):
            yield fault(name, value, f"a mass moment within ± {quantity.largest:g} kg m", "Check the unit.")
        yield from stated_faults(name, getattr(task, f"{name}_uncertainty"), quantity.unit, quantity.largest)


def refuse_no_pendulum(task: SwingTask, hanging: float) -> None:
    """Refuse numbers by which the surface would not hang as it is said to have hung.

    Raises
    ------
    InputRefused
        The mass moment below the hinge line is zero or negative.
    """
    if hanging > 0.0:
        return
    field = "added_mass" if task.method == "added mass" else "surface_mass_moment"
    other, side = ("nose down", "aft") if task.hangs == "tail down" else ("tail down", "forward")
    remedy = f"Clip a mass on further {side}"
    if task.method == "own weight":
        remedy += ', with method = "added mass"'
    if hanging < 0.0:
        remedy += f'; or, if it hung {other}, write hangs = "{other}"'
    raise InputRefused.of(
        field,
        f"{hanging:.6g} kg m below the hinge line",
        f"a surface that hangs {task.hangs}: more than 0 kg m below the hinge line",
        f"{remedy}.",
    )


def refuse_impossible(task: SwingTask, inertia: float) -> None:
    """Refuse what no body can have: no inertia, or less than its centre of gravity alone would give.

    Raises
    ------
    InputRefused
        One of the numbers must be wrong.
    """
    if inertia <= 0.0:
        raise InputRefused.of(
            "periods", f"an inertia of {inertia:.6g} kg m^2", "an inertia above 0",
            "The clipped-on mass alone would swing more slowly: check the times, the mass and its arm.",
        )  # fmt: skip
    mass, moment = task.surface_mass, task.surface_mass_moment
    if mass is not None and moment is not None and inertia < moment * moment / mass:
        raise InputRefused.of(
            "surface_mass", getattr(mass, "text", mass), f"a mass with which {inertia:.6g} kg m^2 can be",
            "With its centre of gravity so far from the hinge line the inertia would be larger: check mass, mass "
            "moment and times.",
        )  # fmt: skip
