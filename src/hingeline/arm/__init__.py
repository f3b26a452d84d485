"""The arm that carries the balance weight: strength, frequency, and an assumed crack beside the approved interval.

It explains, compares and ranks. It never makes an interval longer.

Files
-----
model            frozen inputs (with assumed, quantities)
results          frozen results
section          what is left of the section
loading          moments, stresses, margins, bolts
vibration        natural frequency, and what the arm's bending makes of the weight
crack_geometry   how hard a crack is driven
critical_size    how large it may be before the limit load breaks the arm
growth           cycles from one size to another, two ways
surface_crack    a crack that grows through the wall first
stress_life      cycles that a sound piece is said to take
detection        how surely a crack is found
methods.toml     sizes to plan with, by method
wall             one place's wall readings, words for depths, what stripping does to the balance
wall_readings    places on a grid beside the nominal wall; the lowest counts
travel           angles from distances at the trailing edge, and the gap of the weight
worked, carried  the arm in numbers; and how uncertainty goes into them
crack_course     the course of an assumed crack
crack_life       that course beside the approved interval
scatter          how the life scatters, by draws
checks           what is refused (with crack_checks, refusing)
notes            what the reader must know beside the numbers
solve            puts an arm together
"""

from __future__ import annotations

from hingeline.arm.model import (
    ArmTask,
    ArmWeight,
    Bar,
    Bolts,
    Crack,
    CyclicLoad,
    Detection,
    LoadFactors,
    Loss,
    Material,
    Oscillation,
    Root,
    StressLife,
    Tube,
    WallLimit,
    WallReading,
)
from hingeline.arm.results import ArmResult
from hingeline.arm.solve import examine
from hingeline.arm.travel import gap_under_load, swept_by, travel_angle
from hingeline.arm.wall_readings import loss_by_readings

__all__ = [
    "ArmResult",
    "ArmTask",
    "ArmWeight",
    "Bar",
    "Bolts",
    "Crack",
    "CyclicLoad",
    "Detection",
    "LoadFactors",
    "Loss",
    "Material",
    "Oscillation",
    "Root",
    "StressLife",
    "Tube",
    "WallLimit",
    "WallReading",
    "examine",
    "gap_under_load",
    "loss_by_readings",
    "swept_by",
    "travel_angle",
]
