"""What an unbalanced surface does at the stick: each manoeuvre, and what changes when its weight is gone."""

from __future__ import annotations

import math
from collections.abc import Iterator

from hingeline.errors import InputRefused, Refusal
from hingeline.flutter.ranges import Range, fault, one_out_of_range, positive
from hingeline.flutter.static_effects import (
    ControlAir,
    Manoeuvre,
    SurfaceMass,
    mass_hinge_moment,
    stick_force,
    stick_force_per_g,
    weight_gone,
)
from hingeline.flutter.stick_model import HoldingAir, Lost, StatedManoeuvre, StickLoad, StickResult, StickTask, Trimmed

ASSUMPTIONS = (
    "The surface's own mass alone: the air's hinge moment, springs and the stick's own weight come beside it.",
    "Standard gravity; terms of pitch rate squared and of rolling are left out; no friction.",
    "The gearing is even over the whole travel, and the circuit is stiff.",
)
FELT_IS_NOT_FLUTTER = (
    "None of this is why the balance weight is there. A stick that feels right shows nothing about flutter: a surface "
    "whose weight is gone or light can destroy the tail at a speed at which nothing is felt before."
)
DATA = (
    "Limits of balance are the approved data's. These numbers are an estimate for reading a pilot's report, no limit."
)
NOT_A_BOB_WEIGHT = (
    "A tail-heavy surface adds pull with load factor, as a bob-weight does: it does not lighten the stick."
)
LIGHTENS = "A nose-heavy surface takes pull away with load factor: the stick gets lighter in a pull-up."
FELT_WHEN_SLOW = "The change of trim goes as one over speed squared: it is felt most when slow."

RANGES = {
    "surface.inertia": positive("an inertia", "kg m^2", 1e4, 1e-12),
    "stick_travel": positive("a travel of the stick", "m", 5.0, 1e-4),
    "surface_travel": positive("a travel of the surface", "rad", math.pi, 1e-4),
    "hinge_aft_of_cg": Range("a distance aft of the aircraft's centre of gravity", "m", -50.0, 50.0, closed=True),
    "surface.static_moment": Range("a mass moment", "kg m", -1e3, 1e3, closed=True),
    "surface.height_moment": Range("a mass moment", "kg m", -1e3, 1e3, closed=True),
    "weight.mass": positive("a mass", "kg", 100.0, 1e-6),
    "weight.arm": positive("an arm ahead of the hinge line", "m", 5.0, 1e-4),
    "weight.above": Range("a height", "m", -5.0, 5.0, closed=True),
    "air.density": Range("a density of the air", "kg/m^3", 1e-3, 10.0, closed=True),
    "air.area": positive("an area", "m^2", 1e3, 1e-6),
    "air.chord": positive("a chord", "m", 50.0, 1e-4),
}
MANOEUVRE = {
    "load_factor": Range("a load factor", "", -20.0, 20.0, closed=True),
    "forward_specific_force": Range("a forward specific force over gravity", "", -20.0, 20.0, closed=True),
    "pitch_acceleration": Range("a pitch acceleration", "rad/s^2", -100.0, 100.0, closed=True),
    "deflection": Range("a deflection", "rad", -math.pi / 2, math.pi / 2, closed=True),
}
SPEED = positive("a true airspeed", "m/s", 400.0, 0.1)
# A coefficient nearer to zero is a slip, and the angle that holds the moment would have no end.
WEAKEST, STRONGEST = 1e-6, 1e3


def at_the_stick(task: StickTask) -> StickResult:
    """Say what an unbalanced surface does at the stick.

    Parameters
    ----------
    task : StickTask

    Returns
    -------
    StickResult
        Hinge moments + trailing edge down, stick forces + pull.

    Raises
    ------
    InputRefused
        With one refusal for every number that cannot be.

    Examples
    --------
    >>> level = StatedManoeuvre("level flight", Manoeuvre())
    >>> found = at_the_stick(StickTask(SurfaceMass(0.324, 0.009, 0.18249), 0.2, 0.38, (level,), 4.1))
    >>> round(found.loads[0].hinge_moment, 4), round(found.loads[0].stick_force, 3)
    (3.1774, 6.037)
    """
    refusals = list(_faults(task)) or list(_of_weight(task))
    if refusals:
        raise InputRefused(refusals)
    gearing = task.surface_travel / task.stick_travel
    lost, trimmed = _lost(task, gearing)
    return StickResult(
        task.name, gearing, tuple(_load(task, one, gearing) for one in task.manoeuvres), lost, trimmed, ASSUMPTIONS,
        _notes(task), (FELT_IS_NOT_FLUTTER, DATA),
    )  # fmt: skip


