"""An all-moving tailplane: weights as points, flexible arms, dampers, the part in a jet."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from hingeline.flutter.model import Air, FlutterTask, Tailplane, TailplaneWeight
from hingeline.flutter.natural import natural_modes
from hingeline.flutter.result_words import damping_words
from hingeline.flutter.strip_air import strip_forces
from hingeline.flutter.tailplane import static_moment, tailplane_air, tailplane_frame

TAIL = Tailplane(
    span=2.9,
    chord=0.74,
    hinge_line=0.25,
    centre_of_gravity=0.42,
    mass=10.5,
    inertia=0.62,
    support_mass=25.0,
    support_frequency=8.0,
    circuit_stiffness=3200.0,
)


def test_the_mass_matrix_is_that_of_points() -> None:
    """Points with the same mass, moment and inertia about the hinge, and a weight ahead, add up to it."""
    lever = 0.17 * 0.74
    spread = np.sqrt(0.62 / 10.5 - lever**2)
    total = 25.0 * np.diag([1.0, 0.0])
    for m, x in ((5.25, lever - spread), (5.25, lever + spread), (2.0, -0.36)):
        total += m * np.outer([1.0, x], [1.0, x])
    frame = tailplane_frame(replace(TAIL, weights=(TailplaneWeight(2.0, 0.36),)))

    np.testing.assert_allclose(frame.mass, total, rtol=1e-12)
    assert static_moment(TAIL) == pytest.approx(10.5 * lever)


def test_frequencies_that_were_stated_are_those_of_each_spring_alone() -> None:
    """The support with all its mass swings at its frequency; so does the circuit with the hinge line held."""
    frame = tailplane_frame(replace(TAIL, circuit_stiffness=None, circuit_frequency=12.0))

    assert np.sqrt(frame.stiffness[0, 0] / frame.mass[0, 0]) / (2 * np.pi) == pytest.approx(8.0)
    assert np.sqrt(frame.stiffness[1, 1] / frame.mass[1, 1]) / (2 * np.pi) == pytest.approx(12.0)


@pytest.mark.parametrize("hertz", [2.0, 7.9, 8.1, 15.0])
def test_a_flexible_arm_acts_as_a_weight_that_depends_on_frequency(hertz: float) -> None:
    """Its freedom eliminated at ω, it is m/(1 - (ω/ω_a)²) on a rigid arm: larger below f_a, negative above."""
    arm_frequency, omega = 8.0, 2 * np.pi * hertz
    frame = tailplane_frame(replace(TAIL, weights=(TailplaneWeight(3.5, 0.36, arm_frequency=arm_frequency),)))
    dynamic = frame.stiffness - omega**2 * frame.mass
    reduced = dynamic[:2, :2] - np.outer(dynamic[:2, 2], dynamic[2, :2]) / dynamic[2, 2]
    acting = 3.5 / (1 - (hertz / arm_frequency) ** 2)
    bare = tailplane_frame(TAIL)
    v = np.array([1.0, -0.36])

    assert (acting > 3.5) == (hertz < arm_frequency)
    np.testing.assert_allclose(
        reduced, bare.stiffness - omega**2 * (bare.mass + acting * np.outer(v, v)), rtol=1e-10, atol=1e-8
    )


def test_a_very_stiff_arm_is_a_rigid_one() -> None:
    """At 3 kHz the lowest two natural frequencies are those of the rigid arm to 1e-4."""
    weight = TailplaneWeight(3.5, 0.36)
    stiff, rigid = (
        tailplane_frame(replace(TAIL, weights=(one,))) for one in (replace(weight, arm_frequency=3000.0), weight)
    )
    found = [natural_modes(frame.mass, frame.stiffness).frequencies[:2] for frame in (stiff, rigid)]

    np.testing.assert_allclose(found[0], found[1], rtol=1e-4)


def test_an_arm_is_stated_by_frequency_or_by_stiffness_alike() -> None:
    """The rate is k = m (2 π f)²; and each weight on a flexible arm has a freedom of its own, in its own place."""
    by_frequency = TailplaneWeight(2.0, 0.36, arm_frequency=10.0)
    by_stiffness = TailplaneWeight(2.0, 0.36, arm_stiffness=2.0 * (2 * np.pi * 10.0) ** 2)
    one, other = (tailplane_frame(replace(TAIL, weights=(weight,))) for weight in (by_frequency, by_stiffness))
    both = tailplane_frame(replace(TAIL, weights=(by_frequency, TailplaneWeight(1.0, 0.2), by_frequency)))

    np.testing.assert_allclose(one.stiffness, other.stiffness, rtol=1e-12)
    assert one.freedoms == ("plunge", "pitch", "weight on its arm")
    assert both.freedoms == ("plunge", "pitch", "weight 1 on its arm", "weight 2 on its arm")
    np.testing.assert_allclose(both.mass[2:, 2:], np.diag([2.0, 2.0]))
    assert np.linalg.eigvalsh(both.mass).min() > 0


def test_dampers_have_the_ratio_that_each_spring_was_given() -> None:
    """2 ζ √(k m) of the spring alone, and the weights do not change it: they came later."""
    damped = replace(TAIL, support_damping_ratio=0.01, circuit_damping_ratio=0.015)
    bare, weighted = (
        tailplane_frame(one).damping for one in (damped, replace(damped, weights=(TailplaneWeight(3.5, 0.36),)))
    )

    np.testing.assert_allclose(
        np.diag(bare), [2 * 0.01 * 35.5 * 2 * np.pi * 8.0, 2 * 0.015 * np.sqrt(3200.0 * 0.62)], rtol=1e-12
    )
    np.testing.assert_array_equal(weighted, bare)


def test_the_air_is_that_of_a_strip_about_the_hinge_line() -> None:
    """A quarter of the chord is -0.5 semichords; the part of the span in a jet alone makes air forces."""
    (station,) = tailplane_air(replace(TAIL, part_of_span_in_jet=2 / 3), 1.225)
    strip = strip_forces(0.37, -0.5, 0.0, 1.225)

    np.testing.assert_allclose(station.air.apparent_mass, strip.apparent_mass[:2, :2])
    assert station.width.tolist() == pytest.approx([2.9 * 2 / 3])
    assert station.semichord.tolist() == [0.37]


def test_dampers_beside_the_springs_are_among_what_is_assumed() -> None:
    """The answer said "no viscous damping ratios" of a tailplane with two dampers, on which its onset hangs."""
    damped = replace(TAIL, support_damping_ratio=0.01, circuit_damping_ratio=0.015)
    task = FlutterTask(Air(density=1.225), (1.0, 80.0), tailplane=damped)
    dampers = "dampers at support and circuit with damping ratios 0.01 and 0.015, weights off"
    assert damping_words(task) == f"Damping assumed: structural damping g = 0 of each stiffness; {dampers}."
    with_ratios = damping_words(replace(task, damping_ratios=(0.02, 0.03)))
    assert "viscous damping ratios 0.02, 0.03 of the modes" in with_ratios
    assert dampers in with_ratios
    assert damping_words(replace(task, tailplane=TAIL)).endswith("; no viscous damping ratios.")
