"""What must hold for every swing, whatever the numbers."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import GTC
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.special import ellipk

from hingeline.balance.swing import SwingResult, SwingTask, inertia_by_swing
from hingeline.balance.swing.equations import period_factor, period_factor_slope
from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated

GRAVITY = 9.80665
AMPLITUDES = st.floats(0.0, math.radians(90.0))


def of(part: float) -> st.SearchStrategy[Stated]:
    """A standard uncertainty up to a part of the value."""
    return st.builds(Stated, st.floats(1e-6, part), st.just("1"), st.just("standard"))


@st.composite
def pendulums(draw: st.DrawFn) -> SwingTask:
    """A surface with a mass clipped on, whose times are those of a body that can be."""
    inertia, moment = draw(st.floats(0.005, 0.5)), draw(st.floats(0.0, 0.3))
    mass, arm = draw(st.floats(0.05, 1.0)), draw(st.floats(0.05, 0.5))
    whole = inertia + mass * arm * arm
    period = 2.0 * math.pi * math.sqrt(whole / (GRAVITY * (moment + mass * arm)))
    times = tuple(10.0 * period * (1.0 + draw(st.floats(-1e-3, 1e-3))) for _ in range(draw(st.integers(1, 4))))
    return SwingTask(
        "added mass", times, 10, surface_mass_moment=moment, added_mass=mass, added_arm=arm,
        timing_uncertainty=draw(of(0.01)), added_mass_uncertainty=draw(of(0.01)), added_arm_uncertainty=draw(of(0.01)),
        surface_mass_moment_uncertainty=draw(of(0.05)),
    )  # fmt: skip


@given(AMPLITUDES)
def test_the_period_follows_the_elliptic_integral(amplitude: float) -> None:
    """T/T0 is (2/π) K(sin θ/2), by scipy's complete elliptic integral (its argument is the modulus squared)."""
    exact = 2.0 / math.pi * ellipk(math.sin(amplitude / 2.0) ** 2)
    assert period_factor(amplitude) == pytest.approx(exact, rel=1e-14)


@given(st.floats(0.0, 0.5))
def test_the_period_follows_its_series(amplitude: float) -> None:
    """1 + θ²/16 + 11 θ⁴/3072 + 173 θ⁶/737280: what is cut off is below 22931 θ⁸/1321205760 times 1.1."""
    t = amplitude
    series = 1.0 + t**2 / 16 + 11 * t**4 / 3072 + 173 * t**6 / 737280
    assert -1e-15 <= period_factor(t) - series <= 1.1 * 22931 * t**8 / 1321205760 + 1e-15


def test_no_amplitude_is_no_correction() -> None:
    """At zero amplitude the factor is 1 exactly, and so it is for a task without one."""
    assert period_factor(0.0) == 1.0
    assert period_factor_slope(0.0) == 0.0
    plain = SwingTask("own weight", (0.82,), surface_mass_moment=0.23)
    assert inertia_by_swing(plain).inertia == inertia_by_swing(replace(plain, amplitude=0.0)).inertia


@given(st.floats(0.0, 1.2), st.floats(0.001, 0.3))
def test_a_wider_swing_of_one_time_means_less_inertia(amplitude: float, more: float) -> None:
    """The same time at a larger amplitude comes from a smaller inertia, by the factor squared."""
    plain = SwingTask("own weight", (0.82,), surface_mass_moment=0.23)
    small, large = (
        inertia_by_swing(replace(plain, amplitude=angle)).inertia.value for angle in (amplitude, amplitude + more)
    )
    assert large < small
    unlimited = inertia_by_swing(plain).inertia.value
    assert small * period_factor(amplitude) ** 2 == pytest.approx(unlimited, rel=1e-14)


@given(st.floats(0.0, 1.5))
def test_a_spring_swings_alike_at_any_amplitude(amplitude: float) -> None:
    """The amplitude changes nothing for a spring, and a note says so."""
    plain = SwingTask("spring", (0.6,), spring_rate=200.0, spring_arm=0.15)
    found = inertia_by_swing(replace(plain, amplitude=amplitude))
    assert found.inertia == inertia_by_swing(plain).inertia
    assert any("any amplitude" in note for note in found.notes)


