"""Wall readings of several places: the smallest counts, with the gauge's ±, against the approved data."""

from __future__ import annotations

import re
from dataclasses import dataclass

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.compared import compared
from hingeline_app.figures.wording import format_measured

MOST = 60


@dataclass(frozen=True)
class Wall:
    """The smallest wall found."""

    readings: tuple[str, ...]
    finding: str
    words: str


def smallest_wall(typed: str, uncertainty: str, limit: str) -> Wall:
    """Read places one after the other, separated by ``;`` or lines; the smallest is compared.

    Raises
    ------
    InputRefused
        A reading cannot be read or is not above zero; there is none, or more than 60; no ± of the gauge.
    """
    readings = tuple(part.strip() for part in re.split(r"[;\n]", typed) if part.strip())
    if not 1 <= len(readings) <= MOST:
        raise InputRefused.of("wall readings", len(readings), f"1 to {MOST} readings", "Write 1.32 mm; 1.29 mm.")
    values = [read(each, "length", field="wall readings", page=True) for each in readings]
    if min(values) <= 0:
        remedy = "Take the reading again at that place."
        raise InputRefused.of("wall readings", min(readings), "walls thicker than zero", remedy)
    lowest = min(range(len(values)), key=values.__getitem__)
    said = compared(readings[lowest], uncertainty, limit, "", "length")
    measured = format_measured(1e3 * said.value, 1e3 * (said.uncertainty or 0.0), "mm")
    return Wall(readings, said.finding, f"smallest of {len(readings)}: {measured}")
