"""A workshop's own model to play with: a flutter file, and a weighed surface's moment where one was chosen for it.

A tailplane or a strip can be drawn; a wing and measured modes are refused in words, since the page draws one section.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from hingeline.errors import InputRefused
from hingeline.flutter import FlutterTask, FreePlay, ScatteredField, Section, Tailplane
from hingeline_app.why_balance.knobs import KNOT, Knob, Settings
from hingeline_app.why_balance.surfaces.surface import LEAVES_OUT_ALWAYS, Movement, Shape, Surface

HEADING = "Model. Not a limit."
GRAVITY = 9.80665
DEGREE = math.pi / 180.0
NOT_CHECKED = (
    "Its numbers stand in a file of the workshop's own: this program checked that they can be computed, no more."
)


@dataclass(frozen=True, slots=True)
class Weighed:
    """A weighing that gives a model its static moment.

    Parameters
    ----------
    words : str
        Which weighing, with its value and ±, for people.
    moment, standard_uncertainty : float
        About the hinge line, tail-heavy positive, all that was fitted included [N m].
    span : float
        Of the weighed surface: a strip stands for one metre of it [m].
    """

    words: str
    moment: float
    standard_uncertainty: float
    span: float = 1.0


def own_surface(name: str, title: str, task: FlutterTask, weighed: Weighed | None = None) -> Surface:
    """Make a surface to play with from a flutter task.

    Raises
    ------
    InputRefused
        It is a wing or measured modes.
    """
    structure = task.structure
    if isinstance(structure, Tailplane):
        surface = _tailplane(task, structure, weighed)
    elif isinstance(structure, Section):
        surface = _section(task, structure, weighed)
    else:
        remedy = "The page draws one section. For a wing or measured modes: hingeline flutter FILE."
        raise InputRefused.of("model", type(structure).__name__.lower(), "a [tailplane] or a [section]", remedy)
    said = f"{title}: {surface.says}" + (f" Its static moment is that of {weighed.words}." if weighed else "")
    leaves_out = (*LEAVES_OUT_ALWAYS[:2], NOT_CHECKED, *surface.leaves_out)
    return replace(surface, name=name, title=title, says=said, leaves_out=leaves_out)


def _tailplane(task: FlutterTask, start: Tailplane, weighed: Weighed | None) -> Surface:
    carried = sum(each.mass * each.arm for each in start.weights)
    bare = start.mass * (start.centre_of_gravity - start.hinge_line) * start.chord
    if weighed:
        bare = weighed.moment / GRAVITY + carried
    knobs = [Knob("gravity", "centre of gravity without the weight, aft of the hinge line", "mm",
                  *_both_ways(1000.0 * bare / start.mass, 100.0 * start.chord), 1e-3)]  # fmt: skip
    if start.weights:
        knobs.insert(0, Knob("weight", "balance weight", "kg", *_from_nought(start.weights[0].mass)))
        knobs.insert(1, Knob("arm", "arm of the weight", "mm", *_from_nought(1000.0 * start.weights[0].arm), 1e-3))
    if start.circuit_stiffness:
        knobs.append(Knob("circuit", "stiffness of the circuit", "N m/rad", *_from_nought(start.circuit_stiffness)))
    play = task.free_play if task.free_play and task.free_play.place == "circuit" else None

    def weights(settings: Settings) -> tuple[Any, ...]:
        if not start.weights:
            return ()
        first = replace(start.weights[0], mass=settings["weight"], arm=settings["arm"])
        return (first, *start.weights[1:]) if first.mass > 0.0 else start.weights[1:]

    def moment(settings: Settings) -> float:
        return start.mass * settings["gravity"] - float(sum(each.mass * each.arm for each in weights(settings)))

    def model(settings: Settings) -> FlutterTask:
        part = replace(
            start,
            centre_of_gravity=start.hinge_line + settings["gravity"] / start.chord,
            weights=weights(settings),
            circuit_stiffness=settings.get("circuit", start.circuit_stiffness),
        )
        scatter = _scatter(task, {"weight[0]": bool(weights(settings))})
        if weighed:
            place = weighed.standard_uncertainty / GRAVITY / (start.mass * start.chord)
            scatter = _with_weighed(scatter, "tailplane.centre_of_gravity", place / part.centre_of_gravity)
        return _task(task, settings, scatter, play, tailplane=part)

    return Surface(
        name="", title="", says="an all-moving tailplane on a rear fuselage that springs up and down.", leaves_out=(),
        knobs=(*knobs, *_last_knobs(task, play)), axis=knobs[0].name, chord=start.chord, axis_place=start.hinge_line,
        surface_hinge=None, dive_speed=None, model=model, static_moment=moment,
        moving_mass=lambda settings: start.mass + sum(each.mass for each in weights(settings)),
        movement=lambda shape: Movement(shape["plunge"], shape["pitch"]), heading=HEADING,
    )  # fmt: skip


def _section(task: FlutterTask, start: Section, weighed: Weighed | None) -> Surface:
    part_of = "surface" if "surface" in start.freedoms else "pitch"
    moment_field, stiffness_field = f"{part_of}_static_moment", f"{part_of}_stiffness"
    moment = weighed.moment / GRAVITY / weighed.span if weighed else getattr(start, moment_field)
    stiffness, inertia = getattr(start, stiffness_field), getattr(start, f"{part_of}_inertia")
    knobs = [
        Knob("moment", "tail-heaviness of one metre", "g m", *_both_ways(1000.0 * moment, 500.0 * inertia), 1e-3),
        Knob("inertia", "inertia of one metre", "g m²", *_from_nought(1000.0 * inertia, lowest=0.2), 1e-3),
    ]
    if stiffness > 0.0:
        knobs.append(Knob("stiffness", "stiffness of one metre", "N m/rad", *_from_nought(stiffness)))
    play = task.free_play if task.free_play and task.free_play.place == part_of else None

    def model(settings: Settings) -> FlutterTask:
        changes = {
            moment_field: settings["moment"],
            f"{part_of}_inertia": settings["inertia"],
            stiffness_field: settings.get("stiffness", stiffness),
        }
        scatter = _scatter(task, {moment_field: settings["moment"] != 0.0})
        if weighed and settings["moment"]:
            one_metre = weighed.standard_uncertainty / GRAVITY / weighed.span
            scatter = _with_weighed(scatter, f"section.{moment_field}", one_metre / abs(settings["moment"]))
        return _task(task, settings, scatter, play, section=replace(start, **changes))

    def movement(shape: Shape) -> Movement:
        return Movement(shape.get("plunge", 0.0), shape.get("pitch", 0.0), shape.get("surface", 0.0))

    return Surface(
        name="", title="", says="one metre of a tail or wing, as a strip.",
        leaves_out=("A strip stands for the whole surface: span, tips and the shape of the motion are left out.",),
        knobs=(*knobs, *_last_knobs(task, play)), axis="moment", chord=2.0 * start.semichord,
        axis_place=(1.0 + start.elastic_axis) / 2.0,
        surface_hinge=(1.0 + start.hinge_line) / 2.0 if part_of == "surface" else None,
        dive_speed=None, model=model, static_moment=lambda settings: settings["moment"],
        moving_mass=lambda _settings: 0.0, movement=movement, heading=HEADING,
    )  # fmt: skip


def _task(
    task: FlutterTask, settings: Settings, scatter: tuple[ScatteredField, ...], play: FreePlay | None, **part: Any
) -> FlutterTask:
    slack = replace(play, half_gap=settings["play"]) if play and settings["play"] > 0.0 else None
    return replace(task, scatter=scatter, free_play=slack, **part)


def _last_knobs(task: FlutterTask, play: FreePlay | None) -> list[Knob]:
    low, high = (round(each / KNOT) for each in task.speeds)
    low, middle = max(1, low), (low + high) // 2
    speed = Knob("speed", "airspeed", "kn", float(low), float(max(high, low + 1)), 1.0, float(max(middle, low)), KNOT)
    if play is None:
        return [speed]
    return [Knob("play", "slack, each way", "°", *_from_nought(play.half_gap / DEGREE), DEGREE), speed]


def _scatter(task: FlutterTask, there: Mapping[str, bool]) -> tuple[ScatteredField, ...]:
    """Give what the file says of uncertain inputs, as parts of their values; without what is not there now."""
    gone = [name for name, is_there in there.items() if not is_there]
    kept = [each for each in task.scatter if not any(name in each.field for name in gone)]
    return tuple(each for each in kept if each.relative is not None and "[" not in each.field)


def _with_weighed(scatter: tuple[ScatteredField, ...], field: str, relative: float) -> tuple[ScatteredField, ...]:
    """Let the weighing's own ± stand in the place of what the file says of that field."""
    return (*(each for each in scatter if each.field != field), ScatteredField(field, relative=relative))


def _from_nought(start: float, lowest: float = 0.0) -> tuple[float, float, float, float]:
    """Give low, high, step and start of a knob that runs from nought to about twice its start."""
    step = _step(start)
    return _down(lowest * start, step), _up(2.0 * start, step), step, float(f"{start:.12g}")


def _both_ways(start: float, reach: float) -> tuple[float, float, float, float]:
    """Give low, high, step and start of a knob that runs to both sides of nought."""
    whole = max(1.5 * abs(start), abs(reach))
    step = _step(whole)
    return _down(-whole, step), _up(whole, step), step, float(f"{start:.12g}")


def _step(size: float) -> float:
    """Give a round step of about a fortieth of a size."""
    wanted = abs(size) / 40.0 or 0.01
    power = 10.0 ** math.floor(math.log10(wanted))
    return float(f"{next(each for each in (1.0, 2.0, 5.0, 10.0) if each * power >= wanted * 0.999) * power:.6g}")


def _down(value: float, step: float) -> float:
    return float(f"{math.floor(value / step + 1e-9) * step:.12g}")


def _up(value: float, step: float) -> float:
    return float(f"{math.ceil(value / step - 1e-9) * step:.12g}")
