"""What the answers say, in sentences. None of them ever says that a state is good."""

from __future__ import annotations

import math

from hingeline_app.figures.wording import Toward, format_number, speed_number
from hingeline_app.why_balance.answers import CASES, Motion, Point, centre_of_gravity, static_moment
from hingeline_app.why_balance.state import State, start_of

NO_BREAK_SPACE = "\u00a0"
MOST = f"95{NO_BREAK_SPACE}%"
STEADY = 0.01
TEACHING = "Teaching model. Not your aircraft."
WHAT_FLUTTER_IS = (
    "Flutter is a motion that takes its energy from the air, grows by itself, and can break a tail or a wing within "
    "seconds. Balance weights are there against it."
)
CAUTION = "If it starts in flight: follow the flight manual. Do not fly again until the aircraft has been inspected."
ON_A_BENCH = (
    "On a bench only, behind its guard, with one hand on the switch. "
    "Never an aircraft's own surface, and never in flight."
)
FRACTIONS = {2: "half", 3: "a third", 4: "a quarter", 5: "a fifth", 6: "a sixth", 8: "an eighth", 12: "a twelfth"}


def caution_of(state: State) -> str:
    """Give what not to do: in the air, or at the rig on the bench."""
    return ON_A_BENCH if state.surface.name == "bench" else CAUTION


def speed_words(state: State, speed: float, *, finer: bool = False, toward: Toward | None = None) -> str:
    """Write a speed in the unit of the surface's own speed: knots, or metres per second on the bench."""
    unit = state.surface.knob("speed").unit
    shown = speed / state.surface.knob("speed").to_si
    places = 2 if unit != "kn" else 1
    number = format_number(shown, places, toward) if finer else speed_number(shown, unit, toward)
    return f"{number}{NO_BREAK_SPACE}{unit}"


def searched_words(state: State) -> str:
    """Write up to where the model looked."""
    return speed_words(state, state.surface.model(state.settings).speeds[1])


def headline(state: State, point: Point) -> str:
    """Say the onset."""
    if point.from_the_start:
        return "A motion grows at every speed"
    if point.speed is None:
        return f"Model finds no growth up to {searched_words(state)}: not proof"
    return f"Growth starts at {speed_words(state, point.speed)}"


def range_sentence(state: State, point: Point) -> str:
    """Say how far the onset scatters, how it lies to the dive speed, and what kind of number it is."""
    parts = [*_band_words(state, point), *_dive_words(state, point)]
    said = ", ".join(parts)
    opening = f"{said[0].upper()}{said[1:]}. " if said else ""
    return f"{_beside_play(state, point)}{opening}Estimate by a model, not a measurement: it clears no speed."


def _beside_play(state: State, point: Point) -> str:
    """Say beside the onset that it is the one without free play: alone it reads as where a motion begins."""
    if state.surface.model(state.settings).free_play is None or point.from_the_start:
        return ""
    if point.speed is None:
        return "That is without the free play: with it a motion may keep itself going all the same. "
    return "That is without the free play: with it a motion can keep itself going below this speed. "


def _band_words(state: State, point: Point) -> list[str]:
    if point.low is None:
        return []
    low, high = _end_words(state, point.low, "down"), _end_words(state, point.high, "up")
    if low == high and point.low:
        low = _end_words(state, point.low, "down", finer=True)
        high = _end_words(state, point.high, "up", finer=True)
    return [f"from {low} to {high} in {MOST} of {CASES} varied cases"]


def _end_words(state: State, speed: float | None, toward: Toward, *, finer: bool = False) -> str:
    """Write an end of the band; with more places where both ends round to one speed."""
    if speed is None:
        return "no growth found"
    return "every speed" if speed == 0.0 else speed_words(state, speed, finer=finer, toward=toward)


def _dive_words(state: State, point: Point) -> list[str]:
    """Name the dive speed only where growth may start below it: its being above would read as a licence."""
    dive, lowest = state.surface.dive_speed, point.speed if point.low is None else point.low
    if dive is None or lowest is None:
        return []
    if lowest < dive:
        return [f"below the invented dive speed of {speed_words(state, dive)}"]
    if lowest < 1.2 * dive:
        return [f"below 1.2 times the invented dive speed of {speed_words(state, dive)}"]
    return []


