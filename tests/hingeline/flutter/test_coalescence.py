"""A model without any damping flutters where two frequencies meet; the search knows such a model when it sees it."""

from __future__ import annotations

from dataclasses import replace
from math import sqrt

import numpy as np
import pytest

from hingeline.flutter.build import build_system
from hingeline.flutter.coalescence import find_coalescences, growing_pairs, is_undamped
from hingeline.flutter.model import FlutterTask, Section
from hingeline.flutter.solve import analyse
from hingeline.flutter.system import AeroelasticSystem, WakeGroup
from hingeline.flutter.wake import no_lag, theodorsen, wake_named
from tests.hingeline.flutter.models import STRIP, task

PLAIN = Section(
    ("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33, plunge_stiffness=12800.0,
    pitch_stiffness=1300.0,
)  # fmt: skip


def steady(section: Section, **more: object) -> FlutterTask:
    """Give a section in steady air."""
    return task(section, (1.0, 200.0), wake="steady", **more)


def test_only_a_model_without_any_damping_is_undamped() -> None:
    """Steady air and no damping is undamped; structural, viscous damping, rates or a lagging wake are not."""
    assert is_undamped(build_system(steady(PLAIN)), no_lag)
    assert not is_undamped(build_system(steady(PLAIN)), theodorsen)
    for other in (
        steady(PLAIN, structural_damping=(0.01,)),
        steady(PLAIN, damping_ratios=(0.01, 0.01)),
        task(PLAIN, wake="quasi-steady"),
    ):
        assert not is_undamped(build_system(other), wake_named(other.wake))


def test_two_masses_meet_where_the_closed_form_says() -> None:
    """For M = 1, K = diag (1, 4), Ks = [[0, 1], [-1, 0]] ω² meet when (3/2)² = U⁴: U = √1.5, ω² = 2.5."""
    none = np.zeros((2, 2))
    system = AeroelasticSystem(
        ("plunge", "pitch"), np.eye(2), none, np.diag([1.0, 4.0]), np.zeros(2), none, none, none,
        (WakeGroup(1.0, none, np.array([[0.0, 1.0], [-1.0, 0.0]])),),
    )  # fmt: skip
    (point,) = find_coalescences(system, (0.1, 3.0))
    assert point.speed == pytest.approx(sqrt(1.5), rel=1e-8)
    assert point.angular_frequency == pytest.approx(sqrt(2.5), rel=1e-8)
    assert point.direction == "into"
    assert (growing_pairs(system, 1.2), growing_pairs(system, 1.25)) == (0, 1)


@pytest.mark.slow
@pytest.mark.parametrize("damping", [1e-6, 1e-4, 1e-2])
def test_a_little_damping_lowers_the_speed_of_a_model_without_rates(damping: float) -> None:
    """However little, structural damping lowers the onset in steady air from 50.27 to 47.718 m/s.

    The known destabilising effect of damping on a circulatory system (Ziegler 1952, from memory). At 47.718 m/s two
    values of ω² at one ω/U meet, worked out beside the search. Frequencies at one speed meet only at 50.27 m/s.
    """
    undamped = analyse(steady(PLAIN)).flutter
    damped = analyse(steady(PLAIN, structural_damping=(damping,))).flutter
    assert undamped is not None
    assert damped is not None
    assert undamped.speed == pytest.approx(50.26875, rel=1e-6)
    assert damped.speed == pytest.approx(speed_where_wave_numbers_meet(), rel=1e-2 * damping**0.5 + 1e-7)


def speed_where_wave_numbers_meet() -> float:
    """The speed at which ω²/U² of K x = ω² (M - Ks/κ²) x is a double value, from the discriminant by halving in κ."""
    system = build_system(steady(PLAIN))
    air = system.wakes[0].stiffness

    def squares_at(wave_number: float) -> np.ndarray[tuple[int], np.dtype[np.complex128]]:
        matrix = np.linalg.solve(system.mass - air / wave_number**2, system.stiffness)
        return np.asarray(np.linalg.eigvals(matrix), dtype=np.complex128)

    low, high = 0.5, 5.0
    for _ in range(100):
        middle = (low + high) / 2
        low, high = (middle, high) if abs(squares_at(middle)[0].imag) > 0 else (low, middle)
    return float(np.sqrt(squares_at(high).real.mean()) / high)


def test_an_undamped_answer_has_no_sensitivities() -> None:
    """Where two roots meet the speed's derivative does not follow from one of them: none is given."""
    assert analyse(steady(PLAIN), with_sensitivities=True).sensitivities == ()


def test_an_oscillation_that_turns_into_a_growth_is_no_crossing() -> None:
    """Every coalescence given has a frequency above zero."""
    result = analyse(steady(replace(STRIP, elastic_axis=-0.1)))
    assert all(point.frequency > 0 for point in result.crossings)
