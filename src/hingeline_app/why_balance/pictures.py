"""A state as pictures: the onset over one knob, and the section as it moves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hingeline_app.figures.onset_curve import ChosenPlace, OnsetCurve, OnsetSample, draw_onset_curve
from hingeline_app.figures.section_in_motion import SectionMotion, draw_section_in_motion
from hingeline_app.why_balance.answers import GRAVITY, Motion, Point, centre_of_gravity
from hingeline_app.why_balance.knobs import KNOT
from hingeline_app.why_balance.sentences import headline, motion_sentence
from hingeline_app.why_balance.state import State

LINEAR_IN_MOMENT = ("weight", "gravity", "paint")


def onset_picture(
    state: State, curve: Sequence[Point], point: Point, width: float = 650, others: Sequence[Point] = ()
) -> str:
    """Draw the onset over the state's axis.

    Parameters
    ----------
    state : State
    curve : sequence of Point
    point : Point
        The state's own.
    width : float
        [px]
    others : sequence of Point
        Places that buttons of the page name, numbered from 1; the state's own comes last.
    """
    knob, dive = state.surface.knob(state.axis), state.surface.dive_speed
    factor, offset, second = _second_scale(state)
    places = [ChosenPlace(_sample(each), number, False) for number, each in enumerate(others, 1)]
    places.append(ChosenPlace(_sample(point), len(others) + 1, True))
    return draw_onset_curve(
        OnsetCurve(
            samples=tuple(map(_sample, curve)),
            scale=f"{knob.words}, {knob.unit}".rstrip(", "),
            searched=state.surface.model(state.settings).speeds[1] / KNOT,
            finding=headline(state, point) + ".",
            second_scale=second,
            second_factor=factor,
            second_offset=offset,
            dive_speed=None if dive is None else dive / KNOT,
            dive_words="design dive speed, invented",
            places=tuple(places),
        ),
        width,
    )


def _sample(point: Point) -> OnsetSample:
    return OnsetSample(point.value, _knots(point.speed), _knots(point.low), _knots(point.high), point.from_the_start)


def _knots(speed: float | None) -> float | None:
    return None if speed is None else speed / KNOT


def _second_scale(state: State) -> tuple[float, float, str]:
    """Give the static moment over the axis, where it is a straight line in it."""
    if state.axis not in LINEAR_IN_MOMENT:
        return 1.0, 0.0, ""
    knob = state.surface.knob(state.axis)
    low, high = (
        GRAVITY * state.surface.static_moment(state.moved(**{state.axis: end}).settings)
        for end in (knob.low, knob.high)
    )
    factor = (high - low) / (knob.high - knob.low)
    return factor, low - factor * knob.low, "static moment, N·m, tail-heavy positive"


def section_picture(state: State, motion: Motion | None, width: float = 372) -> str:
    """Draw the section as it moves at the state's speed; at rest where nothing oscillates."""
    surface = state.surface
    moved, gravity = motion.movement if motion is not None else None, centre_of_gravity(state)
    return draw_section_in_motion(
        SectionMotion(
            chord=surface.chord,
            axis=surface.axis_place,
            plunge=moved.plunge if moved else 0.0,
            pitch=moved.pitch if moved else 0.0,
            frequency=motion.frequency if motion else 0.0,
            growth_rate=motion.growth_rate if motion else 0.0,
            finding=motion_sentence(state, motion),
            surface_hinge=surface.surface_hinge,
            surface=moved.surface if moved else 0.0,
            slack=slack_of(state),
            centre_of_gravity=None if math.isnan(gravity) else surface.centre_place + gravity / surface.chord,
        ),
        width,
    )


def slack_of(state: State) -> float:
    """Give the slack that the state's model has, each way [rad]; 0 where there is none, or nothing that it could free."""
    play = state.surface.model(state.settings).free_play
    return play.half_gap if play is not None else 0.0
