"""What the model says of a state: its onset, the onset along one knob with its band, the motion at one speed.

The quick answers come from the fast scan; they are the numbers that the command gives for the same
state, to what is shown, which a test holds. The command proves them by counting; so does ``proved``.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, cast

import numpy as np

from hingeline.flutter import FlutterResult, FlutterTask, analyse, build_system
from hingeline.flutter.onsets import Onsets
from hingeline.flutter.roots import find_roots
from hingeline.flutter.singular import Singular
from hingeline.flutter.variants import onsets_of_multiples, onsets_of_variants
from hingeline.flutter.wake import wake_named
from hingeline_app.why_balance.compiled_way import is_ready
from hingeline_app.why_balance.knobs import GRAVITY
from hingeline_app.why_balance.state import State
from hingeline_app.why_balance.surfaces.surface import Movement

PLACES, CASES, SEED = 36, 60, 7
# Scattered fields by the records that hold them: a number of the field, or another tree.
Tree = Mapping[str, Any]
DAMPING_PLACES = 31


@dataclass(frozen=True, slots=True)
class Point:
    """The onset at one place.

    Parameters
    ----------
    value : float
        Where the knob stands, in its own unit.
    speed : float or None
        Lowest onset [m/s]; None where no growth was found.
    from_the_start : bool
        A motion grows at every speed looked at.
    low, high : float or None
        2.5 % and 97.5 % of the scattered cases [m/s], cases without an onset counted as above all: None where
        that many have none. Both None: no band was asked for, or no case has one.
    """

    value: float
    speed: float | None
    from_the_start: bool
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Motion:
    """The least damped motion at one speed.

    Parameters
    ----------
    speed : float
        [m/s]
    frequency : float
        [Hz]
    growth_rate : float
        [1/s], growing positive.
    damping_ratio : float
        Of critical [1]; below zero it grows.
    movement : Movement
    lag : float or None
        By which the turning follows the plunge, as a part of a cycle, from -1/2 to 1/2; None without both.
    """

    speed: float
    frequency: float
    growth_rate: float
    damping_ratio: float
    movement: Movement
    lag: float | None


def point_of(state: State, *, band: bool = False) -> Point:
    """Give the onset of a state."""
    return points_of([state], band=band)[0]


def points_of(states: Sequence[State], *, band: bool = False) -> list[Point]:
    """Give the onset of several states of one surface, with the band of its scatter where it is asked for."""
    tasks = [state.surface.model(state.settings) for state in states]
    nominal = onsets_of_variants([replace(task, scatter=(), free_play=None) for task in tasks], compiled=is_ready())
    bands = _bands(tasks) if band else [(None, None)] * len(tasks)
    return [
        Point(state.shown[state.axis], _finite(speed), bool(grows), *ends)
        for state, speed, grows, ends in zip(states, nominal.speeds, nominal.growing, bands, strict=True)
    ]


def curve_of(state: State, *, band: bool = True) -> list[Point]:
    """Give the onset along the state's axis, all other knobs held."""
    knob = state.surface.knob(state.axis)
    return points_of([state.moved(**{state.axis: value}) for value in knob.values(PLACES)], band=band)


def draw_by_compiled_loops(states: Sequence[State]) -> None:
    """Draw the bands of some states by the compiled way, so that its loops are there when a page asks."""
    for state in states:
        _bands([state.surface.model(state.settings)], compiled=True)


def _finite(speed: float) -> float | None:
    return float(speed) if math.isfinite(speed) else None


def _bands(tasks: Sequence[FlutterTask], compiled: bool = False) -> list[tuple[float | None, float | None]]:
    """Draw the same cases at every place, so that the band is as smooth as the line."""
    speeds = np.empty((len(tasks), CASES))
    for scatter in {task.scatter for task in tasks}:
        alike = [index for index, task in enumerate(tasks) if task.scatter == scatter]
        found = _cases_together([tasks[index] for index in alike], compiled or is_ready())
        speeds[alike] = np.where(found.growing, 0.0, found.speeds).reshape(len(alike), CASES)
    return [_ends(row) for row in speeds]


def _cases_together(tasks: Sequence[FlutterTask], compiled: bool) -> Onsets:
    """Find the onset of every case of tasks that scatter alike: all of the first, then of the next."""
    plain, factors = [replace(task, scatter=(), free_play=None) for task in tasks], _factors(tasks[0])
    names = [field.field for field in tasks[0].scatter]
    found = onsets_of_multiples(plain, names, np.array(factors), compiled=compiled)
    if found is not None:
        return found
    cases = [_multiplied(task, _tree(tasks[0]), row) for task in plain for row in factors]
    return onsets_of_variants(cases, looked_at=True, compiled=compiled)


