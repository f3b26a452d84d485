"""A mode in words: which freedoms move, how much, and which leads."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.model import ShapePart
from hingeline.flutter.system import AeroelasticSystem, ComplexArray, largest_semichord

LENGTHS = ("plunge", "bending", "weight")
"""Freedoms that are lengths; they are counted in semichords, so that they compare with angles [rad]."""
MUCH, SOME = 0.5, 0.1
IN_STEP = np.deg2rad(10.0)


def shape_parts(system: AeroelasticSystem, shape: ComplexArray) -> tuple[ShapePart, ...]:
    """Give what each freedom does: magnitude over the largest, phase against it.

    Parameters
    ----------
    system : AeroelasticSystem
    shape : array (n,)
        In metres and radians.

    Returns
    -------
    tuple of ShapePart
        Lengths in (largest) semichords, angles in radians; phase in (-π, π], above 0: ahead of the largest.
    """
    chord = largest_semichord(system)
    units = np.array([1 / chord if name.startswith(LENGTHS) else 1.0 for name in system.freedoms])
    told = shape * units
    sizes = np.abs(told)
    phases = np.where(sizes > 0, np.angle(told * np.conj(told[sizes.argmax()])), 0.0)
    phases[sizes.argmax()] = 0.0
    return tuple(
        ShapePart(name, float(size / sizes.max()), float(phase))
        for name, size, phase in zip(system.freedoms, sizes, phases, strict=True)
    )


def mode_words(system: AeroelasticSystem, shape: ComplexArray) -> str:
    """Say a mode in words.

    Parameters
    ----------
    system : AeroelasticSystem
    shape : array (n,)

    Returns
    -------
    str
        Such as ``"plunge with pitch (63° behind), some surface (170° ahead)"``; what moves less than a tenth
        is left out.

    Notes
    -----
    A freedom's part is the root of its share of the kinetic energy, |x| √M, so that metres and radians compare.
    """
    parts = np.asarray(shape) * np.sqrt(np.diag(system.mass))
    order = np.argsort(-np.abs(parts), kind="stable")
    first = parts[order[0]]
    told = [(system.freedoms[index], parts[index] / first) for index in order[1:]]
    much = [f"{name} ({_phase(part)})" for name, part in told if abs(part) >= MUCH]
    some = [f"some {name} ({_phase(part)})" for name, part in told if SOME <= abs(part) < MUCH]
    leader = system.freedoms[order[0]]
    if not much and not some:
        return f"{leader} alone"
    return f"{leader} with {', '.join([*much, *some])}"


def _phase(part: complex) -> str:
    angle = float(np.angle(part))
    if abs(angle) < IN_STEP:
        return "in step"
    if abs(angle) > np.pi - IN_STEP:
        return "opposite"
    return f"{abs(np.rad2deg(angle)):.0f}° {'ahead' if angle > 0 else 'behind'}"