def _load(task: StickTask, stated: StatedManoeuvre, gearing: float) -> StickLoad:
    now = stated.manoeuvre
    moment = mass_hinge_moment(task.surface, now, task.hinge_aft_of_cg)
    return StickLoad(
        stated.name, now.load_factor, now.pitch_acceleration, now.deflection, moment, stick_force(moment, gearing),
        stick_force_per_g(task.surface, now.deflection, gearing),
    )  # fmt: skip


def without_weight(task: StickTask) -> SurfaceMass:
    """Give the surface without its balance weight: S + m l, V - m z, I - m (l² + z²)."""
    surface, weight = task.surface, task.weight
    assert weight is not None
    return SurfaceMass(
        surface.static_moment + weight.mass * weight.arm,
        surface.height_moment - weight.mass * weight.above,
        surface.inertia - weight.mass * (weight.arm**2 + weight.above**2),
    )


def _lost(task: StickTask, gearing: float) -> tuple[Lost | None, tuple[Trimmed, ...]]:
    """Give what changes in level flight, and how it is trimmed out at each speed."""
    if task.weight is None:
        return None, ()
    level, after = Manoeuvre(), without_weight(task)
    change = mass_hinge_moment(after, level) - mass_hinge_moment(task.surface, level)
    trimmed = () if task.air is None else tuple(_trimmed(task, task.air, speed, gearing) for speed in task.air.speeds)
    return Lost(change, stick_force(change, gearing)), trimmed


def _trimmed(task: StickTask, air: HoldingAir, speed: float, gearing: float) -> Trimmed:
    control = ControlAir(air.density, speed, air.area, air.chord, air.by_tab, air.by_deflection)
    gone = weight_gone(task.surface, without_weight(task), Manoeuvre(), gearing, control)
    return Trimmed(speed, gone.tab_angle, gone.floating_angle)


def _notes(task: StickTask) -> tuple[str, ...]:
    notes = []
    if task.surface.static_moment:
        notes.append(NOT_A_BOB_WEIGHT if task.surface.static_moment > 0 else LIGHTENS)
    if task.weight is not None and task.air is not None:
        notes.append(FELT_WHEN_SLOW)
    return tuple(notes)


def _faults(task: StickTask) -> Iterator[Refusal]:
    for name, allowed in RANGES.items():
        table, _, field = name.rpartition(".")
        record = getattr(task, table) if table else task
        if record is not None:
            yield from one_out_of_range(name, getattr(record, field), allowed)
    if not task.manoeuvres:
        yield fault("manoeuvre", "none", "at least one manoeuvre", "Write [[manoeuvre]]; alone it is level flight.")
    for index, stated in enumerate(task.manoeuvres):
        for name, allowed in MANOEUVRE.items():
            yield from one_out_of_range(f"manoeuvre[{index}].{name}", getattr(stated.manoeuvre, name), allowed)
    if task.air is not None:
        yield from _of_air(task.air)


def _of_weight(task: StickTask) -> Iterator[Refusal]:
    """Refuse a weight that the surface cannot hold, of numbers that can be."""
    if task.weight is not None and not without_weight(task).inertia > 0:
        shown = f"{task.weight.mass:g} kg at {task.weight.arm:g} m"
        yield fault("weight", shown, "a weight within the surface's inertia", "State the surface with it fitted.")


def _of_air(air: HoldingAir) -> Iterator[Refusal]:
    if not air.speeds:
        yield fault("air.speeds", "none", "at least one speed", 'Write speeds = ["30 m/s", "50 m/s"].')
    for index, speed in enumerate(air.speeds):
        yield from one_out_of_range(f"air.speeds[{index}]", speed, SPEED)
    for name in ("by_tab", "by_deflection"):
        value = getattr(air, name)
        if not WEAKEST <= abs(value) <= STRONGEST:
            yield fault(f"air.{name}", value, "a hinge moment coefficient other than zero, in 1/rad",
                        "Without it no angle holds the moment.")  # fmt: skip
