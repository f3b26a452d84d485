"""A wing with an aileron from a workshop's own file: its weight, its circuit, and the section at the tip."""

from __future__ import annotations

from dataclasses import replace

from hingeline.flutter import Aileron, AileronWeight, FlutterTask, Wing
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
from hingeline_app.why_balance.surfaces.surface import Movement, Shape, Surface

AT_THE_TIP = "The section drawn is that at the tip; what the wing does further in is less."


def own_wing(task: FlutterTask, start: Wing, aileron: Aileron, weighed: Weighed | None) -> Surface:
    """Make a surface to play with from a wing whose aileron moves."""
    carried = sum(each.mass * each.arm for each in aileron.weights)
    moment = weighed.moment / GRAVITY + carried if weighed else aileron.static_moment
    play = task.free_play if task.free_play and task.free_play.place == "surface" else None

    def model(settings: Settings) -> FlutterTask:
        now = settings["moment"]
        part = replace(
            aileron, static_moment=now, weights=_weights(aileron, settings),
            product_of_inertia=_product(aileron, now), stiffness=settings.get("circuit", aileron.stiffness),
        )  # fmt: skip
        scattered = kept_scatter(task, {"static_moment": now != 0.0})
        if weighed and now:
            field = "wing.aileron.static_moment"
            scattered = with_weighed(scattered, field, weighed.standard_uncertainty / GRAVITY / abs(now))
        return changed(task, settings, scattered, play, wing=replace(start, aileron=part))

    def static_moment(settings: Settings) -> float:
        return settings["moment"] - float(sum(each.mass * each.arm for each in _weights(aileron, settings)))

    knobs = _knobs(start, aileron, moment)
    return Surface(
        name="", title="", says="a wing held at its root that bends and twists, with its aileron.",
        leaves_out=(AT_THE_TIP,), knobs=(*knobs, *last_knobs(task, play)), axis=knobs[0].name,
        chord=2.0 * start.semichord, axis_place=(1.0 + start.elastic_axis) / 2.0,
        surface_hinge=(1.0 + aileron.hinge_line) / 2.0, dive_speed=None, model=model, static_moment=static_moment,
        moving_mass=lambda settings: aileron.mass + sum(each.mass for each in _weights(aileron, settings)),
        movement=_at_the_tip, heading=HEADING,
    )  # fmt: skip


def _knobs(start: Wing, aileron: Aileron, moment: float) -> list[Knob]:
    reach = 1000.0 * aileron.mass * start.semichord / 4.0
    knobs = [Knob("moment", "tail-heaviness without the weight", "kg mm", *both_ways(1000.0 * moment, reach), 1e-3)]
    if aileron.weights:
        first = aileron.weights[0]
        place = (aileron.from_root, aileron.to, (aileron.to - aileron.from_root) / 30.0, first.spanwise)
        knobs.insert(0, Knob("weight", "balance weight", "kg", *from_nought(first.mass)))
        knobs.insert(1, Knob("arm", "arm of the weight", "mm", *from_nought(1000.0 * first.arm), 1e-3))
        knobs.insert(2, Knob("place", "place of the weight, from the wing's root", "m", *place))
    if aileron.stiffness:
        knobs.append(Knob("circuit", "stiffness of the circuit", "N m/rad", *from_nought(aileron.stiffness)))
    return knobs


def _weights(aileron: Aileron, settings: Settings) -> tuple[AileronWeight, ...]:
    if not aileron.weights:
        return ()
    first = AileronWeight(settings["weight"], settings["arm"], settings["place"])
    return (first, *aileron.weights[1:]) if first.mass > 0.0 else aileron.weights[1:]


def _product(aileron: Aileron, moment: float) -> float | None:
    """Let the product of inertia go with a static moment that is moved, where it lies along the span unchanged."""
    given = aileron.product_of_inertia
    if given is None or not aileron.static_moment:
        return given
    return given * moment / aileron.static_moment


def _at_the_tip(shape: Shape) -> Movement:
    """Add up the shapes, each of which is 1 at the tip."""
    plunge = sum(part for name, part in shape.items() if name.startswith("bending"))
    pitch = sum(part for name, part in shape.items() if name.startswith("torsion"))
    return Movement(plunge, pitch, shape["aileron"])
