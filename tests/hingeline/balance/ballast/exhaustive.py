"""The best plan of a small discrete correction, found by trying every one: shares nothing with the solver.

The rules are written down here once more, from the words of the job file: steps or pieces, the largest and
the smallest mass in all, bracket and screws once, adding or taking off but not both.
"""

from __future__ import annotations

import itertools
import math
import random
from collections.abc import Iterator
from dataclasses import dataclass

from hingeline.balance import Limits
from hingeline.balance.ballast import BallastTask, Place
from hingeline.uncertainty import Measured

NEAR, LIGHT = 1e-9, 1e-7


@dataclass(frozen=True)
class Tried:
    """One plan: the change of mass at each place, brackets in it, and what counts."""

    masses: tuple[float, ...]
    used: frozenset[int]
    moment: float
    size: float
    ratio: float


def options(place: Place) -> Iterator[tuple[float, float, bool]]:
    """Give every change at a place: mass with bracket, its size, whether the place is used."""
    step, present = place.smallest_step, place.present_mass
    added: set[float] = set()
    if place.pieces:
        for count in range(1, len(place.pieces) + 1):
            added |= {round(sum(some), 9) for some in itertools.combinations(place.pieces, count)}
    else:
        assert step is not None
        most = (place.largest_mass or 0.0) - present
        added = {round(count * step, 9) for count in range(1, int(most / step + 1e-6) + 1)}
    bracket = 0.0 if present else place.fixed_mass
    for mass in sorted(added):
        if in_all_holds(place, present + mass + place.fixed_mass):
            yield mass + bracket, mass + bracket, True
    if step is not None:
        for count in range(1, int(present / step + 1e-6) + 1):
            if in_all_holds(place, present - count * step + place.fixed_mass):
                yield -count * step, count * step, True
    # A bracket that is there already does not make what is there too heavy, as long as nothing is changed.
    over = place.largest_mass is not None and present <= place.largest_mass + 1e-9 < present + place.fixed_mass
    if not present or over or in_all_holds(place, present + place.fixed_mass):
        yield 0.0, 0.0, False


def in_all_holds(place: Place, mass: float) -> bool:
    """Whether all that is there lies between the place's smallest and largest mass."""
    above = place.smallest_mass is None or mass >= place.smallest_mass - 1e-9
    return above and (place.largest_mass is None or mass <= place.largest_mass + 1e-9)


def every(task: BallastTask) -> Iterator[Tried]:
    """Try every plan."""
    g = task.local_gravity
    xs = [place.arm * (1 if place.side == "aft" else -1) for place in task.places]
    for chosen in itertools.product(*(list(options(place)) for place in task.places)):
        masses = tuple(each[0] for each in chosen)
        moment = task.moment.value + g * sum(m * x for m, x in zip(masses, xs, strict=True))
        ratio = 0.0
        if task.inertia is not None and task.product_of_inertia is not None:
            inertia = task.inertia + sum(m * x * x for m, x in zip(masses, xs, strict=True))
            product = task.product_of_inertia + sum(
                m * x * (place.spanwise or 0.0) for m, x, place in zip(masses, xs, task.places, strict=True)
            )
            ratio = abs(product) / inertia
        used = frozenset(index for index, each in enumerate(chosen) if each[2])
        yield Tried(masses, used, moment, math.fsum(each[1] for each in chosen), ratio)


def best_of(task: BallastTask, excluded: tuple[frozenset[int], ...] = ()) -> tuple[Tried, bool] | None:
    """Give the best plan in the order asked for, and whether it lies in the band."""
    plans = [each for each in every(task) if not any(used <= each.used for used in excluded)]
    if not plans:
        return None
    low, high = band(task)
    slack = 1e-12
    inside = [
        each
        for each in plans
        if (low is None or each.moment >= low - slack) and (high is None or each.moment <= high + slack)
    ]
    target = aimed_at(task, low, high)
    near = sorted(inside or plans, key=lambda each: abs(each.moment - target))
    nearest = abs(near[0].moment - target)
    near = [each for each in near if abs(each.moment - target) <= max(nearest, NEAR) + 1e-12]
    lightest = min(each.size for each in near)
    light = [each for each in near if each.size <= lightest + LIGHT]
    return min(light, key=lambda each: each.ratio), bool(inside)


