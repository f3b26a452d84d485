"""A workshop's own model to play with: a flutter file, and a weighed surface's moment where one was chosen for it.

A tailplane, a strip or a wing with a free aileron can be drawn; measured modes, and a wing without an aileron that
moves, are refused in words, since the page draws one section.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from hingeline.errors import InputRefused
from hingeline.flutter import FlutterTask, Section, Tailplane, Wing
from hingeline_app.why_balance.knobs import GRAVITY, Knob, Settings
from hingeline_app.why_balance.own_parts import (
    HEADING,
    Weighed,
    both_ways,
    changed,
    from_nought,
    kept_scatter,
    last_knobs,
    with_weighed,
)
from hingeline_app.why_balance.own_wing import own_wing
from hingeline_app.why_balance.surfaces.surface import LEAVES_OUT_ALWAYS, Movement, Shape, Surface

NOT_CHECKED = (
    "Its numbers stand in a file of the workshop's own: this program checked that they can be computed, no more."
)


def own_surface(name: str, title: str, task: FlutterTask, weighed: Weighed | None = None) -> Surface:
    """Make a surface to play with from a flutter task.

    Raises
    ------
    InputRefused
        It is measured modes, or a wing without an aileron that moves.
    """
    structure = task.structure
    if isinstance(structure, Tailplane):
        surface = _tailplane(task, structure, weighed)
    elif isinstance(structure, Section):
        surface = _section(task, structure, weighed)
    elif isinstance(structure, Wing) and structure.aileron is not None and not structure.aileron.locked:
        surface = own_wing(task, structure, structure.aileron, weighed)
    else:
        remedy = "The page draws one section that moves. For anything else: hingeline flutter FILE."
        expected = "a [tailplane], a [section], or a [wing] with an aileron that is not locked"
        raise InputRefused.of("model", type(structure).__name__.lower(), expected, remedy)
    said = f"{title}: {surface.says}" + (f" Its static moment is that of {weighed.words}." if weighed else "")
    leaves_out = (*LEAVES_OUT_ALWAYS[:2], NOT_CHECKED, *surface.leaves_out)
    return replace(surface, name=name, title=title, says=said, leaves_out=leaves_out)


def _tailplane_knobs(start: Tailplane, bare: float) -> list[Knob]:
    """Give what can be moved on it; ``bare`` is its moment without the weights [kg m]."""
    knobs = [Knob("gravity", "centre of gravity without the weight, aft of the hinge line", "mm",
                  *both_ways(1000.0 * bare / start.mass, 100.0 * start.chord), 1e-3)]  # fmt: skip
    if start.weights:
        knobs.insert(0, Knob("weight", "balance weight", "kg", *from_nought(start.weights[0].mass)))
        knobs.insert(1, Knob("arm", "arm of the weight", "mm", *from_nought(1000.0 * start.weights[0].arm), 1e-3))
    if start.circuit_stiffness:
        knobs.append(Knob("circuit", "stiffness of the circuit", "N m/rad", *from_nought(start.circuit_stiffness)))
    return knobs


def _tailplane(task: FlutterTask, start: Tailplane, weighed: Weighed | None) -> Surface:
    carried = sum(each.mass * each.arm for each in start.weights)
    bare = start.mass * (start.centre_of_gravity - start.hinge_line) * start.chord
    if weighed:
        bare = weighed.moment / GRAVITY + carried
    knobs = _tailplane_knobs(start, bare)
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
        scattered = kept_scatter(task, {"weight[0]": bool(weights(settings))})
        if weighed:
            place = weighed.standard_uncertainty / GRAVITY / (start.mass * start.chord)
            scattered = with_weighed(scattered, "tailplane.centre_of_gravity", place / part.centre_of_gravity)
        return changed(task, settings, scattered, play, tailplane=part)

    return Surface(
        name="", title="", says="an all-moving tailplane on a rear fuselage that springs up and down.", leaves_out=(),
        knobs=(*knobs, *last_knobs(task, play)), axis=knobs[0].name, chord=start.chord, axis_place=start.hinge_line,
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
        Knob("moment", "tail-heaviness of one metre", "g m", *both_ways(1000.0 * moment, 500.0 * inertia), 1e-3),
        Knob("inertia", "inertia of one metre", "g m²", *from_nought(1000.0 * inertia, lowest=0.2), 1e-3),
    ]
    if stiffness > 0.0:
        knobs.append(Knob("stiffness", "stiffness of one metre", "N m/rad", *from_nought(stiffness)))
    play = task.free_play if task.free_play and task.free_play.place == part_of else None

    def model(settings: Settings) -> FlutterTask:
        changes = {
            moment_field: settings["moment"],
            f"{part_of}_inertia": settings["inertia"],
            stiffness_field: settings.get("stiffness", stiffness),
        }
        scattered = kept_scatter(task, {moment_field: settings["moment"] != 0.0})
        if weighed and settings["moment"]:
            one_metre = weighed.standard_uncertainty / GRAVITY / weighed.span
            scattered = with_weighed(scattered, f"section.{moment_field}", one_metre / abs(settings["moment"]))
        return changed(task, settings, scattered, play, section=replace(start, **changes))

    def movement(shape: Shape) -> Movement:
        return Movement(shape.get("plunge", 0.0), shape.get("pitch", 0.0), shape.get("surface", 0.0))

    return Surface(
        name="", title="", says="one metre of a tail or wing, as a strip.",
        leaves_out=("A strip stands for the whole surface: span, tips and the shape of the motion are left out.",),
        knobs=(*knobs, *last_knobs(task, play)), axis="moment", chord=2.0 * start.semichord,
        axis_place=(1.0 + start.elastic_axis) / 2.0,
        surface_hinge=(1.0 + start.hinge_line) / 2.0 if part_of == "surface" else None,
        dive_speed=None, model=model, static_moment=lambda settings: settings["moment"],
        moving_mass=lambda _settings: 0.0, movement=movement, heading=HEADING,
    )  # fmt: skip
