"""A strip of one metre of span: plunge, pitch, control surface, tab."""

from __future__ import annotations

import numpy as np

from hingeline.flutter.assembling import Frame, Stations, symmetric
from hingeline.flutter.strip_air import StripAir, strip_forces, whole_chord_forces
from hingeline.flutter.structures import Section
from hingeline.flutter.system import Array
from hingeline.flutter.tab_air import strip_forces_with_tab

ALL = ("plunge", "pitch", "surface", "tab")


def section_frame(section: Section) -> Frame:
    """Give mass and stiffness of a strip, in the freedoms it has.

    Parameters
    ----------
    section : Section

    Returns
    -------
    Frame
        For one metre of span; without damping.
    """
    motion = section_motion(section)
    mass = motion.T @ section_mass(section) @ motion
    stiffness = motion.T @ section_stiffness(section) @ motion
    return Frame(tuple(section.freedoms), mass, np.zeros_like(mass), stiffness)


def section_mass(section: Section) -> Array:
    """Give M of plunge, pitch, surface and tab.

    Parameters
    ----------
    section : Section

    Returns
    -------
    array (4, 4)

    Notes
    -----
    Kinetic energy of the strip, NACA Report 496, equations of motion (from memory), with a tab that
    moves with its control: every coupling of an outer hinge carries the lever to the inner one.
    Checked against explicit point masses.
    """
    b, a, c = section.semichord, section.elastic_axis, section.hinge_line
    d = c if section.tab_hinge_line is None else section.tab_hinge_line
    plunging = section.mass if section.plunging_mass is None else section.plunging_mass
    s_surface, i_surface = section.surface_static_moment, section.surface_inertia
    s_tab, i_tab = section.tab_static_moment, section.tab_inertia
    return symmetric(
        [
            [plunging],
            [section.pitch_static_moment, section.pitch_inertia],
            [s_surface, i_surface + b * (c - a) * s_surface, i_surface],
            [s_tab, i_tab + b * (d - a) * s_tab, i_tab + b * (d - c) * s_tab, i_tab],
        ]
    )


def section_stiffness(section: Section) -> Array:
    """Give K of plunge, pitch, surface and tab; the tab's spring holds δ at G β."""
    stiffness = np.diag([section.plunge_stiffness, section.pitch_stiffness, section.surface_stiffness, 0.0])
    stretch = np.array([0.0, 0.0, -section.tab_gear, 1.0])
    coupled: Array = stiffness + section.tab_stiffness * np.outer(stretch, stretch)
    return coupled


def section_motion(section: Section) -> Array:
    """Give plunge, pitch, surface and tab as the strip's own freedoms move them.

    A freedom that is left out is held; a tab on a rigid gear follows its control.

    Returns
    -------
    array (4, n)
    """
    motion = np.zeros((4, len(section.freedoms)))
    for column, freedom in enumerate(section.freedoms):
        motion[ALL.index(freedom), column] = 1.0
    if section.tab_rigid_gear is not None:
        motion[3] = section.tab_rigid_gear * motion[2]
    return motion


def section_air(section: Section, density: float) -> list[Stations]:
    """Give the air on a strip of one metre.

    Parameters
    ----------
    section : Section
    density : float
        [kg/m³]

    Returns
    -------
    list of Stations
        One.
    """
    air = air_of(section, density)
    motion = section_motion(section)[: air.circulation_force.shape[-1]]
    return [Stations(air, np.array([section.semichord]), motion[None, :, :], np.ones(1))]


def air_of(section: Section, density: float) -> StripAir:
    """Choose the strip with as many hinges as move."""
    b, a, c, d = section.semichord, section.elastic_axis, section.hinge_line, section.tab_hinge_line
    if d is not None and ("tab" in section.freedoms or section.tab_rigid_gear is not None):
        return strip_forces_with_tab(b, a, c, d, density)
    if "surface" in section.freedoms:
        return strip_forces(b, a, c, density)
    return whole_chord_forces(b, a, density)