def band(task: BallastTask) -> tuple[float | None, float | None]:
    """Give the band of the rule; U does not change with the plan in these cases."""
    draw = (task.moment.expanded_uncertainty or 0.0) if task.limits.rule == "guarded" else 0.0
    hair = 1e-9 if draw else 0.0
    low, high = task.limits.lower, task.limits.upper
    return None if low is None else low + draw + hair, None if high is None else high - draw - hair


def aimed_at(task: BallastTask, low: float | None, high: float | None) -> float:
    """Give the moment aimed at: an end of the band, or the target."""
    if task.target == "moment":
        assert task.target_moment is not None
        wanted = task.target_moment
    elif task.target == "middle":
        assert task.limits.lower is not None
        assert task.limits.upper is not None
        wanted = (task.limits.lower + task.limits.upper) / 2.0
    else:
        wanted = task.moment.value
    if low is not None:
        wanted = max(wanted, low)
    return wanted if high is None else min(wanted, high)


def random_task(seed: int) -> BallastTask:
    """Make a small discrete correction at random, as typed: whole grams and millimetres."""
    dice = random.Random(seed)
    with_dynamics = dice.random() < 0.6
    places = tuple(random_place(dice, index, with_dynamics) for index in range(dice.choice([1, 2, 2, 3])))
    lower, upper = random_limits(dice)
    value = round(dice.uniform(-1.0, 3.0), 3)
    targets = ["nearest", "moment"] + (["middle"] if lower is not None and upper is not None else [])
    target = dice.choice(targets)
    wanted = None
    if target == "moment":
        ends = (
            lower if lower is not None else (upper or 0.0) - 1.0,
            upper if upper is not None else (lower or 0.0) + 1.0,
        )
        wanted = min(max(round(dice.uniform(*ends), 3), ends[0]), ends[1])
    rule = dice.choice(["simple", "guarded"])
    expanded = dice.choice([0.010, 0.044, 0.080])
    carried = sum(place.present_mass * place.arm**2 for place in places)
    return BallastTask(
        moment=Measured(value, expanded / 2.0, expanded, 2.0),
        limits=Limits(lower, upper, rule),  # type: ignore[arg-type]
        places=places,
        target=target,  # type: ignore[arg-type]
        target_moment=wanted,
        inertia=carried + round(dice.uniform(0.01, 0.1), 4) if with_dynamics else None,
        product_of_inertia=round(dice.uniform(-0.1, 0.2), 4) if with_dynamics else None,
    )


def random_limits(dice: random.Random) -> tuple[float | None, float | None]:
    """Give limits, now and then with one end only, or a narrow band."""
    lower = round(dice.uniform(-1.0, 1.0), 2)
    upper = lower + dice.choice([0.02, 0.2, 1.0, 2.1])
    kind = dice.random()
    return (None if kind < 0.15 else lower), (None if kind > 0.85 else round(upper, 2))


def random_room(dice: random.Random, present: int, step: int) -> int:
    """Give what may still be added [g]; now and then more is there than is allowed."""
    if present > step and dice.random() < 0.25:
        return -dice.choice([3, step, 2 * step])
    return dice.randint(1, 12) * step


def random_place(dice: random.Random, index: int, with_dynamics: bool) -> Place:
    """Give a place with steps or pieces."""
    step = dice.choice([5, 10, 20])
    present = dice.choice([0, 0, 1, 4]) * step
    bracket = dice.choice([0, 0, 7, 12])
    pieces: list[int] = []
    if dice.random() < 0.35:
        pieces, present = [dice.choice([15, 20, 25, 40, 60]) for _ in range(dice.randint(1, 5))], 0
    return Place(
        name=f"place {index}",
        arm=dice.choice([60, 110, 120, 180, 180, 238]) / 1000.0,
        side=dice.choice(["forward", "forward", "aft"]),  # type: ignore[arg-type]
        spanwise=dice.choice([0, 400, 900, 1200]) / 1000.0 if with_dynamics else None,
        largest_mass=(present + bracket + random_room(dice, present, step)) / 1000.0,
        smallest_mass=dice.choice([None, None, (bracket + step) / 1000.0]),
        smallest_step=None if pieces else step / 1000.0,
        fixed_mass=bracket / 1000.0,
        pieces=tuple(piece / 1000.0 for piece in pieces),
        present_mass=present / 1000.0,
    )
