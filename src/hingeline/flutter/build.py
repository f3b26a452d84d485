"""From a task to the common form that is solved."""

from __future__ import annotations

from dataclasses import replace

from hingeline.flutter.assembling import Frame, Stations, assemble
from hingeline.flutter.atmosphere import standard_density
from hingeline.flutter.measured_modes import modes_air, modes_frame
from hingeline.flutter.model import Air, FlutterTask, Section, Structure, Tailplane, Wing
from hingeline.flutter.modelled_air import modelled
from hingeline.flutter.natural import NaturalModes, modal_damping, natural_modes
from hingeline.flutter.section import section_air, section_frame
from hingeline.flutter.system import AeroelasticSystem
from hingeline.flutter.tailplane import tailplane_air, tailplane_frame
from hingeline.flutter.wing import wing_air, wing_frame


def build_system(task: FlutterTask) -> AeroelasticSystem:
    """Put a task's structure and air together.

    Parameters
    ----------
    task : FlutterTask
        That :func:`hingeline.flutter.checks.refuse_unusable` lets pass.

    Returns
    -------
    AeroelasticSystem

    Notes
    -----
    Viscous damping ratios become D by the in-vacuo modes. What a wake model and a lift
    slope leave of the air stands in ``modelled_air``; the wake function itself in ``wake``.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, Section, build_system
    >>> strip = Section(("plunge", "pitch"), 0.5, -0.2, 10.0, pitch_inertia=1.0, plunge_stiffness=4e3)
    >>> build_system(FlutterTask(Air(density=1.225), (1.0, 50.0), section=strip)).freedoms
    ('plunge', 'pitch')
    """
    stations = air_on(task.structure, density_of(task.air))
    kept = [replace(part, air=modelled(part.air, task.wake, task.lift_slope_factor)) for part in stations]
    return assemble(damped_frame(task), kept, task.structural_damping)


def damped_frame(task: FlutterTask) -> Frame:
    """Give the structure without air, with the damping that is stated for its modes."""
    frame = frame_of(task.structure)
    if not task.damping_ratios:
        return frame
    modes = natural_modes(frame.mass, frame.stiffness)
    stated = modal_damping(frame.mass, modes, task.damping_ratios)
    return replace(frame, damping=frame.damping + stated)


def modes_in_vacuo(task: FlutterTask) -> NaturalModes:
    """Give the undamped natural frequencies [Hz] and shapes without air."""
    frame = frame_of(task.structure)
    return natural_modes(frame.mass, frame.stiffness)


def density_of(air: Air) -> float:
    """Give the density, as stated or by altitude in the standard atmosphere [kg/m³]."""
    if air.density is not None:
        return air.density
    return standard_density(air.altitude or 0.0)


def frame_of(structure: Structure) -> Frame:
    """Give mass, damping and stiffness of any structure."""
    if isinstance(structure, Section):
        return section_frame(structure)
    if isinstance(structure, Tailplane):
        return tailplane_frame(structure)
    if isinstance(structure, Wing):
        return wing_frame(structure)
    return modes_frame(structure)


def air_on(structure: Structure, density: float) -> list[Stations]:
    """Give the air on any structure."""
    if isinstance(structure, Section):
        return section_air(structure, density)
    if isinstance(structure, Tailplane):
        return tailplane_air(structure, density)
    if isinstance(structure, Wing):
        return wing_air(structure, density)
    return modes_air(structure, density)
