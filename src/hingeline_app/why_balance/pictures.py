"""A state as pictures: the onset over one knob, and the section as it moves."""

from __future__ import annotations

import math
from collections.abc import Sequence

from hingeline_app.figures.motion.section_in_motion import SectionMotion, draw_section_in_motion
from hingeline_app.figures.onset.curve import ChosenPlace, OnsetCurve, OnsetSample, draw_onset_curve
from hingeline_app.why_balance.answers import Motion, Point, centre_of_gravity
from hingeline_app.why_balance.knobs import GRAVITY
from hingeline_app.why_balance.sentences import headline, motion_sentence
from hingeline_app.why_balance.state import State

LINEAR_IN_MOMENT = ("weight", "gravity", "paint")


def onset_picture(
    state: State,
    curve: Sequence[Point],
    point: Point,
    width: float = 650,
    number: int = 0,
    plot_height: float = 0.0,
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
    number : int
        Of the page's button that leads to the state; 0 where none does.
    plot_height : float
        [px]; 0 for what the width asks for.
    """
    knob, dive, speed = state.surface.knob(state.axis), state.surface.dive_speed, state.surface.knob("speed")
    factor, offset, second = _second_scale(state)
    return draw_onset_curve(
        OnsetCurve(
            samples=tuple(_sample(each, speed.to_si) for each in curve),
            scale=f"{knob.words}, {knob.unit}".rstrip(", "),
            searched=state.surface.model(state.settings).speeds[1] / speed.to_si,
            finding=headline(state, point) + ".",
            second_scale=second,
            second_factor=factor,
            second_offset=offset,
            dive_speed=None if dive is None else dive / speed.to_si,
            dive_words="design dive speed, invented",
            places=(ChosenPlace(_sample(point, speed.to_si), number, True),),
            unit=speed.unit,
        ),
        width,
        plot_height,
    )


def _sample(point: Point, unit: float) -> OnsetSample:
    speed, low, high = (None if each is None else each / unit for each in (point.speed, point.low, point.high))
    return OnsetSample(point.value, speed, low, high, point.from_the_start)


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
            weight_arm=weight_arm(state) / surface.chord,
            centre_of_gravity=None if math.isnan(gravity) else surface.centre_place + gravity / surface.chord,
        ),
        width,
    )


def slack_of(state: State) -> float:
    """Give the slack that the state's model has, each way [rad]; 0 where there is none to be freed."""
    play = state.surface.model(state.settings).free_play
    return play.half_gap if play is not None else 0.0


def weight_arm(state: State) -> float:
    """Give the arm of the state's balance weight ahead of the hinge line [m]; 0 where there is no weight."""
    settings = state.settings
    return settings.get("arm", state.surface.weight_arm) if settings.get("weight", 0.0) > 0.0 else 0.0
