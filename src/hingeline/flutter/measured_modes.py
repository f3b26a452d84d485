"""Measured or computed modes with the control locked, and the control added to them by strips."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.assembling import Frame, Stations, point_mass, symmetric
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.structures import Modes, ModeStrip, ModeWeight
from hingeline.flutter.system import Array

TWO_PI = 2.0 * float(np.pi)


def modes_frame(modes: Modes) -> Frame:
    """Give mass and stiffness of measured modes with a control.

    Parameters
    ----------
    modes : Modes

    Returns
    -------
    Frame
        Freedoms: the modes, then the control surface.

    Notes
    -----
    M = diag(μ, 0) + Σ width Tᵀ m T + Σ m v vᵀ. The pairs of modes get nothing from the control's own
    mass: the generalised masses hold it. Weights were off when the modes were measured, so they add
    everything; one that was on adds only what moves with the control (own derivation).
    """
    size = len(modes.modes) + 1
    mass, stiffness = np.zeros((size, size)), np.zeros((size, size))
    for index, mode in enumerate(modes.modes):
        mass[index, index] = mode.generalised_mass
        stiffness[index, index] = mode.generalised_mass * (TWO_PI * mode.frequency) ** 2
    for strip in modes.strips:
        motion = plain_motion(strip)
        mass += strip.width * (motion.T @ mass_of_strip(strip) @ motion)
    for weight in modes.weights:
        mass += mass_of_weight(weight)
    stiffness[-1, -1] = modes.surface_stiffness
    names = tuple(f"mode {number}" for number in range(1, size))
    return Frame((*names, "surface"), mass, np.zeros_like(mass), stiffness)


def mass_of_strip(strip: ModeStrip) -> Array:
    """Give what the control adds to plunge, pitch and surface, for one metre of span."""
    lever = strip.semichord * (strip.hinge_line - strip.axis)
    moment, inertia = strip.surface_static_moment, strip.surface_inertia
    return symmetric([[0.0], [0.0, 0.0], [moment, lever * moment + inertia, inertia]])


def mass_of_weight(weight: ModeWeight) -> Array:
    """Give what a balance weight adds, with v = [plunge + x pitch of each mode, -arm]."""
    by_mode = np.asarray(weight.plunge) + weight.axis_to_weight * np.asarray(weight.pitch)
    added = point_mass(weight.mass, np.append(by_mode, -weight.arm))
    if weight.on_when_measured:
        added[:-1, :-1] = 0.0
    return added


def plain_motion(strip: ModeStrip) -> Array:
    """Give plunge, pitch and surface angle of a strip for each freedom: (3, n)."""
    motion = np.zeros((3, len(strip.plunge) + 1))
    motion[0, :-1], motion[1, :-1], motion[2, -1] = strip.plunge, strip.pitch, strip.surface
    return motion


def air_motion(strip: ModeStrip) -> Array:
    """Give the same as the air sees it: on a horn strip the whole chord turns about the hinge line."""
    motion = plain_motion(strip)
    if strip.horn:
        lever = strip.semichord * (strip.hinge_line - strip.axis)
        motion[:, -1] = -lever * strip.surface, strip.surface, 0.0
    return motion


def modes_air(modes: Modes, density: float) -> list[Stations]:
    """Give the air on the strips, each with its own chord.

    Parameters
    ----------
    modes : Modes
    density : float
        [kg/m³]

    Returns
    -------
    list of Stations
        One, with a stack of strips.
    """
    semichord, axis, hinge, width = (
        np.array([getattr(strip, name) for strip in modes.strips], dtype=np.float64)
        for name in ("semichord", "axis", "hinge_line", "width")
    )
    air = strip_forces(semichord, axis, hinge, density)
    motion = np.stack([air_motion(strip) for strip in modes.strips])
    return [Stations(air, semichord, motion, width)]