@given(st.floats(0.02, 0.5), st.floats(0.4, 3.0))
def test_a_mass_of_nothing_at_the_hinge_line_is_own_weight(moment: float, period: float) -> None:
    """An added mass that goes to nothing, at an arm that goes to nothing, gives what own weight gives."""
    own = inertia_by_swing(SwingTask("own weight", (period,), surface_mass_moment=moment)).inertia.value
    added = SwingTask("added mass", (period,), surface_mass_moment=moment, added_mass=1e-12, added_arm=1e-9)
    assert inertia_by_swing(added).inertia.value == pytest.approx(own, rel=1e-12)


@given(pendulums())
def test_swung_the_other_way_it_is_the_same(task: SwingTask) -> None:
    """Nose down with moment and mass on the other side is the mirrored swing: the same inertia and U."""
    assert task.surface_mass_moment is not None
    mirrored = replace(task, hangs="nose down", surface_mass_moment=-task.surface_mass_moment, added_side="forward")
    assert inertia_by_swing(mirrored).inertia == inertia_by_swing(task).inertia


@pytest.mark.slow
@given(pendulums(), st.floats(0.5, 2.0))
def test_time_goes_with_the_root(task: SwingTask, factor: float) -> None:
    """All times by a factor: what swung has the inertia by its square."""
    one = inertia_by_swing(task)
    longer = replace(task, periods=tuple(time * factor for time in task.periods))
    try:
        other = inertia_by_swing(longer)
    except InputRefused:
        return  # so fast that no body could
    assert one.inertia_with_added_mass is not None
    assert other.inertia_with_added_mass == pytest.approx(factor**2 * one.inertia_with_added_mass, rel=1e-12)


@given(st.floats(0.5, 20.0), st.floats(0.0, 0.5), st.floats(0.02, 1.0), st.floats(0.2, 1.0), st.floats(0.8, 3.0))
def test_two_wires_and_the_pendulum_agree(
    mass: float, moment: float, about_centre: float, spacing: float, length: float
) -> None:
    """One body, swung both ways: the parallel axis brings both to the same hinge line."""
    moment = max(moment, 0.02)
    inertia = about_centre + moment * moment / mass
    wires = 4.0 * math.pi * math.sqrt(length * about_centre / (mass * GRAVITY * spacing * spacing))
    swing = 2.0 * math.pi * math.sqrt(inertia / (GRAVITY * moment))
    if not (0.02 < wires < 60.0 and 0.02 < swing < 60.0):
        return
    by_wires = inertia_by_swing(
        SwingTask("two wires", (wires,), surface_mass=mass, surface_mass_moment=moment, wire_spacing=spacing,
                  wire_length=length)
    )  # fmt: skip
    by_weight = inertia_by_swing(SwingTask("own weight", (swing,), surface_mass=mass, surface_mass_moment=moment))
    assert by_wires.inertia.value == pytest.approx(inertia, rel=1e-12)
    assert by_weight.inertia.value == pytest.approx(inertia, rel=1e-12)
    assert by_wires.radius_of_gyration is not None
    assert by_wires.radius_of_gyration.value == pytest.approx(math.sqrt(inertia / mass), rel=1e-12)


@pytest.mark.slow
@given(pendulums())
def test_a_document_is_the_record(task: SwingTask) -> None:
    """Task and result come back from their JSON text as they were."""
    result = inertia_by_swing(task)
    assert from_document(json.loads(json.dumps(to_document(task))), SwingTask) == task
    assert from_document(json.loads(json.dumps(to_document(result), allow_nan=False)), SwingResult) == result


def by_gtc(task: SwingTask, name: str):  # type: ignore[no-untyped-def]
    """A quantity as GTC has it."""
    value, stated = getattr(task, name), getattr(task, f"{name}_uncertainty")
    return value if stated is None or not stated.of(value) else GTC.ureal(value, stated.of(value))


