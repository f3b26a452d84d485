"""Many models of one shape at once: their matrices, stacked.

What scatter, sweeps and maps need is thousands of systems that differ in a few numbers. For a strip or a wing whose
masses, moments, inertias and stiffnesses vary, every matrix is a straight line in each of them, so
that two builds per field give all of them; anything else is built one by one.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields, replace
from functools import lru_cache

import numpy as np

from hingeline.flutter.build import build_system, frame_of
from hingeline.flutter.dotted import fields_of, with_known, with_value
from hingeline.flutter.model import FlutterTask
from hingeline.flutter.system import (
    AeroelasticSystem,
    Array,
    ComplexArray,
    merged,
    stiffness_with_damping,
    whole_mass,
)

_OF_A_STRIP = (
    "mass", "plunging_mass", "pitch_static_moment", "surface_static_moment", "pitch_inertia", "surface_inertia",
    "plunge_stiffness", "pitch_stiffness", "surface_stiffness", "tab_static_moment", "tab_inertia", "tab_stiffness",
)  # fmt: skip
# Not the wing's static offset, which multiplies its mass.
_OF_A_WING = (
    "mass", "inertia", "bending_stiffness", "torsion_stiffness", "aileron.mass", "aileron.inertia", "aileron.stiffness",
)  # fmt: skip
STRAIGHT = frozenset([f"section.{name}" for name in _OF_A_STRIP] + [f"wing.{name}" for name in _OF_A_WING])
CHANGING = ("structure", "mass", "stiffness")


@dataclass(frozen=True, slots=True)
class Stack:
    """Matrices of many systems with one wake and no viscous damping; s samples, n freedoms.

    Parameters
    ----------
    structure : array (s, n, n)
        M, without the air.
    mass : array (s, n, n)
        M + Ma.
    stiffness : array (s, n, n)
        K (1 + i g); real where nothing damps.
    air_damping, air_stiffness, wake_damping, wake_stiffness : array (s, n, n)
        Bn, Kn, Bc, Kc.
    semichord : array (s,)
        b [m].
    """

    structure: Array
    mass: Array
    stiffness: ComplexArray
    air_damping: Array
    air_stiffness: Array
    wake_damping: Array
    wake_stiffness: Array
    semichord: Array

    def chosen(self, index: object) -> Stack:
        """Give some of the samples."""
        return Stack(*(getattr(self, field.name)[index] for field in fields(self)))


def stackable(system: AeroelasticSystem) -> bool:
    """Say whether the fast scan can take such a system: two or three freedoms, one wake, no viscous damping."""
    plain = merged(system)
    return len(plain.wakes) == 1 and len(plain.mass) in (2, 3) and not plain.damping.any()


def one_of(system: AeroelasticSystem) -> Stack:
    """Give a stack of one system that :func:`stackable` lets pass."""
    plain = merged(system)
    (group,) = plain.wakes
    stiffness = stiffness_with_damping(plain)
    parts = (
        plain.mass, whole_mass(plain), stiffness if stiffness.imag.any() else stiffness.real,
        plain.air_damping, plain.air_stiffness, group.damping, group.stiffness, group.semichord,
    )  # fmt: skip
    return Stack(*(np.asarray(part)[None] for part in parts))


def stacked(systems: Sequence[AeroelasticSystem]) -> Stack:
    """Stack systems of one shape."""
    return joined([one_of(system) for system in systems])


def joined(stacks: Sequence[Stack]) -> Stack:
    """Put stacks one after the other."""
    return Stack(*(np.concatenate([getattr(one, field.name) for one in stacks]) for field in fields(Stack)))


def stack_of(task: FlutterTask, names: Sequence[str], values: Array) -> Stack | None:
    """Give the stack of a task with some of its fields changed.

    Parameters
    ----------
    task : FlutterTask
    names : sequence of str
        Dotted names.
    values : array (s, f)
        [SI]

    Returns
    -------
    Stack or None
        None where the fast scan cannot take the systems.
    """
    nominal = build_system(task)
    if not stackable(nominal):
        return None
    if is_straight(task, names):
        return _straight(task, names, values)
    return stacked([build_system(changed(task, names, row)) for row in values])


def is_straight(task: FlutterTask, names: Sequence[str]) -> bool:
    """Say whether every matrix is a straight line in each of these fields, and in none of their products.

    Damping that is stated for modes is none: it goes with the modes.
    """
    return bool(names) and not task.damping_ratios and all(name in STRAIGHT for name in names)


def masses_of(task: FlutterTask, names: Sequence[str], values: Array) -> Array:
    """Give the mass matrix, without air, of every variant of a task: (s, n, n)."""
    if is_straight(task, names) and stackable(build_system(task)):
        return _straight(task, names, values).structure
    base = frame_of(task.structure).mass
    each = [frame_of(changed(task, names, row).structure).mass for row in values]
    return np.array(each).reshape(-1, *base.shape)


def changed(task: FlutterTask, names: Sequence[str], row: Array) -> FlutterTask:
    """Give a task with some of its fields changed."""
    for name, value in zip(names, row, strict=True):
        task = with_value(task, name, float(value))
    return task


def _straight(task: FlutterTask, names: Sequence[str], values: Array) -> Stack:
    """Add up what each field changes; exact but for rounding, since every matrix is a straight line in each."""
    base, slopes = _slopes(task, tuple(names))
    parts = {field.name: np.repeat(getattr(base, field.name), len(values), axis=0) for field in fields(base)}
    for index, (now, slope) in enumerate(slopes):
        part = (values[:, index] - now)[:, None, None]
        for matrix, by_field in slope.items():
            parts[matrix] = parts[matrix] + part * by_field
    return Stack(**parts)


@lru_cache(maxsize=8)
def _slopes(task: FlutterTask, names: tuple[str, ...]) -> tuple[Stack, list[tuple[float, dict[str, Array]]]]:
    """Give the nominal matrices, and of each field its value and the matrices that change, by one unit of it."""
    system, slopes = build_system(task), []
    base, known = one_of(system), fields_of(task)
    for name in names:
        now = known[name]
        step = now if now else 1.0
        frame = frame_of(with_known(task, name, now + step).structure)
        other = one_of(replace(system, mass=frame.mass, stiffness=frame.stiffness))
        change = {matrix: (getattr(other, matrix) - getattr(base, matrix)) / step for matrix in CHANGING}
        slopes.append((now, {matrix: by_field for matrix, by_field in change.items() if by_field.any()}))
    return base, slopes
