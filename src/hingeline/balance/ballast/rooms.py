"""How much each place allows: from masses "in all" to the weights that may be added or taken off."""

from __future__ import annotations

import math
from dataclasses import dataclass

from hingeline.balance.ballast.model import BallastTask, Place

SMALLEST_CHANGE = 1e-6  # kg: less than a milligram is no change
ALMOST_WHOLE = 1e-9  # of a step: what a decimal loses in binary
REACH = 2.0  # a place without a largest mass: so many times what would do it from there alone


@dataclass(frozen=True, slots=True)
class Room:
    """What may be done at one place, in weights alone: bracket and screws taken out [kg].

    Parameters
    ----------
    least_added, most_added : float
        If anything is added; nothing may be added where the most is less than the least.
    least_taken, most_taken : float
        If anything is taken off.
    must_add, must_take : float
        What has to be done for the place itself, since it carries too little or too much now.
    """

    least_added: float
    most_added: float
    least_taken: float
    most_taken: float
    must_add: float = 0.0
    must_take: float = 0.0

    @property
    def can_add(self) -> bool:
        """Whether anything may be added."""
        return self.most_added >= self.least_added

    @property
    def can_take(self) -> bool:
        """Whether anything may be taken off."""
        return self.most_taken >= self.least_taken


def room_of(place: Place, task: BallastTask) -> Room:
    """Work out what a place allows.

    "In all" is what is present, what is added, bracket and screws. Where weight is present, its bracket
    is fitted already: it is no change, but counts in all. It alone never asks for weight to come off; but where
    some comes off, what stays is no more in all than is allowed.
    """
    if place.present_mass > 0.0:
        return _room_at_a_weight(place, task)
    smallest = 0.0 if place.smallest_mass is None else place.smallest_mass
    least = max(_least_change(place), smallest - place.fixed_mass)
    most = math.inf if place.largest_mass is None else place.largest_mass - place.fixed_mass
    return Room(_up(place, least), _most_added(place, task, _up(place, least), most), 1.0, 0.0)


def _room_at_a_weight(place: Place, task: BallastTask) -> Room:
    present, least = place.present_mass, _least_change(place)
    smallest = 0.0 if place.smallest_mass is None else max(0.0, place.smallest_mass - place.fixed_mass)
    allowed = math.inf if place.largest_mass is None else place.largest_mass - place.fixed_mass
    over = max(0.0, present - allowed)
    bracket_alone = place.largest_mass is None or present <= place.largest_mass + SMALLEST_CHANGE
    must_add, must_take = max(0.0, smallest - present), 0.0 if bracket_alone else over
    least_added, least_taken = _up(place, max(least, must_add)), _up(place, max(least, over))
    return Room(
        least_added,
        _most_added(place, task, least_added, allowed - present),
        least_taken,
        _down(place, present - smallest),
        must_add if must_add > SMALLEST_CHANGE else 0.0,
        must_take if must_take > SMALLEST_CHANGE else 0.0,
    )


def _least_change(place: Place) -> float:
    return place.smallest_step or SMALLEST_CHANGE


def _most_added(place: Place, task: BallastTask, least: float, allowed: float) -> float:
    if place.pieces:
        return min(allowed, math.fsum(place.pieces))
    if math.isinf(allowed):
        alone = REACH * largest_shift(task) / (task.local_gravity * place.arm)
        allowed = max(alone, least) + (place.smallest_step or 0.0)
    return _down(place, allowed)


def largest_shift(task: BallastTask) -> float:
    """Give the largest change of moment that any aim could ask for [N m]."""
    aims = (task.limits.lower, task.limits.upper, task.target_moment)
    return max(abs(task.moment.value - aim) for aim in aims if aim is not None)


def steps_within(mass: float, step: float) -> int:
    """Count the whole steps in a mass; a decimal's last bit does not lose one."""
    return max(0, math.floor(mass / step + ALMOST_WHOLE))


def _down(place: Place, mass: float) -> float:
    """Cut a mass down to whole steps where the place has them."""
    step = place.smallest_step
    return mass if step is None else steps_within(mass, step) * step


def _up(place: Place, mass: float) -> float:
    step = place.smallest_step
    return mass if step is None else max(1, math.ceil(mass / step - ALMOST_WHOLE)) * step
