"""Measured modes with a control: weights, horns, strips of several chords."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.assembling import assemble
from hingeline.flutter.measured_modes import air_motion, modes_air, modes_frame
from hingeline.flutter.model import MeasuredMode, Modes, ModeStrip, ModeWeight
from hingeline.flutter.strip_air import strip_forces, whole_chord_forces

STRIP = ModeStrip(
    width=0.56,
    semichord=0.4,
    axis=-0.5,
    hinge_line=0.3,
    plunge=(0.89, 0.02),
    pitch=(0.34, 0.01),
    surface_static_moment=0.3,
    surface_inertia=0.034,
)
MODES = Modes((MeasuredMode(27.0, 8.6), MeasuredMode(2.6, 24.0)), (STRIP, replace(STRIP, semichord=0.32)))


def test_without_its_control_each_mode_keeps_its_frequency() -> None:
    """The pairs of modes have their generalised masses alone, and the springs to their frequencies."""
    frame = modes_frame(MODES)

    np.testing.assert_array_equal(frame.mass[:2, :2], np.diag([27.0, 2.6]))
    np.testing.assert_allclose(np.sqrt(np.diag(frame.stiffness)[:2] / [27.0, 2.6]) / (2 * np.pi), [8.6, 24.0])
    assert frame.freedoms == ("mode 1", "mode 2", "surface")


def test_the_control_couples_as_its_points_do() -> None:
    """Two points on the control of a strip: their cross terms with the modes and their inertia are in M."""
    lever, each, places = 0.4 * 0.8, 0.25, np.array([0.07, 0.05])
    strip = replace(STRIP, surface_static_moment=each * places.sum(), surface_inertia=each * (places**2).sum())
    total = np.zeros((3, 3))
    for x in places:
        v = np.append(np.array([0.89, 0.02]) + (lever + x) * np.array([0.34, 0.01]), x)
        total += 0.56 * each * np.outer(v, v)

    mass = modes_frame(replace(MODES, strips=(strip,))).mass
    np.testing.assert_allclose(mass[2], total[2], rtol=1e-12)
    np.testing.assert_allclose(mass[:, 2], total[:, 2], rtol=1e-12)


def test_an_added_weight_adds_everything_and_one_that_was_on_only_the_control() -> None:
    """Added is m v vᵀ in full for a weight that was off; without the mode pairs for one that was on when measured."""
    weight = ModeWeight(2.8, 0.3, -0.012, (0.9, 0.0), (0.34, 0.0))
    v = np.array([0.9 - 0.012 * 0.34, 0.0, -0.3])
    bare = modes_frame(MODES).mass
    off, on = (
        modes_frame(replace(MODES, weights=(replace(weight, on_when_measured=was_on),))).mass - bare
        for was_on in (False, True)
    )
    kept = 2.8 * np.outer(v, v)

    np.testing.assert_allclose(off, kept, atol=1e-14)
    kept[:2, :2] = 0.0
    np.testing.assert_allclose(on, kept, atol=1e-14)


def test_a_horn_strip_is_a_whole_chord_that_turns_about_the_hinge() -> None:
    """Its column of the control has the air forces of a plate without control, pivoted at the hinge line."""
    horn = replace(STRIP, horn=True, plunge=(1.0, 0.0), pitch=(0.0, 0.0))
    motion = air_motion(horn)
    air = strip_forces(0.4, -0.5, 0.3, 1.225).in_freedoms(motion, 1.0)
    pivoted = whole_chord_forces(0.4, 0.3, 1.225)

    assert air.apparent_mass[2, 2] == pytest.approx(pivoted.apparent_mass[1, 1], rel=1e-12)
    assert air.air_damping[2, 2] == pytest.approx(pivoted.air_damping[1, 1], rel=1e-12)
    assert air.delayed_stiffness[2, 2] == pytest.approx(pivoted.delayed_stiffness[1, 1], rel=1e-12)
    # The control's own mass is still about its hinge.
    assert modes_frame(replace(MODES, strips=(horn,))).mass[2, 2] == pytest.approx(0.56 * 0.034)


def test_strips_of_different_chord_have_wakes_of_their_own() -> None:
    """Two chords, two wakes; their forces add up to those of each strip alone."""
    system = assemble(modes_frame(MODES), modes_air(MODES, 1.225))
    alone = [
        assemble(modes_frame(one), modes_air(one, 1.225)) for one in (replace(MODES, strips=(s,)) for s in MODES.strips)
    ]

    assert [group.semichord for group in system.wakes] == [0.32, 0.4]
    np.testing.assert_allclose(system.apparent_mass, alone[0].apparent_mass + alone[1].apparent_mass, rtol=1e-12)
    np.testing.assert_allclose(system.wakes[0].stiffness, alone[1].wakes[0].stiffness, rtol=1e-12)
    np.testing.assert_allclose(system.wakes[1].damping, alone[0].wakes[0].damping, rtol=1e-12)


def test_a_strip_without_control_moves_none() -> None:
    """Where surface is 0 the control has no mass and no air."""
    system = assemble(
        modes_frame(replace(MODES, strips=(replace(STRIP, surface=0.0),))),
        modes_air(replace(MODES, strips=(replace(STRIP, surface=0.0),)), 1.225),
    )

    assert not system.mass[2].any()
    assert not system.apparent_mass[2].any()
