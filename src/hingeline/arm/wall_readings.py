"""Readings of a wall gauge, place by place: what each says is gone of the nominal wall, and which one counts."""

from __future__ import annotations

from collections.abc import Sequence

from hingeline.arm.model import ArmTask, Loss, WallReading, Where
from hingeline.arm.results import WallReadingResult
from hingeline.uncertainty import Measured, coverage_factor
from hingeline.uncertainty.stated import Stated

ROUNDING = 1e-12
"""Of the nominal wall: what is less is left by turning one unit into another, and no loss."""


def loss_by_readings(nominal: float, where: Where, readings: Sequence[WallReading]) -> Loss | None:
    """Give the loss that the lowest reading says, all round: pits count as their deepest until mapped.

    Parameters
    ----------
    nominal : float
        Wall by the drawing [m]; its own tolerance is left out, so that the wall that is left is what was read.
    where : {"outside", "inside"}
        From which side the metal went: a gauge does not tell.
    readings : sequence of WallReading
        At least one.

    Returns
    -------
    Loss or None
        With the gauge's uncertainty at that place; None where nothing is below the nominal wall.

    Examples
    --------
    >>> from hingeline.arm import WallReading, loss_by_readings
    >>> from hingeline.uncertainty.stated import Stated
    >>> low = WallReading("root, top", 1.32e-3, Stated(0.04e-3, "m", "expanded", 2.0))
    >>> found = loss_by_readings(1.50e-3, "outside", [WallReading("middle", 1.47e-3), low])
    >>> f"{1e3 * found.depth:.2f} mm"
    '0.18 mm'
    """
    low = lowest(readings)
    depth = nominal - low.wall
    return Loss(where, depth, gauge_uncertainty(low)) if depth > ROUNDING * nominal else None


def lowest(readings: Sequence[WallReading]) -> WallReading:
    """Give the reading of the thinnest place."""
    return min(readings, key=lambda each: each.wall)


def readings_told(task: ArmTask) -> tuple[WallReadingResult, ...]:
    """Give each reading beside the nominal wall, with its loss and its uncertainty (that of the gauge)."""
    nominal = 0.0 if task.tube is None else task.tube.wall
    low = lowest(task.readings) if task.readings else None
    return tuple(_told(task, each, nominal, each is low) for each in task.readings)


def _told(task: ArmTask, reading: WallReading, nominal: float, counts: bool) -> WallReadingResult:
    lost = nominal - reading.wall
    return WallReadingResult(
        position=reading.position,
        wall=_measured(task, reading.wall, reading),
        nominal=nominal,
        lost=_measured(task, lost, reading),
        part_lost=lost / nominal,
        counts=counts,
    )


def _measured(task: ArmTask, value: float, reading: WallReading) -> Measured:
    stated = gauge_uncertainty(reading)
    if stated is None or not stated.standard:
        return Measured(value, None)
    degrees = stated.degrees_of_freedom
    k = coverage_factor(task.coverage, degrees) if task.k is None else task.k
    return Measured(value, stated.standard, k * stated.standard, k, degrees)


def gauge_uncertainty(reading: WallReading) -> Stated | None:
    """Give the gauge's uncertainty as a length, where it was stated as a part of the reading too.

    Parameters
    ----------
    reading : WallReading

    Returns
    -------
    Stated or None
        [m]; None where none is stated.
    """
    stated = reading.wall_uncertainty
    if stated is None or not stated.relative:
        return stated
    return Stated(stated.of(reading.wall), "m", "standard", None, stated.degrees_of_freedom)