def _factors(task: FlutterTask) -> list[list[float]]:
    """Give the factors of each case, a row a case: the draws of ``hingeline flutter --scatter 60 --seed 7``."""
    widths = np.array([field.relative or 0.0 for field in task.scatter])
    draws = np.random.default_rng(np.random.SeedSequence(SEED, spawn_key=(0,))).standard_normal((CASES, len(widths)))
    return cast(list[list[float]], (1.0 + widths * draws).tolist())


def _tree(task: FlutterTask) -> Tree:
    """Give the scattered fields by the records that hold them, so that each record is written once a case."""
    tree: dict[str, Any] = {}
    for number, field in enumerate(task.scatter):
        *way, last = field.field.split(".")
        holder = tree
        for name in way:
            holder = holder.setdefault(name, {})
        holder[last] = number
    return tree


def _multiplied(record: Any, tree: Tree, factors: Sequence[float]) -> Any:
    """Multiply the numbers of nested records by their factors."""
    changes = {}
    for name, inner in tree.items():
        value = getattr(record, name)
        changes[name] = value * factors[inner] if isinstance(inner, int) else _multiplied(value, inner, factors)
    return replace(record, **changes)


def _ends(speeds: np.ndarray[tuple[int], np.dtype[np.float64]]) -> tuple[float | None, float | None]:
    """Give the ends of the middle 95 %; cases without an onset lie above all others."""
    order = np.sort(speeds)
    return _quantile(order, 0.025), _quantile(order, 0.975)


def _quantile(order: np.ndarray[tuple[int], np.dtype[np.float64]], part: float) -> float | None:
    """Give a quantile between neighbours, as the command does; None where it has no finite neighbour above."""
    place = part * (len(order) - 1)
    below, above = order[int(place)], order[math.ceil(place)]
    return _finite(below if below == above else below + (place - int(place)) * (above - below))


def motion_of(state: State) -> Motion | None:
    """Give the least damped motion at the state's speed; None where nothing oscillates there."""
    task, speed = state.surface.model(state.settings), state.settings["speed"]
    system = build_system(replace(task, scatter=(), free_play=None))
    roots = find_roots(system, speed, wake_named(task.wake))
    if not roots:
        return None
    return _motion(state, system.freedoms, max(roots, key=lambda root: root.p.real / abs(root.p)))


def _motion(state: State, freedoms: Sequence[str], root: Singular) -> Motion:
    shape = {name: complex(part) for name, part in zip(freedoms, root.right, strict=True)}
    movement = state.surface.movement(shape)
    turning = movement.surface if state.surface.surface_hinge is not None else movement.pitch
    both = abs(movement.plunge) > 1e-3 * abs(turning) * state.surface.chord > 0.0
    lag = -float(np.angle(turning / movement.plunge)) / (2.0 * math.pi) if both else None
    p = complex(root.p)
    return Motion(root.speed, p.imag / (2.0 * math.pi), p.real, -p.real / abs(p), movement, lag)


def damping_over_speed(state: State) -> list[tuple[float, float | None]]:
    """Give the least damping [1] at even speeds over the range searched; None where nothing oscillates."""
    task = state.surface.model(state.settings)
    system = build_system(replace(task, scatter=(), free_play=None))
    wake = wake_named(task.wake)
    speeds = np.linspace(task.speeds[0], task.speeds[1], DAMPING_PLACES)
    return [(float(speed), _least_damping(find_roots(system, float(speed), wake))) for speed in speeds]


def least_damping(state: State) -> float | None:
    """Give the least damping [1] of any motion at the state's speed; None where nothing oscillates."""
    task = state.surface.model(state.settings)
    system = build_system(replace(task, scatter=(), free_play=None))
    return _least_damping(find_roots(system, state.settings["speed"], wake_named(task.wake)))


def _least_damping(roots: Sequence[Singular]) -> float | None:
    return min((-root.p.real / abs(root.p) for root in roots), default=None)


def proved(state: State) -> FlutterResult:
    """Give the command's own answer for the state: three ways, and the count that proves the lowest.

    Raises
    ------
    InputRefused
        The state makes no model.
    """
    return analyse(replace(state.surface.model(state.settings), scatter=()))


def static_moment(state: State) -> float:
    """Give the static moment [N m] of the state, tail-heavy positive; [N] for one metre of span."""
    return GRAVITY * state.surface.static_moment(state.settings)


def centre_of_gravity(state: State) -> float:
    """Give where the centre of gravity lies, aft of the hinge line [m]; NaN where the model does not say what turns."""
    settings = state.settings
    mass = state.surface.moving_mass(settings)
    return state.surface.static_moment(settings) / mass if mass else math.nan
