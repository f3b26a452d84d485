"""Slack, its cycles by one and by many harmonics, and by marching."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.build import build_system
from hingeline.flutter.cycle_fit import motion_of
from hingeline.flutter.describing import amplitude_of, cycle_speeds, cycles_at, part_of_spring
from hingeline.flutter.free_play import limit_cycles, lowest_cycle
from hingeline.flutter.harmonic_balance import ORDERS, answer, balance_harmonics
from hingeline.flutter.marching import March, march, rates_of, start_state
from hingeline.flutter.model import Air, FlutterTask, FreePlay, Tailplane
from hingeline.flutter.slack import Slack, slack_of
from hingeline.flutter.system import dynamic_matrix, whole_mass
from hingeline.flutter.wake import two_lag
from tests.hingeline.flutter.models import STRIP, WITH_TAB, task

TAIL = Tailplane(3.0, 0.76, 0.25, 0.42, 11.0, 0.62, 25.0, 8.0, circuit_stiffness=3500.0)
PLAY = FreePlay(half_gap=math.radians(0.5), place="circuit", starts=(1.5, 6.0))
TAIL_TASK = FlutterTask(
    Air(density=1.225), (1.0, 100.0), tailplane=TAIL, damping_ratios=(0.0105, 0.0115), free_play=PLAY
)
SURFACE = FreePlay(math.radians(1.0), "surface")


def strip_slack() -> Slack:
    """Give the strip with slack in its control."""
    return slack_of(task(STRIP, (1.0, 100.0), free_play=SURFACE, damping_ratios=(0.015, 0.015, 0.015)))


@pytest.mark.parametrize("amplitude", [1.001, 1.3, 2.0, 30.0])
def test_describing_function_is_the_first_fourier_coefficient(amplitude: float) -> None:
    """The part of the spring that a sine feels comes out of integrating the spring's own torque."""
    angle = 2 * np.pi * (np.arange(1_000_000) + 0.5) / 1_000_000
    theta = amplitude * np.sin(angle)
    torque = theta - np.clip(theta, -1.0, 1.0)

    assert part_of_spring(amplitude) == pytest.approx(2 * np.mean(torque * np.sin(angle)) / amplitude, abs=1e-9)


def test_describing_function_has_its_limits_and_its_inverse() -> None:
    """Nothing of the spring is felt inside the gap, all of it by a huge swing, and the amplitude comes back."""
    assert part_of_spring(0.7) == 0.0
    assert part_of_spring(1e9) == pytest.approx(1.0, abs=2e-9)
    for amplitude in (1.01, 1.7, 12.0, 900.0):
        assert amplitude_of(part_of_spring(amplitude)) == pytest.approx(amplitude, rel=1e-9)


def test_cycles_at_a_speed_are_those_of_the_curve() -> None:
    """A speed found for an amplitude finds that amplitude again, though the two searches share nothing."""
    slack = strip_slack()
    for amplitude in (1.1, 1.35, 2.0):
        for point in cycle_speeds(slack, amplitude, (1.0, 100.0)):
            found = cycles_at(slack, point.speed)
            assert min(abs(one.amplitude - amplitude) for one in found) < 1e-7 * amplitude


@pytest.mark.slow
def test_least_speed_lies_below_its_neighbours() -> None:
    """No amplitude of a fine grid cycles below the lowest speed of the curve."""
    slack = slack_of(TAIL_TASK)
    lowest = lowest_cycle(slack, (1.0, 100.0))
    assert lowest is not None
    for amplitude in np.geomspace(1.02, 20.0, 60):
        speeds = [one.speed for one in cycle_speeds(slack, float(amplitude), (1.0, 100.0))]
        assert min(speeds) >= lowest.speed - 1e-9


def test_marched_matrix_has_the_roots_of_the_common_form() -> None:
    """Every eigenvalue of the march's matrix makes A(p, U) with the two-lag wake singular."""
    for system in (strip_slack().system, slack_of(TAIL_TASK).system):
        for p in np.linalg.eigvals(rates_of(system, 30.0)):
            if p.imag > 1.0:
                values = np.linalg.svd(dynamic_matrix(system, p, 30.0, two_lag), compute_uv=False)
                assert values[-1] < 1e-9 * values[0]


def test_march_is_the_classical_step() -> None:
    """The stages worked out as matrices give what Runge and Kutta's four stages give, one after the other."""
    slack, step, speed = strip_slack(), 0.5e-3, 30.0
    (run,) = march(slack, [(speed, 2.0)], step=step, length=0.15)
    rates, state = rates_of(slack.system, speed), start_state(slack, 2.0)
    push = np.zeros(len(state))
    push[3:6] = np.linalg.solve(whole_mass(slack.system), slack.stiffness * slack.direction)

    def rate(x: np.ndarray) -> np.ndarray:
        return rates @ x + push * np.clip(x[2], -slack.half_gap, slack.half_gap)

    seen = []
    for _ in range(300):
        seen.append(state[2] / slack.half_gap)
        first = rate(state)
        second = rate(state + step / 2 * first)
        third = rate(state + step / 2 * second)
        state = state + step / 6 * (first + 2 * second + 2 * third + rate(state + step * third))

    assert np.ptp(run.angles) > 0.1
    assert np.abs(run.angles - seen[200:]).max() < 1e-10


