"""The friction moment that a rising and a falling reading show, and what the approved data allows."""

from __future__ import annotations

from hingeline.balance import equations
from hingeline.balance.decide import Applicable
from hingeline.balance.model import FrictionMoment, Support, Weighing
from hingeline.balance.terms import force_per_reading


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
    bounds = [abs(bound) for bound in (applicable.lower, applicable.upper) if bound is not None]
    fraction = weighing.limits.friction_fraction
    if fraction is None or not bounds:
        return FrictionMoment(value)
    allowed = fraction * max(bounds)
    return FrictionMoment(value, allowed=allowed, within=value <= allowed)


def _of(support: Support, local_gravity: float) -> float:
    rising, falling = equations.mean(support.rising), equations.mean(support.falling)
    return equations.friction_moment(rising, falling, force_per_reading(support, local_gravity), support.arm)
