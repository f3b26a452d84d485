"""What can be moved on a surface, how far, and in which steps."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

KNOT = 1852.0 / 3600.0
GRAVITY = 9.80665
Settings = Mapping[str, float]
"""Values by the knob's name, in SI."""


@dataclass(frozen=True, slots=True)
class Knob:
    """One thing that can be moved.

    Parameters
    ----------
    name : str
        In the page's address.
    words : str
        As it is asked for.
    unit : str
        As it is shown; empty for a pure number.
    low, high, step : float
        In that unit.
    start : float
        Where it stands at first, in that unit.
    to_si : float
        Factor from that unit.
    top_is : str
        What the highest value means where it is more than a number, such as a rigid arm.
    """

    name: str
    words: str
    unit: str
    low: float
    high: float
    step: float
    start: float
    to_si: float = 1.0
    top_is: str = ""

    def held(self, value: float) -> float:
        """Hold a value, in the knob's unit, to its range and its steps."""
        steps = round((min(max(value, self.low), self.high) - self.low) / self.step)
        return min(self.high, round(self.low + steps * self.step, 9))

    def values(self, most: int) -> tuple[float, ...]:
        """Give even places over the whole range, each on a step, at most so many and both ends."""
        steps = round((self.high - self.low) / self.step)
        count = min(most - 1, steps)
        return tuple(self.held(self.low + self.step * round(steps * each / count)) for each in range(count + 1))
