"""An all-moving tailplane on a springy rear fuselage, with its balance weight on an arm ahead of the hinge line."""

from __future__ import annotations

import math

from hingeline.flutter import Air, FlutterTask, FreePlay, ScatteredField, Tailplane, TailplaneWeight
from hingeline_app.why_balance.knobs import KNOT, Knob, Settings
from hingeline_app.why_balance.surfaces.surface import LEAVES_OUT_ALWAYS, Movement, Shape, Surface

SPAN, CHORD, HINGE = 2.9, 0.74, 0.25
MASS, INERTIA = 10.5, 0.62
SUPPORT_MASS, SUPPORT_FREQUENCY = 25.0, 8.0
RIGID_ARM = 80.0
"""Hz: from here on the arm counts as rigid."""
PAINT_PLACE = 0.5
"""Of the chord: where a coat spread evenly has its centroid."""

KNOBS = (
    Knob("weight", "balance weight", "kg", 0.0, 5.0, 0.1, 3.5),
    Knob("arm", "arm of the weight", "mm", 150.0, 500.0, 10.0, 360.0, 1e-3),
    Knob("stiffness", "arm swings at", "Hz", 4.0, RIGID_ARM, 1.0, RIGID_ARM, 1.0, "rigid"),
    Knob("gravity", "centre of gravity without the weight, aft of the hinge line", "mm", 20.0, 200.0, 2.0, 126.0, 1e-3),
    Knob("paint", "paint on top of the old coat", "g", 0.0, 2000.0, 50.0, 0.0, 1e-3),
    Knob("circuit", "stiffness of the circuit", "N m/rad", 0.0, 8000.0, 100.0, 3200.0),
    Knob("play", "free play of the circuit, each way", "°", 0.0, 2.0, 0.1, 0.0, 0.017453292519943295),
    Knob("speed", "airspeed", "kn", 20.0, 300.0, 1.0, 120.0, KNOT),
)


def model(settings: Settings) -> FlutterTask:
    """Give the flutter model of the settings."""
    paint = settings["paint"]
    bare = Tailplane(
        span=SPAN, chord=CHORD, hinge_line=HINGE,
        centre_of_gravity=HINGE + bare_moment(settings) / ((MASS + paint) * CHORD),
        mass=MASS + paint,
        inertia=INERTIA + paint * (((PAINT_PLACE - HINGE) * CHORD) ** 2 + CHORD**2 / 12.0),
        support_mass=SUPPORT_MASS, support_frequency=support_frequency(paint),
        circuit_stiffness=settings["circuit"], weights=weights(settings),
    )  # fmt: skip
    return FlutterTask(
        Air(density=1.225), (2.0, 320.0), tailplane=bare, structural_damping=(0.02,), scatter=scattered(settings),
        free_play=FreePlay(settings["play"], "circuit") if settings["play"] > 0.0 else None,
        name="Merle T2 teaching model, all-moving tailplane",
    )  # fmt: skip


def support_frequency(paint: float) -> float:
    """Give the frequency of the rear fuselage with the paint on it: a coat makes no spring stiffer [Hz]."""
    return SUPPORT_FREQUENCY * math.sqrt((SUPPORT_MASS + MASS) / (SUPPORT_MASS + MASS + paint))


def weights(settings: Settings) -> tuple[TailplaneWeight, ...]:
    """Give the weight on its arm; none at all where it is lost."""
    if settings["weight"] <= 0.0:
        return ()
    frequency = None if settings["stiffness"] >= RIGID_ARM else settings["stiffness"]
    return (TailplaneWeight(settings["weight"], settings["arm"], arm_frequency=frequency),)


def scattered(settings: Settings) -> tuple[ScatteredField, ...]:
    """Give what the band is drawn from: how well such numbers are known at best. Assumed, not measured."""
    names = ["tailplane.mass", "tailplane.inertia", "tailplane.centre_of_gravity", "tailplane.support_frequency"]
    fields = [ScatteredField(name, relative=0.03) for name in names]
    if settings["circuit"] > 0.0:
        fields.append(ScatteredField("tailplane.circuit_stiffness", relative=0.08))
    return tuple(fields)


def bare_moment(settings: Settings) -> float:
    """Give the mass moment without the weight, the new paint included [kg m]."""
    return MASS * settings["gravity"] + settings["paint"] * (PAINT_PLACE - HINGE) * CHORD


def static_moment(settings: Settings) -> float:
    """Give the mass moment about the hinge line with the weight [kg m]."""
    return bare_moment(settings) - settings["weight"] * settings["arm"]


def moving_mass(settings: Settings) -> float:
    """Give the mass that turns about the hinge line [kg]."""
    return MASS + settings["paint"] + settings["weight"]


def movement(shape: Shape) -> Movement:
    """Give what a section does: all of them alike."""
    return Movement(shape["plunge"], shape["pitch"])


TAILPLANE = Surface(
    name="tailplane",
    title="All-moving tailplane",
    says="A stiff tailplane that turns about its hinge line, on a rear fuselage that springs up and down.",
    leaves_out=LEAVES_OUT_ALWAYS,
    knobs=KNOBS,
    axis="weight",
    chord=CHORD,
    axis_place=HINGE,
    surface_hinge=None,
    dive_speed=140.0 * KNOT,
    model=model,
    static_moment=static_moment,
    moving_mass=moving_mass,
    movement=movement,
)
