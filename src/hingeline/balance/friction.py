"""The friction moment that a rising and a falling reading show, and what the approved data allows."""

from __future__ import annotations

from hingeline.balance import equations
from hingeline.balance.decide import Applicable
from hingeline.balance.model import FrictionMoment, Support, Weighing
from hingeline.balance.terms import force_per_reading, shown_reading

ROUNDING = 1e-12
"""Of the moments read: what floats lose. On the allowance is within it, as on a limit is inside."""


def friction_moment(weighing: Weighing, applicable: Applicable) -> FrictionMoment | None:
    """Give the friction moment of all supports read across friction; None where none was.

    Parameters
    ----------
    weighing : Weighing
    applicable : Applicable
        The moment limits that hold: an allowance is a part of the larger one [N m].
    """
    pairs = [support for support in weighing.supports if support.rising]
    if not pairs:
        return None
    value = sum(_of(support, weighing.local_gravity) for support in pairs)
    rounding = ROUNDING * sum(_read_moment(support, weighing.local_gravity) for support in pairs)
    bounds = [abs(bound) for bound in (applicable.lower, applicable.upper) if bound is not None]
    fraction = weighing.limits.friction_fraction
    if fraction is None or not bounds:
        return FrictionMoment(value)
    allowed = fraction * max(bounds)
    return FrictionMoment(value, allowed=allowed, within=value <= allowed + rounding)


def _of(support: Support, local_gravity: float) -> float:
    rising, falling = equations.mean(support.rising), equations.mean(support.falling)
    return equations.friction_moment(rising, falling, force_per_reading(support, local_gravity), support.arm)


def _read_moment(support: Support, local_gravity: float) -> float:
    """Give the moment of the middle of both readings [N m]: what is lost to rounding grows with it."""
    return shown_reading(support) * force_per_reading(support, local_gravity) * support.arm
