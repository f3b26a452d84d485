"""How many roots grow at one speed, counted for many small systems along one path: ``counting``, many at a time.

One path does for all, since it may be longer than a system needs: beyond its own largest root none lies. What
each step of the path is checked against, and what a whole number of turns proves, is the same.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np

from hingeline.flutter.counting import FINEST, FREE, GROWING, LONGEST_STEP, SMALLEST_ANGLE, SMALLEST_PART
from hingeline.flutter.determinants import CUBE, POWERS, Determinants
from hingeline.flutter.stacks import Stack
from hingeline.flutter.system import Array, ComplexArray, Wake
from hingeline.flutter.wake import slope_of
from hingeline.flutter.which_way import CompiledLoops

Counts = np.ndarray[Any, np.dtype[np.int64]]
Flags = np.ndarray[Any, np.dtype[np.bool_]]
UNCOUNTED = -1
MOST_POINTS, AT_ONCE = 6000, 256


@dataclass(frozen=True, slots=True)
class _Points:
    """Points of the path in q = ln p, in order, with each determinant's phase and rate there: (points, s)."""

    q: ComplexArray
    phase: ComplexArray
    rate: ComplexArray


def count_growing_many(
    stack: Stack, whole: Determinants, speed: float, wake: Wake, loops: CompiledLoops | None = None
) -> Counts:
    """Count the growing oscillations of many systems at one speed.

    Parameters
    ----------
    stack : Stack
    whole : Determinants
        Of the same samples.
    speed : float
        True airspeed [m/s].
    wake : callable
    loops : CompiledLoops, optional
        From ``which_way``: the same answer, sooner, for systems in the same air.

    Returns
    -------
    array of int (s,)
        Roots with Re p > 1e-9 |p| and Im p > 0; -1 where the turns make no whole number, or the path would have
        to be too fine.

    Notes
    -----
    Argument principle (Cauchy), as in ``counting``.
    """
    counts = np.full(len(stack.mass), UNCOUNTED, dtype=np.int64)
    for semichord in np.unique(stack.semichord):
        (index,) = np.nonzero(stack.semichord == semichord)
        alike = stack.chosen(index)
        largest = largest_roots(alike, speed)
        radii = (float(largest.min()) * SMALLEST_PART, float(largest.max()))
        if loops is not None and loops.take(wake) and in_one_air(alike):
            counts[index] = loops.count_in_one_air(alike, radii, speed, wake)
            index = index[counts[index] < 0]
        for part in np.array_split(index, -(-len(index) // AT_ONCE)) if len(index) else ():
            counts[part] = _counted(whole.chosen(part), radii, speed, wake)
    return counts


def in_one_air(stack: Stack) -> bool:
    """Say whether all systems of a stack meet the same air."""
    parts = (stack.air_damping, stack.air_stiffness, stack.wake_damping, stack.wake_stiffness, stack.semichord)
    return all(bool((part == part[0]).all()) for part in parts)


def largest_roots(stack: Stack, speed: float) -> Array:
    """Give radii [1/s] beyond which no growing root can lie: (s,). See ``counting.largest_root``."""
    unit = 1 / np.sqrt(np.einsum("sii->si", stack.mass))
    both = unit[:, :, None] * unit[:, None, :]
    inverse = np.linalg.inv(stack.mass * both)

    def size(part: Any) -> Array:
        return np.asarray(np.linalg.norm(inverse @ (part * both), axis=(1, 2)))

    linear = speed * (size(stack.air_damping) + size(stack.wake_damping))
    constant = size(stack.stiffness) + speed**2 * (size(stack.air_stiffness) + size(stack.wake_stiffness))
    return np.asarray(1.01 * (linear + np.sqrt(linear**2 + 4 * constant)) / 2)


def _counted(whole: Determinants, radii: tuple[float, float], speed: float, wake: Wake) -> Counts:
    (inner, outer), (low, high) = np.log(radii), (SMALLEST_ANGLE, np.pi / 2 - GROWING)
    corners = [complex(inner, low), complex(outer, low), complex(outer, high), complex(inner, high)]
    turned = sum(
        (_turned_along(whole, ends, speed, wake) for ends in zip(corners, corners[1:] + corners[:1], strict=True)),
        np.zeros(len(whole.unit)),
    )
    turns = turned / (2 * np.pi)
    whole_number = (np.abs(turns - np.round(turns)) < 1e-6) & (np.round(turns) >= 0)
    return np.where(whole_number, np.round(np.nan_to_num(turns)), UNCOUNTED).astype(np.int64)


def _turned_along(whole: Determinants, ends: tuple[complex, complex], speed: float, wake: Wake) -> Array:
    """Give by how much each determinant's phase turns along one side [rad]; NaN where the path is too coarse."""
    number = max(8, int(4 * abs(ends[1] - ends[0])))
    points = _evaluate(whole, np.asarray(ends[0] + (ends[1] - ends[0]) * np.linspace(0, 1, number + 1)), speed, wake)
    turned, index = np.full(len(whole.unit), np.nan), np.arange(len(whole.unit))
    for _ in range(FINEST):
        turn = np.angle(points.phase[1:] / points.phase[:-1])
        far = _too_far(points, turn)
        more = np.asarray(far.any(axis=0))
        turned[index[~more]] = turn[:, ~more].sum(axis=0)
        index = index[more]
        if not len(index) or len(points.q) > MOST_POINTS:
            break
        points = _finer(points, far[:, more], more, whole.chosen(index), speed, wake)
    return turned


def _finer(points: _Points, far: Flags, more: Flags, whole: Determinants, speed: float, wake: Wake) -> _Points:
    """Halve the steps that are too long for any of the systems that are not done."""
    steps = far.any(axis=1)
    middles = _evaluate(whole, (points.q[:-1][steps] + points.q[1:][steps]) / 2, speed, wake)
    places = np.flatnonzero(steps) + 1
    return _Points(
        np.insert(points.q, places, middles.q),
        np.insert(points.phase[:, more], places, middles.phase, axis=0),
        np.insert(points.rate[:, more], places, middles.rate, axis=0),
    )


def _too_far(points: _Points, turn: Array) -> Flags:
    """Say which steps are long against the distance to a root, for which system."""
    step, size = np.abs(np.diff(points.q))[:, None], np.abs(points.rate)
    long = step * np.maximum(size[:-1], size[1:]) > LONGEST_STEP * FREE
    return np.asarray(long | (np.abs(turn) > LONGEST_STEP))


def _evaluate(whole: Determinants, q: ComplexArray, speed: float, wake: Wake) -> _Points:
    """Give phase and rate d ln det/d ln p of every determinant: z = -p²/unit, x = -1/s, s = p b/U."""
    p = np.asarray(np.exp(q), dtype=complex)
    reduced = np.asarray(p * float(whole.semichord[0]) / speed, dtype=complex)
    basis, moved = _basis(
        reduced, np.asarray(wake(reduced), dtype=complex), slope_of(wake)(reduced) * reduced, whole.values.shape[1]
    )
    flat = whole.values.reshape(CUBE, basis.shape[1], -1)
    square = -(p * p)[:, None] / whole.unit
    value, rate = np.zeros_like(square), np.zeros_like(square)
    for power in range(CUBE - 1, -1, -1):
        given = basis @ flat[power]
        value = value * square + given
        rate = rate * square + (2 * power * given + moved @ flat[power])
    return _Points(q, value / np.abs(value), rate / value)


def _basis(reduced: ComplexArray, delay: ComplexArray, slope: ComplexArray, wakes: int) -> tuple[Any, Any]:
    """Give the products C^c x^m and their derivatives by ln p: (points, c m) each."""
    powers = (-1 / reduced)[:, None] ** np.arange(POWERS)
    falling = -np.arange(POWERS) * powers
    late = [delay[:, None] ** power for power in range(wakes)]
    later = [np.zeros_like(late[0]), *(power * late[power - 1] * slope[:, None] for power in range(1, wakes))]
    return (
        np.hstack([powers * one for one in late]),
        np.hstack([falling * one + powers * other for one, other in zip(late, later, strict=True)]),
    )
