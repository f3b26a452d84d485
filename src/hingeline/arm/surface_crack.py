"""How a crack that begins in the surface of a tube grows through the wall and then round it."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass

from hingeline.arm.crack_geometry import surface_crack_factors
from hingeline.arm.growth import MEGA

_STEPS = 400
DEEPEST, AT_SURFACE = math.pi / 2.0, 0.0

Slopes = tuple[float, float]


@dataclass(frozen=True, slots=True)
class SurfaceCrack:
    """A part-elliptical crack in the outer surface, and what drives it.

    Parameters
    ----------
    depth, half_length, wall : float
        [m]
    constant, exponent : float
        C [m/(MPa √m)^m] and m.
    stress_range : float
        [Pa]
    """

    depth: float
    half_length: float
    wall: float
    constant: float
    exponent: float
    stress_range: float

    def intensity(self, stress: float, depth: float, half_length: float, place: float) -> float:
        """Give K at a place of the front, with the factors of tension [Pa √m]."""
        factor, _ = surface_crack_factors(depth, half_length, self.wall, place)
        return factor * stress * math.sqrt(math.pi * depth)

    def worst_intensity(self, stress: float, depth: float, half_length: float) -> float:
        """Give the larger K of the deepest point and the surface [Pa √m]."""
        return max(self.intensity(stress, depth, half_length, place) for place in (DEEPEST, AT_SURFACE))

    def slopes(self, depth: float, half_length: float) -> Slopes:
        """Give the growth of half length, and the cycles, for a growth of depth [1, 1/m]."""
        inward, along = (
            self.constant * (self.intensity(self.stress_range, depth, half_length, place) / MEGA) ** self.exponent
            for place in (DEEPEST, AT_SURFACE)
        )
        return along / inward, 1.0 / inward


@dataclass(frozen=True, slots=True)
class Stage:
    """A surface crack at one moment: depth and half length [m], cycles since the start [1]."""

    depth: float
    half_length: float
    cycles: float


def through_the_wall(crack: SurfaceCrack, ends: Callable[[Stage], bool]) -> list[Stage]:
    """Follow a surface crack inward until ``ends`` says so, or until it is through the wall.

    Returns
    -------
    list of Stage
        From the start to the end, step by step.

    Notes
    -----
    da/dN and dc/dN each by K at its own place; Runge and Kutta, fourth order, even steps of the depth's logarithm.
    The step in which it ends is shortened to the point.
    """
    width = math.log(crack.wall / crack.depth) / _STEPS
    stages = [Stage(crack.depth, crack.half_length, 0.0)]
    if ends(stages[0]):
        return stages
    for _ in range(_STEPS):
        stage = _step(crack, stages[-1], width)
        if ends(stage):
            return [*stages, _shortened(crack, stages[-1], width, ends)]
        stages.append(stage)
    return stages


def _shortened(crack: SurfaceCrack, stage: Stage, width: float, ends: Callable[[Stage], bool]) -> Stage:
    low, high = 0.0, width
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (low, middle) if ends(_step(crack, stage, middle)) else (middle, high)
    return _step(crack, stage, high)


def _step(crack: SurfaceCrack, stage: Stage, width: float) -> Stage:
    """Go one step of Runge and Kutta in ln a."""

    def slopes(part: float, along: float) -> Slopes:
        depth = min(stage.depth * math.exp(part * width), crack.wall)
        growth, cycles = crack.slopes(depth, stage.half_length + along)
        return growth * depth * width, cycles * depth * width

    first = slopes(0.0, 0.0)
    second = slopes(0.5, first[0] / 2.0)
    third = slopes(0.5, second[0] / 2.0)
    fourth = slopes(1.0, third[0])
    along, cycles = (
        (one + 2.0 * two + 2.0 * three + four) / 6.0
        for one, two, three, four in zip(first, second, third, fourth, strict=True)
    )
    depth = min(stage.depth * math.exp(width), crack.wall)
    return Stage(depth, stage.half_length + along, stage.cycles + cycles)


def through_the_wall_again(crack: SurfaceCrack, depth: float) -> Stage:
    """Follow the same crack to a depth by an adaptive routine: the second way.

    Raises
    ------
    ArithmeticError
        It does not settle.
    """
    from scipy.integrate import solve_ivp

    found = solve_ivp(
        lambda at, state: crack.slopes(at, state[0]), (crack.depth, depth), (crack.half_length, 0.0),
        method="DOP853", rtol=1e-10, atol=1e-14,
    )  # fmt: skip
    if not found.success:
        raise ArithmeticError(f"the growth of a surface crack to {depth} does not settle")
    return Stage(depth, float(found.y[0][-1]), float(found.y[1][-1]))