def moment_sentence(state: State) -> str:
    """Say the static moment and where the centre of gravity lies."""
    moment, gravity = static_moment(state), centre_of_gravity(state)
    if abs(moment) < 5e-7:
        return "Static moment 0: balanced exactly."
    sense = "tail-heavy" if moment > 0.0 else "nose-heavy"
    written = format_number(abs(moment), 4 if state.surface.name == "bench" else 2)
    size = f"{written}{NO_BREAK_SPACE}N·m {sense}"
    if math.isnan(gravity):
        return f"Static moment {size}, for one metre of span."
    away = f"{format_number(abs(1000.0 * gravity), 1)}{NO_BREAK_SPACE}mm"
    if moment > 0.0:
        return f"Static moment {size}: centre of gravity {away} aft of the hinge line."
    return f"Static moment {size}: centre of gravity {away} forward of the hinge line."


def slack_sentence(state: State) -> str:
    """Say what slack does to the onset that is shown: it is that without slack."""
    play = state.surface.model(state.settings).free_play
    if play is None:
        return ""
    degrees = format_number(math.degrees(play.half_gap), 1)
    return (
        f"The onset above is that without free play. With ±{degrees}° of free play, marked behind the trailing edge, a "
        "motion can keep itself going below it, and one knock that dies out shows nothing."
    )


def motion_sentence(state: State, motion: Motion | None) -> str:
    """Say what the least damped motion does at the chosen speed."""
    at = speed_words(state, state.settings["speed"])
    if motion is None:
        return f"At {at} nothing oscillates in this model."
    rate = f"{format_number(motion.frequency, 1)}{NO_BREAK_SPACE}Hz"
    if abs(motion.growth_rate) < STEADY * motion.frequency:
        return f"At {at} the least damped motion, {rate}, hardly changes: right at the edge."
    time = f"{format_number(math.log(2.0) / abs(motion.growth_rate), 2)}{NO_BREAK_SPACE}s"
    if motion.growth_rate > 0.0:
        return f"At {at} a motion of {rate} grows: it doubles every {time}."
    return f"At {at} the least damped motion, {rate}, dies out: it halves every {time}."


def why_sentence(state: State, motion: Motion | None) -> str:
    """Say how the turning follows the up-and-down motion, and which way the energy goes."""
    if motion is None or motion.lag is None:
        return ""
    gives = (
        "In a cycle the air puts more into it than the structure takes out, and so feeds it."
        if motion.growth_rate > 0.0
        else "Over a cycle air and structure together take more out of it than is put in."
    )
    if state.surface.surface_hinge is not None:
        return f"The swing of the surface {_lag_words(motion.lag)}. {gives}"
    return f"The twist {_lag_words(motion.lag)}. {gives}"


def _lag_words(lag: float) -> str:
    nearest = min(FRACTIONS, key=lambda whole: abs(1.0 / whole - abs(lag)))
    if abs(lag) < 1.0 / 24.0:
        return "keeps step with the up-and-down motion"
    if nearest == 2:
        return "goes against the up-and-down motion, half a cycle apart"
    if lag > 0.0:
        return f"follows the up-and-down motion by about {FRACTIONS[nearest]} of a cycle"
    return f"runs ahead of the up-and-down motion by about {FRACTIONS[nearest]} of a cycle"


def change_sentence(state: State, point: Point, before: Point) -> str:
    """Say what changed against the start of the page, and by how much the onset moved."""
    start = start_of(state.surface)
    moved = [
        knob
        for knob in state.surface.knobs
        if state.shown[knob.name] != start.shown[knob.name] and knob.name != "speed"
    ]
    if not moved:
        return ""
    what = "; ".join(f"{knob.words}: {_shown(knob.name, start)} → {_shown(knob.name, state)}" for knob in moved)
    what = what[0].upper() + what[1:]
    return f"{what}. Before: {_onset_words(state, before)}; now: {_onset_words(state, point)}."


def _shown(name: str, state: State) -> str:
    knob = state.surface.knob(name)
    value = state.shown[name]
    return knob.top_is if knob.top_is and value >= knob.high else f"{value:g}{NO_BREAK_SPACE}{knob.unit}".strip()


def _onset_words(state: State, point: Point) -> str:
    if point.from_the_start:
        return "growth at every speed"
    return (
        f"no growth found up to {searched_words(state)}"
        if point.speed is None
        else f"growth from {speed_words(state, point.speed)}"
    )
