"""The statics of weighing: one function, one equation.

x is positive aft of the hinge line; a moment is positive where it makes the
surface tail-heavy (trailing edge down). The surface is level, so that weights
act straight down and every arm is horizontal.

Source of the balance about the hinge: statics of a rigid body on a hinge. The
same sum stands in makers' manuals as D (W - S), scale reading less the tare of
its prop, times the distance from the hinge line.
"""

from __future__ import annotations

import math
from collections.abc import Sequence


def mean(readings: Sequence[float]) -> float:
    """Give the arithmetic mean of readings, in their own unit.

    Added exactly, so that their order does not matter, and kept between them, so that the division's
    last bit does not make of equal readings another one.
    """
    return min(max(math.fsum(readings) / len(readings), min(readings)), max(readings))


def net_reading(shown: float, tare: float) -> float:
    """Take off what the scale shows without the surface, in the reading's unit."""
    return shown - tare


def push_up(net: float, force_per_reading: float, *, pulls: bool) -> float:
    """Give the upward force of a support on the surface [N].

    ``force_per_reading`` is the local gravity for a dial that shows mass, 1 for one that shows force.
    A hook that pulls holds the surface down.
    """
    return (-1.0 if pulls else 1.0) * net * force_per_reading


def support_moment(force_up: float, x: float) -> float:
    """Give the static moment that a support reveals, F x [N m, tail-heavy positive].

    A support that must push up aft of the hinge carries a surface that is tail-heavy.
    """
    return force_up * x


def hung_moment(mass: float, x: float, local_gravity: float) -> float:
    """Give the static moment that a hung mass reveals, -m g x [N m, tail-heavy positive].

    A mass hung forward of the hinge levels a surface that is tail-heavy.
    """
    return -mass * local_gravity * x


def part_moment(mass: float, x: float, local_gravity: float) -> float:
    """Give the static moment of a part that is fitted, m g x [N m, tail-heavy positive]."""
    return mass * local_gravity * x


def level_sensitivity(mass: float, vertical_offset: float, local_gravity: float) -> float:
    """Give the change of the moment with a small error of level, m g z [N m/rad].

    From F r = W (x - z tan θ): a surface whose centre of gravity lies in the hinge
    line's plane (z = 0) does not mind a level error, since the reading's arm and the
    weight's arm shrink alike.
    """
    return mass * local_gravity * vertical_offset


def friction_moment(rising: float, falling: float, force_per_reading: float, arm: float) -> float:
    """Give the friction moment, r (rising - falling)/2 without its sign [N m]."""
    return abs(arm * (rising - falling) * force_per_reading / 2.0)


def centre_of_gravity(static_moment: float, mass: float, local_gravity: float) -> float:
    """Give the centre of gravity aft of the hinge line, M/(m g) [m]."""
    return static_moment / (mass * local_gravity)


def reading_at(moment: float, other_moments: float, reading_moment: float, tare: float) -> float:
    """Give the gross reading at which the static moment is ``moment``, in the reading's unit.

    Parameters
    ----------
    moment : float
        [N m, tail-heavy positive]
    other_moments : float
        Sum of all terms but this support's [N m].
    reading_moment : float
        Moment of one unit of net reading, with its sign [N m a unit].
    tare : float
        In the reading's unit.
    """
    return (moment - other_moments) / reading_moment + tare
