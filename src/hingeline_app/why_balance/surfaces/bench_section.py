"""A light section on soft hinges in a jet of air: the demonstration that can be built on a bench."""

from __future__ import annotations

from hingeline.flutter import Air, FlutterTask, ScatteredField, Tailplane, TailplaneWeight
from hingeline_app.why_balance.knobs import Knob, Settings
from hingeline_app.why_balance.surfaces.surface import Movement, Shape, Surface

SPAN, CHORD, HINGE, GRAVITY = 0.3, 0.15, 0.25, 0.41
MASS, INERTIA = 0.22, 4.6e-4
CARRIAGE, SUPPORT_FREQUENCY, SPRING = 0.10, 5.0, 1.15
UNCERTAIN = ("mass", "inertia", "centre_of_gravity")

KNOBS = (
    Knob("weight", "mass added", "g", 0.0, 100.0, 2.0, 0.0, 1e-3),
    Knob("arm", "arm of the mass", "mm", 40.0, 90.0, 5.0, 70.0, 1e-3),
    Knob("spring", "stiffness of the hinge spring", "N m/rad", 0.4, 2.5, 0.05, 1.15),
    Knob("jet", "part of the span in the jet", "%", 40.0, 100.0, 5.0, 65.0, 1e-2),
    Knob("speed", "speed of the air", "m/s", 4.0, 40.0, 0.5, 14.0),
)


def model(settings: Settings) -> FlutterTask:
    """Give the flutter model of the settings."""
    added = settings["weight"]
    section = Tailplane(
        SPAN, CHORD, HINGE, GRAVITY, MASS, INERTIA, CARRIAGE, SUPPORT_FREQUENCY,
        circuit_stiffness=settings["spring"],
        weights=(TailplaneWeight(added, settings["arm"]),) if added > 0.0 else (),
        part_of_span_in_jet=settings["jet"],
    )  # fmt: skip
    return FlutterTask(
        Air(density=1.225), (2.0, 60.0), tailplane=section, structural_damping=(0.025,),
        scatter=tuple(ScatteredField(f"tailplane.{name}", relative=0.03) for name in UNCERTAIN),
        name="Bench section of the Fenholt workshop",
    )  # fmt: skip


def static_moment(settings: Settings) -> float:
    """Give the mass moment about the hinge line with the added mass [kg m]."""
    return MASS * (GRAVITY - HINGE) * CHORD - settings["weight"] * settings["arm"]


def moving_mass(settings: Settings) -> float:
    """Give the mass that turns about the hinge line [kg]."""
    return MASS + settings["weight"]


def movement(shape: Shape) -> Movement:
    """Give what the section does."""
    return Movement(shape["plunge"], shape["pitch"])


BENCH_SECTION = Surface(
    name="bench",
    title="Section on the bench",
    says="A light section on soft springs in a jet of air, with mass added on a rod ahead of its hinge line.",
    leaves_out=(
        "A jet of finite width bends around the section: expect growth to start at a higher speed than computed.",
        "Damping is one structural part of 0.025; that of the real springs is to be found by a tap test.",
        "Strip theory for one section: no end effects, no stops, no friction.",
    ),
    knobs=KNOBS,
    axis="weight",
    chord=CHORD,
    axis_place=HINGE,
    surface_hinge=None,
    dive_speed=None,
    model=model,
    static_moment=static_moment,
    moving_mass=moving_mass,
    movement=movement,
)
