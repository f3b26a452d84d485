"""One metre of a tail with elevator and tab: what happens when the tab's rod comes off."""

from __future__ import annotations

import math

from hingeline.flutter import Air, FlutterTask, ScatteredField, Section
from hingeline_app.why_balance.knobs import KNOT, Knob, Settings
from hingeline_app.why_balance.surfaces.surface import LEAVES_OUT_ALWAYS, Movement, Shape, Surface

SEMICHORD, AXIS, HINGE, TAB_HINGE = 0.38, -0.3, 0.3, 0.75
MASS, INERTIA, TAB_INERTIA = 9.0, 0.035, 0.00045
PLUNGE_STIFFNESS = MASS * (2.0 * math.pi * 8.0) ** 2

KNOBS = (
    Knob("weight", "balance weight of the elevator, on each metre", "kg", 0.0, 4.0, 0.1, 2.0),
    Knob("gravity", "centre of gravity without the weight, aft of the hinge line", "mm", 20.0, 130.0, 5.0, 100.0, 1e-3),
    Knob("rod", "tab on its rod swings at", "Hz", 0.0, 60.0, 1.0, 60.0),
    Knob("tab_moment", "tail-heaviness of the tab", "g m", 0.0, 12.0, 0.5, 6.0, 1e-3),
    Knob("circuit", "elevator on its circuit swings at", "Hz", 0.0, 20.0, 0.5, 4.0),
    Knob("speed", "airspeed", "kn", 5.0, 290.0, 1.0, 60.0, KNOT),
)
ELEVATOR_MASS, WEIGHT_ARM = 2.0, 0.1


def model(settings: Settings) -> FlutterTask:
    """Give the flutter model of the settings: the tail's plunge, its elevator, and the tab."""
    inertia = INERTIA + settings["weight"] * WEIGHT_ARM**2
    strip = Section(
        ("plunge", "surface", "tab"), SEMICHORD, AXIS, MASS, HINGE,
        surface_static_moment=static_moment(settings), surface_inertia=inertia,
        plunge_stiffness=PLUNGE_STIFFNESS, surface_stiffness=inertia * (2.0 * math.pi * settings["circuit"]) ** 2,
        tab_hinge_line=TAB_HINGE, tab_static_moment=settings["tab_moment"], tab_inertia=TAB_INERTIA,
        tab_stiffness=TAB_INERTIA * (2.0 * math.pi * settings["rod"]) ** 2,
    )  # fmt: skip
    return FlutterTask(
        Air(density=1.225),
        (2.0, 150.0),
        section=strip,
        structural_damping=(0.02,),
        scatter=scattered(settings),
        name="Merle T2 teaching model, elevator with its tab",
    )


def scattered(settings: Settings) -> tuple[ScatteredField, ...]:
    """Give what the band is drawn from. Assumed, not measured."""
    names = ["section.mass", "section.surface_inertia", "section.plunge_stiffness", "section.tab_inertia"]
    fields = [ScatteredField(name, relative=0.03) for name in names]
    if settings["rod"] > 0.0:
        fields.append(ScatteredField("section.tab_stiffness", relative=0.08))
    return tuple(fields)


def static_moment(settings: Settings) -> float:
    """Give the mass moment of one metre of elevator with its tab about the hinge line [kg]."""
    return ELEVATOR_MASS * settings["gravity"] - settings["weight"] * WEIGHT_ARM


def moving_mass(settings: Settings) -> float:
    """Give the mass of one metre that turns about the hinge line [kg]."""
    return ELEVATOR_MASS + settings["weight"]


def movement(shape: Shape) -> Movement:
    """Give what the section does; the tab is too small to be drawn."""
    return Movement(shape["plunge"], 0.0, shape["surface"])


ELEVATOR_TAB = Surface(
    name="elevator",
    title="Elevator with a tab",
    says="One metre of a tail that springs up and down, its elevator, and a tab on a rod.",
    leaves_out=("The tail does not twist here, and the tab is not drawn.", *LEAVES_OUT_ALWAYS),
    knobs=KNOBS,
    axis="rod",
    chord=2.0 * SEMICHORD,
    axis_place=(1.0 + AXIS) / 2.0,
    surface_hinge=(1.0 + HINGE) / 2.0,
    dive_speed=140.0 * KNOT,
    model=model,
    static_moment=static_moment,
    moving_mass=moving_mass,
    movement=movement,
    weight_arm=WEIGHT_ARM,
)
