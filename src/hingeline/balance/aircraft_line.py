"""What a change on a surface means for the aircraft's own weight and balance: one line of its record."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline.errors import InputRefused

LARGEST, SMALLEST_MASS = 1e6, 1e-9
"""Beyond these is a slip of the unit, whether of mass or arm; lighter is no mass that counts anywhere [kg, m]."""


@dataclass(frozen=True, slots=True)
class MassChange:
    """Mass put on or taken off at a place of a surface.

    Parameters
    ----------
    mass : float
        Put on positive, taken off negative [kg].
    arm_from_hinge : float
        Of the place, from the hinge line, aft positive [m].
    """

    mass: float
    arm_from_hinge: float


@dataclass(frozen=True, slots=True)
class AircraftLine:
    """The change of an aircraft's empty mass and of its moment about the datum.

    Parameters
    ----------
    mass : float
        Put on positive [kg].
    arm : float or None
        Where the change counts, aft of the datum positive [m]; None where masses cancel.
    moment : float
        Mass moment about the datum, plus where it moves what is aft [kg m].
    """

    mass: float
    arm: float | None
    moment: float


def aircraft_line(changes: Sequence[MassChange], hinge_from_datum: float) -> AircraftLine:
    """Work out the line for the aircraft's weight-and-balance record.

    Each place counts at the arm of the hinge line from the aircraft's datum, plus its own arm from
    the hinge line; moment is mass times arm, aft of the datum positive. Common practice of aircraft
    mass and balance (for instance FAA-H-8083-1, from memory: moment = weight x arm, sign of the arm
    from the datum).

    Parameters
    ----------
    changes : sequence of MassChange
        At least one.
    hinge_from_datum : float
        Arm of the hinge line, aft of the datum positive [m].

    Returns
    -------
    AircraftLine

    Raises
    ------
    InputRefused
        There is no change, or a number is NaN or beyond all masses and lengths of an aircraft.

    Examples
    --------
    >>> line = aircraft_line([MassChange(0.145, -0.180)], 4.500)
    >>> round(line.arm, 3), round(line.moment, 4)
    (4.32, 0.6264)
    """
    if not changes:
        raise InputRefused.of("changes", "none", "at least one mass put on or taken off", "Enter what was changed.")
    numbers = [("hinge_from_datum", hinge_from_datum)]
    for index, each in enumerate(changes):
        numbers += [(f"changes[{index}].mass", each.mass), (f"changes[{index}].arm_from_hinge", each.arm_from_hinge)]
    for field, number in numbers:
        if not abs(number) <= LARGEST:  # NaN fails this too
            raise InputRefused.of(field, number, "finite masses and arms", "Enter them anew.")
    mass = math.fsum(each.mass for each in changes)
    moment = math.fsum(each.mass * (hinge_from_datum + each.arm_from_hinge) for each in changes)
    smallest = max(SMALLEST_MASS, 1e-9 * max(abs(each.mass) for each in changes))
    return AircraftLine(mass, moment / mass if abs(mass) > smallest else None, moment)