def period_by_gtc(task: SwingTask):  # type: ignore[no-untyped-def]
    """The time of one swing: scatter of the mean, and what all times share."""
    reading = sum(task.periods) / len(task.periods)
    if len(task.periods) > 1:
        reading = GTC.type_a.estimate(list(task.periods))
    if task.timing_uncertainty is not None:
        reading = reading + GTC.ureal(0.0, task.timing_uncertainty.of(sum(task.periods) / len(task.periods)))
    return reading / task.swings_per_period


@pytest.mark.slow
@settings(max_examples=60)
@given(pendulums())
def test_the_uncertainty_of_an_added_mass_is_what_gtc_computes(task: SwingTask) -> None:
    """GTC, given the plain equation, finds the same inertia and u."""
    mass, arm = by_gtc(task, "added_mass"), by_gtc(task, "added_arm")
    q = (period_by_gtc(task) / (2.0 * math.pi)) ** 2
    expected = GRAVITY * (by_gtc(task, "surface_mass_moment") + mass * arm) * q - mass * arm**2
    found = inertia_by_swing(task).inertia
    assert found.value == pytest.approx(expected.x, rel=1e-10)
    assert found.standard_uncertainty == pytest.approx(expected.u, rel=1e-9)


@settings(max_examples=40)
@given(st.floats(1.0, 10.0), st.floats(-0.3, 0.3), of(0.02), of(0.05), of(0.01), of(0.01), of(0.01))
def test_the_uncertainty_on_two_wires_is_what_gtc_computes(
    mass: float, moment: float, u_mass: Stated, u_moment: Stated, u_spacing: Stated, u_length: Stated, u_time: Stated
) -> None:
    """The same on two wires; the mass acts twice, in the radius of gyration three times."""
    task = SwingTask(
        "two wires", (1.31, 1.315), surface_mass=mass, surface_mass_moment=moment, wire_spacing=0.4, wire_length=1.5,
        surface_mass_uncertainty=u_mass, surface_mass_moment_uncertainty=u_moment, wire_spacing_uncertainty=u_spacing,
        wire_length_uncertainty=u_length, timing_uncertainty=u_time,
    )  # fmt: skip
    weight, offset = by_gtc(task, "surface_mass"), by_gtc(task, "surface_mass_moment")
    q = (period_by_gtc(task) / (2.0 * math.pi)) ** 2
    spacing, length = by_gtc(task, "wire_spacing"), by_gtc(task, "wire_length")
    expected = weight * GRAVITY * spacing**2 * q / (4.0 * length) + offset**2 / weight
    radius = GTC.sqrt(expected / weight)
    found = inertia_by_swing(task)
    assert found.inertia.value == pytest.approx(expected.x, rel=1e-12)
    assert found.inertia.standard_uncertainty == pytest.approx(expected.u, rel=1e-9)
    assert found.radius_of_gyration is not None
    assert found.radius_of_gyration.standard_uncertainty == pytest.approx(radius.u, rel=1e-9)


@settings(max_examples=40)
@given(st.floats(0.02, 1.2), of(0.1), of(0.02), of(0.02))
def test_the_uncertainty_of_amplitude_and_spring(
    amplitude: float, u_angle: Stated, u_rate: Stated, u_arm: Stated
) -> None:
    """Amplitude by the slope of the period's factor; a spring by the plain equation."""
    task = SwingTask(
        "own weight", (0.82,), surface_mass_moment=0.23, amplitude=amplitude, amplitude_uncertainty=u_angle
    )
    found = inertia_by_swing(task).inertia
    slope = (period_factor(amplitude + 1e-6) - period_factor(amplitude - 1e-6)) / 2e-6
    expected = 2.0 * found.value * slope / period_factor(amplitude) * u_angle.of(amplitude)
    assert found.standard_uncertainty == pytest.approx(expected, rel=1e-6)
    spring = SwingTask("spring", (0.6,), spring_rate=200.0, spring_arm=0.15, spring_rate_uncertainty=u_rate,
                       spring_arm_uncertainty=u_arm)  # fmt: skip
    by_spring = by_gtc(spring, "spring_rate") * by_gtc(spring, "spring_arm") ** 2 * (0.6 / (2.0 * math.pi)) ** 2
    assert inertia_by_swing(spring).inertia.standard_uncertainty == pytest.approx(by_spring.u, rel=1e-9)
