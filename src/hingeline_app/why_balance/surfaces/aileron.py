"""A wing that bends and twists, with an aileron whose weight can sit anywhere along its span."""

from __future__ import annotations

from hingeline.flutter import Aileron, AileronWeight, Air, FlutterTask, FreePlay, ScatteredField, Wing
from hingeline_app.why_balance.knobs import KNOT, Knob, Settings
from hingeline_app.why_balance.surfaces.surface import LEAVES_OUT_ALWAYS, Movement, Shape, Surface

SEMICHORD, ELASTIC_AXIS, HINGE = 0.9, -0.34, 0.5
INBOARD, OUTBOARD = 4.5, 6.0
MASS, INERTIA = 8.0, 0.26

KNOBS = (
    Knob("weight", "balance weight", "kg", 0.0, 6.0, 0.1, 4.8),
    Knob("arm", "arm of the weight", "mm", 150.0, 350.0, 10.0, 250.0, 1e-3),
    Knob("place", "place of the weight, from the wing's root", "m", 4.6, 5.95, 0.05, 5.25),
    Knob("gravity", "centre of gravity without the weight, aft of the hinge line", "mm", 50.0, 175.0, 5.0, 150.0, 1e-3),
    Knob("circuit", "stiffness of the circuit", "N m/rad", 0.0, 2000.0, 50.0, 0.0),
    Knob("play", "free play of the circuit, each way", "°", 0.0, 2.0, 0.1, 0.0, 0.017453292519943295),
    Knob("speed", "airspeed", "kn", 20.0, 300.0, 1.0, 160.0, KNOT),
)


def model(settings: Settings) -> FlutterTask:
    """Give the flutter model of the settings: one bending, one twisting motion, and the aileron."""
    moment = bare_moment(settings)
    aileron = Aileron(
        INBOARD, OUTBOARD, HINGE, MASS, moment, INERTIA,
        product_of_inertia=moment * (INBOARD + OUTBOARD) / 2.0,
        stiffness=settings["circuit"], weights=weights(settings),
    )  # fmt: skip
    wing = Wing(6.0, SEMICHORD, ELASTIC_AXIS, 33.0, 0.18, 7.8, 9.6e6, 1.0e6, 1, 1, aileron)
    slack = settings["play"] > 0.0 and settings["circuit"] > 0.0
    return FlutterTask(
        Air(density=1.225), (3.0, 200.0), wing=wing, structural_damping=(0.02,), scatter=scattered(settings),
        free_play=FreePlay(settings["play"], "surface") if slack else None,
        name="Merle T2 teaching model, wing with aileron",
    )  # fmt: skip


def weights(settings: Settings) -> tuple[AileronWeight, ...]:
    """Give the weight; none at all where it is lost."""
    if settings["weight"] <= 0.0:
        return ()
    return (AileronWeight(settings["weight"], settings["arm"], settings["place"]),)


def scattered(settings: Settings) -> tuple[ScatteredField, ...]:
    """Give what the band is drawn from. Assumed, not measured."""
    names = ["wing.mass", "wing.inertia", "wing.bending_stiffness", "wing.torsion_stiffness", "wing.aileron.inertia"]
    fields = [ScatteredField(name, relative=0.03) for name in names]
    if settings["circuit"] > 0.0:
        fields.append(ScatteredField("wing.aileron.stiffness", relative=0.08))
    return tuple(fields)


def bare_moment(settings: Settings) -> float:
    """Give the mass moment without the weight [kg m]."""
    return MASS * settings["gravity"]


def static_moment(settings: Settings) -> float:
    """Give the mass moment about the hinge line with the weight [kg m]."""
    return bare_moment(settings) - settings["weight"] * settings["arm"]


def moving_mass(settings: Settings) -> float:
    """Give the mass that turns about the hinge line [kg]."""
    return MASS + settings["weight"]


def movement(shape: Shape) -> Movement:
    """Give what the section at the tip does: bending, twist and aileron."""
    return Movement(shape["bending 1"], shape["torsion 1"], shape["aileron"])


AILERON = Surface(
    name="aileron",
    title="Wing with aileron",
    says="A wing held at its root that bends and twists, with an aileron on its outer quarter.",
    leaves_out=(
        "The wing has one bending and one twisting motion here; four of each change the speeds by a few per cent.",
        *LEAVES_OUT_ALWAYS,
    ),
    knobs=KNOBS,
    axis="place",
    chord=2.0 * SEMICHORD,
    axis_place=(1.0 + ELASTIC_AXIS) / 2.0,
    surface_hinge=(1.0 + HINGE) / 2.0,
    dive_speed=140.0 * KNOT,
    model=model,
    static_moment=static_moment,
    moving_mass=moving_mass,
    movement=movement,
)  # fmt: skip
