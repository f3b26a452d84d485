"""Divergence and control reversal agree with their closed forms, and are absent where they must be."""

from __future__ import annotations

from dataclasses import replace
from math import pi, sqrt

import numpy as np
import pytest

from hingeline.flutter.build import build_system
from hingeline.flutter.control_load import reversals_of
from hingeline.flutter.divergence import divergence_speeds, statically_unstable_when_free
from hingeline.flutter.model import Aileron, Air, FlutterTask, Section, Wing
from hingeline.flutter.reversal import reversal_speeds, section_reversal
from hingeline.flutter.system import dynamic_matrix, static_air_stiffness
from hingeline.flutter.wake import theodorsen
from tests.hingeline.flutter.models import LAGGING_TAB, RIG, WITH_TAB, strip, task

PITCHING = Section(("plunge", "pitch"), 0.3, -0.3, 12.0, pitch_inertia=0.4, plunge_stiffness=1e4, pitch_stiffness=900.0)
WING = Wing(6.0, 0.9, -0.34, 33.0, 0.18, 7.8, 9.6e6, 1.0e6, 4, 4, Aileron(4.5, 6.0, 0.5, 8.0, 1.2, 0.26))


def divergences(section: Section) -> tuple[float, ...]:
    """Divergence speeds in sea-level air."""
    return divergence_speeds(build_system(task(section)))


def test_a_section_diverges_at_its_closed_form() -> None:
    """U² = K_α/(2 π ρ b² (1/2 + a)) for a section in plunge and pitch."""
    expected = sqrt(900.0 / (2 * pi * 1.225 * 0.3**2 * 0.2))
    assert divergences(PITCHING) == pytest.approx((expected,), rel=1e-13)


@pytest.mark.parametrize("axis", [-0.5, -0.7, -1.0])
def test_no_divergence_with_the_axis_at_or_ahead_of_quarter_chord(axis: float) -> None:
    """At or ahead of quarter chord there is none, not a large number."""
    assert divergences(replace(PITCHING, elastic_axis=axis)) == ()


def test_divergence_falls_with_the_root_of_the_density() -> None:
    """Half the density gives √2 times the speed."""
    thin = build_system(replace(task(PITCHING), air=Air(density=1.225 / 2)))
    assert divergence_speeds(thin)[0] == pytest.approx(sqrt(2) * divergences(PITCHING)[0], rel=1e-13)


@pytest.mark.parametrize("section", [RIG, WITH_TAB, LAGGING_TAB, strip(elastic_axis=-0.2)])
def test_the_static_matrix_is_singular_at_divergence(section: Section) -> None:
    """Det A(0, U) changes sign at every divergence speed: the dynamic matrix at a tiny p says the same."""
    system = build_system(task(section))
    for speed in divergence_speeds(system):
        below, above = (
            np.linalg.det(dynamic_matrix(system, 1e-13 + 1e-12j, speed * side, theodorsen)).real
            for side in (1 - 1e-6, 1 + 1e-6)
        )
        assert below * above < 0


def test_the_lagging_tab_diverges_just_above_its_flutter() -> None:
    """The lagging tab diverges at 60.375 m/s (second program: 60.37)."""
    assert divergences(LAGGING_TAB)[0] == pytest.approx(60.37, abs=1e-2)


def test_a_free_surface_lies_where_the_air_puts_it() -> None:
    """Divergence with a free control is the limit of ever softer control springs, from below or above."""
    free = divergences(strip(surface_stiffness=0.0, elastic_axis=-0.2))
    soft = divergences(strip(surface_stiffness=1e-9, elastic_axis=-0.2))
    assert free[0] == pytest.approx(next(speed for speed in soft if speed > 1.0), rel=1e-6)


def test_a_control_that_the_air_turns_away_is_said_to_be() -> None:
    """A free control trails; with a rigidly lagging tab of gear -3 the air itself pushes it on."""
    assert not statically_unstable_when_free(build_system(task(strip(surface_stiffness=0.0))))
    pushed = replace(LAGGING_TAB, surface_stiffness=0.0, tab_rigid_gear=-3.0)
    assert statically_unstable_when_free(build_system(task(pushed)))
    assert not statically_unstable_when_free(build_system(task(RIG)))


def test_a_section_reverses_at_its_closed_form() -> None:
    """The eigenvalue agrees with U² = K_α L_β/(L_α N_β - L_β N_α), whatever the control's own spring."""
    for stiffness in (0.0, 3.9, 1e3):
        model = task(replace(RIG, surface_stiffness=stiffness))
        (found,) = reversals_of(model)
        closed = section_reversal(37.3, static_air_stiffness(build_system(model)))
        assert found == pytest.approx(closed, rel=1e-12)


def test_at_reversal_a_held_control_gives_no_lift() -> None:
    """Solving for the twist at the reversal speed leaves no lift; 1 % below, lift of the control's own sense."""
    model = task(RIG)
    system = build_system(model)
    (speed,) = reversals_of(model)
    air = static_air_stiffness(system)

    def lift(at: float) -> float:
        inner = system.stiffness[:2, :2] + at**2 * air[:2, :2]
        twist = np.linalg.solve(inner, -(at**2) * air[:2, 2])
        return float(air[0, :2] @ twist + air[0, 2])

    assert abs(lift(speed)) < 1e-10 * air[0, 2]
    assert lift(0.99 * speed) > 1e-3 * air[0, 2]


def test_a_wing_rolls_the_other_way_beyond_reversal() -> None:
    """The rolling moment of a held aileron is zero at the wing's reversal speed, locked or not in the flutter model."""
    model = FlutterTask(Air(density=1.225), (3.0, 300.0), wing=WING)
    speeds = reversals_of(model)
    assert WING.aileron is not None
    locked = FlutterTask(
        Air(density=1.225), (3.0, 300.0), wing=replace(WING, aileron=replace(WING.aileron, locked=True))
    )
    assert reversals_of(locked) == speeds
    assert 100.0 < speeds[0] < 262.0


def test_more_torsion_shapes_settle_the_wings_reversal() -> None:
    """Twelve shapes of torsion move the reversal speed of eight by less than 1 %: the aileron's load is a step."""
    speeds = [
        reversals_of(FlutterTask(Air(density=1.225), (3.0, 300.0), wing=replace(WING, torsion_modes=number)))[0]
        for number in (8, 12)
    ]
    assert speeds[0] == pytest.approx(speeds[1], rel=0.01)


def test_what_has_no_control_has_no_reversal() -> None:
    """Without surface, without twist or without lift of the control there is nothing to reverse."""
    assert reversals_of(task(PITCHING)) == ()
    assert reversals_of(task(replace(RIG, freedoms=("plunge", "surface")))) == ()
    assert reversals_of(FlutterTask(Air(density=1.225), (3.0, 300.0), wing=replace(WING, aileron=None))) == ()
    system = build_system(task(RIG))
    assert reversal_speeds(system, 2, np.array([1.0, 1.0, 0.0])) == ()
    assert section_reversal(1.0, np.zeros((3, 3))) is None
