"""Onset speeds of many variants of one model: by the fast scan where it can, one by one where it cannot.

An onset is the lowest crossing into growth; where something grows at the lowest speed already there is none,
and that is said. For the fast scan the roots at the lowest speed are found by Newton from the motions in
still air; where that does not settle on as many roots as there are freedoms, they are counted.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np

from hingeline.flutter.build import build_system
from hingeline.flutter.coalescence import find_coalescences, growing_pairs, is_undamped
from hingeline.flutter.counting import GROWING, count_growing
from hingeline.flutter.counting_many import Counts, count_growing_many
from hingeline.flutter.determinants import Determinants, expand, local
from hingeline.flutter.fast_scan import scan
from hingeline.flutter.model import FlutterTask
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.stacks import Stack, changed, stack_of
from hingeline.flutter.system import AeroelasticSystem, Array, ComplexArray, Wake, WakeGroup
from hingeline.flutter.wake import slope_of, wake_named
from hingeline.flutter.which_way import CompiledLoops

STEPS = 25
SETTLED = 1e-12
APART = 1e-6
Flags = np.ndarray[Any, np.dtype[np.bool_]]


@dataclass(frozen=True, slots=True)
class Onsets:
    """What each variant does.

    Parameters
    ----------
    speeds : array (s,)
        Lowest crossing into growth [m/s]; infinite where there is none in the range.
    growing : array of bool (s,)
        Something grows at the lowest speed already; the speed is then infinite too.
    begins_again : array of bool (s,), optional
        Growth ends within the range and begins again at a higher speed; None where nobody looked.
    """

    speeds: Array
    growing: Flags
    begins_again: Flags | None = None


def onsets_of(
    task: FlutterTask, names: Sequence[str], values: Array, *, thorough: bool = False,
    loops: CompiledLoops | None = None,
) -> Onsets:  # fmt: skip
    """Find the onset of every variant of a task.

    Parameters
    ----------
    task : FlutterTask
    names : sequence of str
        Dotted names of the fields that vary.
    values : array (s, f)
        [SI]
    thorough : bool
        One by one, by the k-method and by counting, where the fast scan would do too.
    loops : CompiledLoops, optional
        From ``which_way``: the same answer, sooner.

    Returns
    -------
    Onsets
    """
    wake, speeds = wake_named(task.wake), (task.speeds[0], task.speeds[1])
    stack = None if thorough else _fast(task, names, values, wake)
    if stack is not None:
        return onsets_of_stack(stack, speeds, wake, loops)
    return one_by_one([build_system(changed(task, names, row)) for row in values], speeds, wake)


def onsets_of_stack(
    stack: Stack, speeds: tuple[float, float], wake: Wake, loops: CompiledLoops | None = None
) -> Onsets:
    """Find the onset of every system of a stack, by the fast scan.

    Parameters
    ----------
    stack : Stack
        Of systems that something damps or feeds.
    speeds : (float, float)
        [m/s]
    wake : callable
    loops : CompiledLoops, optional
        From ``which_way``: the same answer, sooner.

    Returns
    -------
    Onsets
    """
    whole = expand(stack, None if loops is None else loops.expanded)
    found = scan(whole, speeds, wake, loops)
    counts = growing_number_at(stack, whole, speeds[0], wake, loops)
    growing = counts > 0
    lowest = np.full(len(stack.mass), np.inf)
    np.minimum.at(lowest, found.sample[found.into], found.speed[found.into])
    return Onsets(np.where(growing, np.inf, lowest), growing, begin_again(found.sample, found.into, counts))


def one_by_one(systems: Sequence[AeroelasticSystem], speeds: tuple[float, float], wake: Wake) -> Onsets:
    """Find the onset of each system, thoroughly: by the k-method and by counting.

    Parameters
    ----------
    systems : sequence of AeroelasticSystem
    speeds : (float, float)
        [m/s]
    wake : callable

    Returns
    -------
    Onsets
    """
    each = [_one(system, speeds, wake) for system in systems]
    growing, again = (np.array([one[place] for one in each], dtype=bool) for place in (1, 2))
    return Onsets(np.array([one[0] for one in each], dtype=float), growing, again)


def _fast(task: FlutterTask, names: Sequence[str], values: Array, wake: Wake) -> Stack | None:
    if len(values) == 0 or is_undamped(build_system(task), wake):
        return None
    return stack_of(task, names, values)


def _one(system: AeroelasticSystem, speeds: tuple[float, float], wake: Wake) -> tuple[float, bool, bool]:
    """Find the onset of one system, thoroughly; whether something grows from the start; whether growth begins again."""
    if is_undamped(system, wake):
        points = find_coalescences(system, speeds)
        growing = growing_pairs(system, speeds[0])
    else:
        points = find_neutral_points(system, speeds, wake)
        growing = count_growing(system, speeds[0], wake)
    lowest = min((point.speed for point in points if point.direction == "into"), default=np.inf)
    into = np.array([point.direction == "into" for point in sorted(points, key=lambda one: one.speed)], dtype=bool)
    again = begin_again(np.zeros(len(into), dtype=np.int64), into, np.array([growing]))
    return (np.inf if growing else float(lowest)), growing > 0, bool(again[0])


def begin_again(sample: Counts, into: Flags, growing: Counts) -> Flags:
    """Say of which samples growth ends and begins again at a higher speed.

    Parameters
    ----------
    sample : array of int (c,)
        Of each neutral point, by sample and speed.
    into : array of bool (c,)
        A motion goes into growth there.
    growing : array of int (s,)
        How many motions grow at the lowest speed.

    Returns
    -------
    array of bool (s,)
        True where no motion grows any more between two ranges in which some do.
    """
    step = np.where(into, 1, -1)
    passed = np.cumsum(step) - step
    first = np.searchsorted(sample, sample)
    before = growing[sample] + passed - passed[first]
    starts = np.bincount(sample[into & (before <= 0)], minlength=len(growing)) + (growing > 0)
    return np.asarray(starts > 1)


def growing_at(
    stack: Stack, whole: Determinants, speed: float, wake: Wake, loops: CompiledLoops | None = None
) -> Flags:
    """Say which samples have a growing oscillation at one speed.

    Parameters
    ----------
    stack : Stack
    whole : Determinants
        Of the same samples.
    speed : float
        [m/s]
    wake : callable
    loops : CompiledLoops, optional

    Returns
    -------
    array of bool (s,)
    """
    return growing_number_at(stack, whole, speed, wake, loops) > 0


def growing_number_at(
    stack: Stack, whole: Determinants, speed: float, wake: Wake, loops: CompiledLoops | None = None
) -> Counts:
    """Count the growing oscillations of each sample at one speed; as :func:`growing_at`."""
    (held,) = np.nonzero(whole.free == (3 - stack.mass.shape[-1]))
    growing, sure = np.zeros(len(stack.mass), dtype=np.int64), np.zeros(len(stack.mass), dtype=bool)
    if loops is None or not loops.take(wake):
        roots, settled = _roots(stack.chosen(held), whole.chosen(held), speed, wake)
    else:
        roots, settled = loops.roots_of_many(stack.chosen(held), speed, wake)
    growing[held], sure[held] = (roots.real > GROWING * np.abs(roots)).sum(axis=1), settled
    (unsure,) = np.nonzero(~sure)
    if len(unsure):
        growing[unsure] = _counted(stack.chosen(unsure), whole.chosen(unsure), speed, wake, loops)
    return growing


def _counted(stack: Stack, whole: Determinants, speed: float, wake: Wake, loops: CompiledLoops | None) -> Counts:
    """Count the growing roots of each sample along one path; apart where that path does not do."""
    counts = count_growing_many(stack, whole, speed, wake, loops)
    for index in np.flatnonzero(counts < 0):
        counts[index] = count_growing(_system(stack, int(index)), speed, wake)
    return counts


def _roots(stack: Stack, whole: Determinants, speed: float, wake: Wake) -> tuple[ComplexArray, Flags]:
    """Find a root for each freedom of each sample, all at once (Aberth: each keeps off the others): (s, n)."""
    free = 3 - stack.mass.shape[-1]
    roots = _still_air(stack).T
    change, good = roots.copy(), np.zeros(roots.shape, dtype=bool)
    with np.errstate(all="ignore"):
        for _ in range(STEPS):
            for mode in range(len(roots)):
                p = roots[mode]
                place, reduced = -speed / (p * whole.semichord), p * whole.semichord / speed
                here = local(whole, free, -p * p / whole.unit, place, wake(reduced))
                slope = -2 * p * here.by_square / whole.unit - here.by_place * place / p
                slope = slope + here.by_wake * slope_of(wake)(reduced) * whole.semichord / speed
                others = sum((1 / (p - roots[other]) for other in range(len(roots)) if other != mode), np.zeros_like(p))
                change[mode] = here.value / (slope - here.value * others)
                step = np.abs(change[mode]) / np.abs(p)
                roots[mode] = p - change[mode] / np.maximum(1, 5 * np.nan_to_num(step, nan=np.inf))
            good = (np.abs(change) < SETTLED * np.abs(roots)) & (roots.imag > 1e-3 * np.abs(roots))
            if good.all():
                break
        apart = [np.abs(roots[i] - roots[j]) > APART * np.abs(roots[i]) for i in range(len(roots)) for j in range(i)]
        return roots.T, good.all(axis=0) & np.all(apart, axis=0)


def _still_air(stack: Stack) -> ComplexArray:
    """Give the roots with the air's mass but without its forces: (s, n)."""
    inverse = np.linalg.inv(np.linalg.cholesky(stack.mass))
    held = inverse @ stack.stiffness.real @ inverse.transpose(0, 2, 1)
    squares = np.linalg.eigvalsh((held + held.transpose(0, 2, 1)) / 2)
    return np.asarray(1j * np.sqrt(np.maximum(squares, 0.0)))


def _system(stack: Stack, index: int) -> AeroelasticSystem:
    """Give one sample of a stack as a system, its stiffness undamped where it has no diagonal."""
    held = stack.stiffness[index]
    diagonal = np.diag(held)
    damping = np.divide(diagonal.imag, diagonal.real, out=np.zeros(len(diagonal)), where=diagonal.real != 0)
    size = len(held)
    return AeroelasticSystem(
        tuple(f"freedom {number}" for number in range(1, size + 1)),
        stack.structure[index], np.zeros((size, size)), held.real, damping,
        stack.mass[index] - stack.structure[index], stack.air_damping[index], stack.air_stiffness[index],
        (WakeGroup(float(stack.semichord[index]), stack.wake_damping[index], stack.wake_stiffness[index]),),
    )  # fmt: skip
