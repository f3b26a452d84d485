"""Small models that several tests of flutter share; all invented but where a source is named."""

from __future__ import annotations

from dataclasses import replace

from hingeline.flutter.model import Air, FlutterTask, Section

STRIP = Section(
    ("plunge", "pitch", "surface"), 0.3, -0.4, 12.0, hinge_line=0.5, plunging_mass=16.0, pitch_static_moment=0.55,
    surface_static_moment=0.03, pitch_inertia=0.33, surface_inertia=0.0085, plunge_stiffness=12791.5,
    pitch_stiffness=1302.8, surface_stiffness=162.4,
)  # fmt: skip

# The rig of Conner, Tang, Dowell & Virgin (1997), for one metre of span; from memory.
RIG = Section(
    ("plunge", "pitch", "surface"), 0.127, -0.5, 1.558, hinge_line=0.5, plunging_mass=3.3843,
    pitch_static_moment=0.08587, surface_static_moment=0.00395, pitch_inertia=0.01347, surface_inertia=0.0003264,
    plunge_stiffness=2818.8, pitch_stiffness=37.3, surface_stiffness=3.9,
)  # fmt: skip

WITH_TAB = Section(
    ("plunge", "pitch", "surface", "tab"), 0.38, -0.3, 9.0, hinge_line=0.3, tab_hinge_line=0.75,
    pitch_static_moment=0.25, pitch_inertia=0.4, surface_inertia=0.035, tab_static_moment=0.006, tab_inertia=0.00045,
    plunge_stiffness=22739.5685401, pitch_stiffness=19344.4246261, surface_stiffness=22.1079138584,
)  # fmt: skip

LAGGING_TAB = replace(WITH_TAB, freedoms=("plunge", "pitch", "surface"), tab_rigid_gear=-0.8)


def task(section: Section, speeds: tuple[float, float] = (0.5, 40.0), **more: object) -> FlutterTask:
    """Give a task of a section in sea-level air."""
    return replace(FlutterTask(Air(density=1.225), speeds, section=section), **more)  # type: ignore[arg-type]


def strip(**more: object) -> Section:
    """Give the strip with some numbers changed."""
    return replace(STRIP, **more)  # type: ignore[arg-type]
