"""What a held control is there for: the lift of a section, the rolling moment of a wing; and where it reverses."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from hingeline.flutter.build import build_system, density_of
from hingeline.flutter.model import FlutterTask, Section, Wing
from hingeline.flutter.reversal import reversal_speeds
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.system import Array, static_air_stiffness
from hingeline.flutter.wing import stretches


def reversals_of(task: FlutterTask) -> tuple[float, ...]:
    """Find the speeds at which the control of a task reverses.

    Parameters
    ----------
    task : FlutterTask

    Returns
    -------
    tuple of float
        True airspeed, rising [m/s]; empty for a structure without a control that can reverse here: a section
        without surface or without anything that twists, a wing without aileron, a tailplane, measured modes.
    """
    structure = task.structure
    if isinstance(structure, Section):
        return _of_section(task, structure)
    if isinstance(structure, Wing) and structure.aileron is not None:
        return _of_wing(task, structure)
    return ()


def _of_section(task: FlutterTask, section: Section) -> tuple[float, ...]:
    if not {"surface", "pitch", "plunge"} <= set(section.freedoms):
        return ()
    system = build_system(task)
    lift = static_air_stiffness(system)[section.freedoms.index("plunge")]
    return reversal_speeds(system, section.freedoms.index("surface"), lift)


def _of_wing(task: FlutterTask, wing: Wing) -> tuple[float, ...]:
    assert wing.aileron is not None
    moving = replace(wing, aileron=replace(wing.aileron, locked=False))
    system = build_system(replace(task, wing=moving))
    load = task.lift_slope_factor * rolling_moment(moving, density_of(task.air))
    return reversal_speeds(system, len(system.freedoms) - 1, load)


def rolling_moment(wing: Wing, density: float) -> Array:
    """Give the static rolling moment about the root over U² for each freedom of a wing.

    Parameters
    ----------
    wing : Wing
    density : float
        [kg/m³]

    Returns
    -------
    array (n,)
        ∫ y (lift of the strip) dy for a unit of each freedom.
    """
    hinge = 0.0 if wing.aileron is None else wing.aileron.hinge_line
    air = strip_forces(wing.semichord, wing.elastic_axis, hinge, density)
    lift = (air.air_stiffness + air.delayed_stiffness)[0]
    total: Array = sum(
        (np.einsum("s,k,skn->n", part.widths * part.places, lift, part.motion) for part in stretches(wing)),
        np.zeros(1),
    )
    return total