@pytest.mark.slow
def test_half_the_step_gives_the_same_cycle() -> None:
    """Halving the march's step moves a cycle's amplitude by less than 0.5 %."""
    slack = strip_slack()
    found = [motion_of(march(slack, [(34.0, 1.5)], step=step)[0]) for step in (0.5e-3, 0.25e-3)]

    assert [one.outcome for one in found] == ["cycle", "cycle"]
    assert abs(found[1].coefficients[0]) == pytest.approx(abs(found[0].coefficients[0]), rel=5e-3)


def test_march_stops_when_told() -> None:
    """An answer of False ends the march, which then gives nothing."""
    seen: list[tuple[int, int]] = []

    def stop(done: int, total: int) -> bool:
        seen.append((done, total))
        return False

    assert march(strip_slack(), [(14.0, 1.5)], progress=stop) == ()
    assert seen == [(2000, 60000)]


@pytest.mark.slow
def test_above_linear_flutter_a_motion_grows() -> None:
    """Above the linear speed nothing holds the motion, and no infinity comes out of it."""
    cycles = limit_cycles(TAIL_TASK, [70.0])

    assert [one.outcome for one in cycles if one.method == "marching"] == ["grows", "grows"]
    assert all(one.amplitude is None and one.peak_in_gaps is None for one in cycles if one.outcome == "grows")


@pytest.mark.slow
def test_a_bigger_knock_may_miss_the_cycle() -> None:
    """At 30 m/s the tailplane cycles from 1.5 half-gaps and comes to rest from 6: one start is not enough."""
    outcome = {one.start: one.outcome for one in limit_cycles(TAIL_TASK, [30.0]) if one.method == "marching"}

    assert outcome == {1.5: "cycle", 6.0: "dies out"}


@pytest.mark.slow
def test_many_harmonics_balance_in_time() -> None:
    """The balanced cycle's torque, sampled three times as finely, gives its angle back at every harmonic."""
    slack = strip_slack()
    motion = motion_of(march(slack, [(14.0, 1.5)])[0])
    found = balance_harmonics(slack, 14.0, motion.angular_frequency, motion.coefficients[::2])
    assert found is not None
    turn = 2 * np.pi * np.arange(3 * 4096) / (3 * 4096)
    angle = (found.coefficients @ np.exp(1j * np.outer(ORDERS, turn))).real
    clipped = 2 * np.exp(-1j * np.outer(ORDERS, turn)) @ np.clip(angle, -1.0, 1.0) / len(turn)

    off = np.abs(answer(slack, 14.0, found.angular_frequency) * clipped - found.coefficients)
    assert off.max() < 2e-5 * found.fundamental
    assert np.abs(angle).max() == pytest.approx(found.peak, rel=1e-5)


def test_balance_far_from_any_cycle_gives_none() -> None:
    """Started where nothing can cycle, Newton's way gives no cycle instead of rest."""
    start = np.zeros(8, dtype=complex)
    start[0] = 1.5

    assert balance_harmonics(slack_of(TAIL_TASK), 10.0, 50.0, start) is None


@pytest.mark.parametrize(
    ("angles", "outcome"),
    [
        (lambda t: 2 * np.sin(31 * t) + 0.3 * np.sin(93 * t), "cycle"),
        (lambda t: 2 * np.sin(31 * t) + np.sin(47 * t), "not periodic"),
        (lambda t: 3 * np.exp(-t) * np.sin(31 * t), "dies out"),
        (lambda t: np.full_like(t, 0.6), "dies out"),
        (lambda t: np.exp(0.3 * t) * np.sin(31 * t), "grows"),
    ],
)
def test_outcomes_of_known_motions(angles: object, outcome: str) -> None:
    """A cycle, two frequencies, a decay, a rest off the middle and a growth are each called what they are."""
    times = 0.5e-3 * np.arange(20000)
    motion = motion_of(March(30.0, 1.5, 0.5e-3, angles(times), left=False))  # type: ignore[operator]

    assert motion.outcome == outcome
    if outcome == "cycle":
        assert motion.angular_frequency == pytest.approx(31.0, rel=1e-7)
        assert np.abs(motion.coefficients[[0, 2]]) == pytest.approx([2.0, 0.3], rel=1e-5)


def test_structural_damping_becomes_viscous() -> None:
    """One g for all gives every in-vacuo mode the damping ratio g/2."""
    given = replace(task(STRIP, free_play=SURFACE), structural_damping=(0.04,))
    direct = replace(given, structural_damping=(0.0,), damping_ratios=(0.02, 0.02, 0.02))

    assert slack_of(given).system.damping == pytest.approx(build_system(direct).damping, rel=1e-9, abs=1e-9)
    assert not slack_of(given).system.structural_damping.any()


def test_tab_spring_acts_between_tab_and_control() -> None:
    """Slack in a geared tab's rod is in δ - G β, and without it nothing of the rod is left."""
    geared = replace(WITH_TAB, tab_gear=-0.5, tab_stiffness=16.0)
    slack = slack_of(task(geared, free_play=FreePlay(0.01, "tab")))

    assert slack.direction.tolist() == [0.0, 0.0, 0.5, 1.0]
    loose = build_system(task(replace(geared, tab_stiffness=0.0)))
    assert slack.with_part(0.0).stiffness == pytest.approx(loose.stiffness, abs=1e-12)


def test_slack_that_is_none_is_refused() -> None:
    """A free control, and a task without free play, are refused with what is missing."""
    free = replace(STRIP, surface_stiffness=0.0)
    with pytest.raises(InputRefused, match="A free control has no free play to take up"):
        limit_cycles(task(free, free_play=SURFACE), [20.0])
    with pytest.raises(InputRefused, match="Say where the free play is"):
        slack_of(task(STRIP))
