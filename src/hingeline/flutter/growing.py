"""What grows, and whether it grew from the start: proof of "lowest" and of "none in this range" by counting.

A search for crossings alone would call a model free of flutter whose root grows at every speed in
proportion to it (a free tab on a free control). So the number of growing roots is counted at the
ends of the range, between all neutral points, and at speeds in between, and must add up.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise

import numpy as np

from hingeline.errors import RoutesDisagree
from hingeline.flutter.counting import SMALLEST_ANGLE, count_growing
from hingeline.flutter.neutral_points import NeutralPoint
from hingeline.flutter.system import AeroelasticSystem, Wake

SPEEDS_BETWEEN = 9
ASIDE = 1e-7
Count = Callable[[float], int]


@dataclass(frozen=True, slots=True)
class Growth:
    """How many roots grow, by speed.

    Parameters
    ----------
    speeds : tuple of float
        Where it was counted, rising [m/s].
    counts : tuple of int
        Growing oscillations at each.
    turned_static : tuple of float
        Speeds at which a growing oscillation slowed down into a growth without swinging, or came out of
        one [m/s].
    """

    speeds: tuple[float, ...]
    counts: tuple[int, ...]
    turned_static: tuple[float, ...] = ()

    @property
    def at_lowest(self) -> int:
        """Growing oscillations at the lowest speed."""
        return self.counts[0]

    @property
    def everywhere(self) -> bool:
        """Whether something grows at every speed that was counted."""
        return min(self.counts) > 0


def prove(
    system: AeroelasticSystem,
    speeds: tuple[float, float],
    wake: Wake,
    points: Sequence[NeutralPoint],
    count: Count | None = None,
) -> Growth:
    """Show by counting that the neutral points found are all there are.

    Parameters
    ----------
    system : AeroelasticSystem
    speeds : (float, float)
        Range searched [m/s].
    wake : callable
    points : sequence of NeutralPoint
        By speed.
    count : callable, optional
        Another way to count at one speed.

    Returns
    -------
    Growth

    Raises
    ------
    RoutesDisagree
        The count changes where no neutral point was found, or does not change where one was.

    Notes
    -----
    Two crossings in opposite directions between neighbouring speeds would both be missed by the count; that
    the branches of ``branches`` leave none there is the other half of the proof.
    """
    number = count or (lambda speed: count_growing(system, speed, wake))
    places = _places(speeds, [point.speed for point in points])
    counts = [number(place) for place in places]
    excess = [had - _explained(points, place) for had, place in zip(counts, places, strict=True)]
    turned = [
        _through_the_ray(system, wake, points, (places[index - 1], places[index]), number)
        for index in range(1, len(places))
        if excess[index] != excess[index - 1]
    ]
    return Growth(tuple(places), tuple(counts), tuple(turned))


def _explained(points: Sequence[NeutralPoint], speed: float) -> int:
    """Give how many more roots grow at a speed than at the lowest, by the neutral points."""
    return sum(1 if point.direction == "into" else -1 for point in points if point.speed < speed)


def _places(speeds: tuple[float, float], found: Sequence[float]) -> list[float]:
    """Give the speeds to count at: the ends, between the neutral points, and some more, none beside one."""
    ends = [speeds[0], *found, speeds[1]]
    middles = [(low + high) / 2 for low, high in pairwise(ends)]
    more = np.geomspace(*speeds, SPEEDS_BETWEEN + 2)[1:-1].tolist()
    wanted = sorted({speeds[0], speeds[1], *middles, *more})
    return [place for place in wanted if all(abs(place - speed) > 1e-9 * speed for speed in found)]


def _through_the_ray(
    system: AeroelasticSystem,
    wake: Wake,
    points: Sequence[NeutralPoint],
    between: tuple[float, float],
    count: Count,
) -> float:
    """Find the speed at which a growing root passed the small angle from the real axis; raise if none did.

    Where the count changes although no neutral point is there, the count with half the angle must not: then the
    root went through the ray and not through the imaginary axis.
    """
    low, high = between
    first = count(low) - _explained(points, low)
    for _ in range(34):
        middle = (low + high) / 2
        if count(middle) - _explained(points, middle) == first:
            low = middle
        else:
            high = middle
    ends = (low * (1 - ASIDE), high * (1 + ASIDE))
    half = [count_growing(system, speed, wake, smallest_angle=SMALLEST_ANGLE / 2) for speed in ends]
    beside = any(ends[0] < point.speed < ends[1] for point in points)
    if half[0] != half[1] or beside:
        raise RoutesDisagree(
            "number of growing roots", f"{half[0]} at {low!r} m/s", f"{half[1]} at {high!r} m/s",
            "the neutral points found",
        )  # fmt: skip
    return (low + high) / 2
