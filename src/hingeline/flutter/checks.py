"""What a flutter task must fulfil before anything is computed from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import get_args

from hingeline.errors import InputRefused, Refusal
from hingeline.flutter.build import frame_of
from hingeline.flutter.dotted import fields_of
from hingeline.flutter.model import FlutterTask, Structure, WakeName
from hingeline.flutter.modelled_air import LARGEST_LIFT_SLOPE
from hingeline.flutter.natural import cholesky
from hingeline.flutter.ranges import RATIO, Range, counted, fault, one_out_of_range
from hingeline.flutter.structure_checks import faults_of
from hingeline.flutter.structures import LiftSlopeSource
from hingeline.flutter.wing import moves

DENSITY = Range("a density of the air", "kg/m^3", 1e-6, 2000.0, closed=True)
ALTITUDE = Range("an altitude", "m", -2000.0, 11000.0, closed=True)
SPEED = Range("a true airspeed", "m/s", 1e-3, 1000.0, closed=True)
STRUCTURAL_DAMPING = Range("a structural damping g", "", 0.0, 1.0, closed=True)
RELATIVE = Range("a relative standard deviation", "", 0.0, 1.0, closed=True)
HALF_GAP = Range("half a gap", "rad", 0.0, 0.5)
START = Range("an amplitude in half-gaps", "", 0.0, 1000.0)
TABLES = ("section", "tailplane", "wing", "modes")
CONTROL = ("circuit", "surface")
FREE_PLAY_IN = {"section": (*CONTROL, "tab"), "tailplane": ("circuit",), "wing": CONTROL, "modes": CONTROL}


def refuse_unusable(task: FlutterTask) -> None:
    """Refuse a task that cannot be computed.

    Parameters
    ----------
    task : FlutterTask

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    refusals = list(_faults(task))
    if refusals:
        raise InputRefused(refusals)


def _faults(task: FlutterTask) -> Iterator[Refusal]:
    yield from _of_air(task)
    yield from _of_speeds(task)
    if task.wake not in get_args(WakeName):
        yield fault("wake", task.wake, f"one of {', '.join(get_args(WakeName))}", "Leave it out for the exact one.")
    if task.lift_slope_source not in get_args(LiftSlopeSource):
        expected = f"one of {', '.join(get_args(LiftSlopeSource))}"
        yield fault("lift_slope_source", task.lift_slope_source, expected, "Write one of these words.")
    if not 0.01 <= task.lift_slope_factor <= LARGEST_LIFT_SLOPE:
        expected = f"a factor from 0.01, and at most {LARGEST_LIFT_SLOPE}"
        yield fault("lift_slope_factor", task.lift_slope_factor, expected, "1 is two-dimensional flow.")
    given = [name for name in TABLES if getattr(task, name) is not None]
    if len(given) != 1:
        shown = " and ".join(given) or "none"
        yield fault("", shown, f"exactly one of {', '.join(TABLES)}", "One model in a file.")
        return
    found = list(faults_of(given[0], task.structure))
    yield from found
    yield from _of_scatter(task)
    yield from _of_free_play(task, given[0])
    if not found:
        yield from _of_masses(given[0], task.structure)
        yield from _of_damping(task)


def _of_air(task: FlutterTask) -> Iterator[Refusal]:
    density, altitude = task.air.density, task.air.altitude
    if (density is None) == (altitude is None):
        shown = "neither" if density is None else "both"
        yield fault("air", shown, "either a density or an altitude", 'Write air = {density = "1.225 kg/m^3"}.')
        return
    if density is not None:
        yield from one_out_of_range("air.density", density, DENSITY)
    if altitude is not None:
        yield from one_out_of_range("air.altitude", altitude, ALTITUDE)


def _of_speeds(task: FlutterTask) -> Iterator[Refusal]:
    if len(task.speeds) != 2:
        expected = "the lowest and the highest speed to search"
        yield fault("speeds", counted(len(task.speeds), "speed"), expected, 'Write speeds = ["0.5 m/s", "40 m/s"].')
        return
    refusals = [one for i in (0, 1) for one in one_out_of_range(f"speeds[{i}]", task.speeds[i], SPEED)]
    yield from refusals
    if not refusals and not task.speeds[0] < task.speeds[1]:
        yield fault("speeds", f"{task.speeds[0]:g} to {task.speeds[1]:g} m/s", "the lower speed first", "Swap them.")


def _of_damping(task: FlutterTask) -> Iterator[Refusal]:
    """Refuse damping that does not go with the freedoms, which only the finished structure counts."""
    freedoms = frame_of(task.structure).freedoms
    count = len(freedoms)
    for index, ratio in enumerate(task.structural_damping):
        yield from one_out_of_range(f"structural_damping[{index}]", ratio, STRUCTURAL_DAMPING)
    if len(task.structural_damping) not in (1, count):
        shown = counted(len(task.structural_damping), "number")
        expected = f"one number, or {count}: {', '.join(freedoms)}"
        yield fault("structural_damping", shown, expected, "Give g for each freedom, in this order.")
    for index, ratio in enumerate(task.damping_ratios):
        yield from one_out_of_range(f"damping_ratios[{index}]", ratio, RATIO)
    if task.damping_ratios and len(task.damping_ratios) != count:
        shown = counted(len(task.damping_ratios), "number")
        remedy = "In order of frequency, lowest first; a mode without stiffness counts too."
        yield fault("damping_ratios", shown, f"one for each of the {count} modes", remedy)


def _of_masses(place: str, structure: Structure) -> Iterator[Refusal]:
    """Refuse masses, static moments and inertias that no body has together."""
    try:
        mass = frame_of(structure).mass
        diagonal = [float(entry) ** -0.5 if entry > 0.0 else math.nan for entry in mass.diagonal()]
        cholesky(mass * [[row * column for column in diagonal] for row in diagonal])
    except InputRefused as refused:
        yield from refused.at(f"{place}.").refusals


def _of_scatter(task: FlutterTask) -> Iterator[Refusal]:
    known, had = fields_of(task), set[str]()
    for one in task.scatter:
        if one.field not in known:
            expected = "a number of this file, by its dotted name"
            yield fault(f"scatter.{one.field}", one.field, expected, f"Here there are {_some(known)}.")
        elif one.relative is not None:
            yield from one_out_of_range(f"scatter.{one.field}", one.relative, RELATIVE)
        stated = (one.relative is not None) + (one.standard_uncertainty is not None)
        if stated != 1 or one.field in had:
            remedy = "State its relative deviation or its standard uncertainty, and that once."
            shown = "twice" if one.field in had else "both" if stated else "neither"
            yield fault(f"scatter.{one.field}", shown, "one deviation of a field", remedy)
        had.add(one.field)
        if one.standard_uncertainty is not None and not 0.0 <= one.standard_uncertainty < math.inf:
            yield fault(one.field, one.standard_uncertainty, "a standard uncertainty, 0 or more", "Give the size.")
    for source in task.sources:
        if source.field not in known:
            expected = "a number of this file, by its dotted name"
            yield fault(f"sources.{source.field}", source.field, expected, f"Here there are {_some(known)}.")


def _some(known: dict[str, float]) -> str:
    names = list(known)
    return ", ".join(names[:12]) + (" and more" if len(names) > 12 else "")


def _of_free_play(task: FlutterTask, table: str) -> Iterator[Refusal]:
    play = task.free_play
    if play is None:
        return
    yield from one_out_of_range("free_play.half_gap", play.half_gap, HALF_GAP)
    for index, start in enumerate(play.starts):
        yield from one_out_of_range(f"free_play.starts[{index}]", start, START)
    if not play.starts:
        yield fault("free_play.starts", "none", "at least one start", "Several: a bigger knock may miss the cycle.")
    if play.place not in FREE_PLAY_IN[table]:
        yield fault("free_play.in", play.place, f"one of {', '.join(FREE_PLAY_IN[table])} for [{table}]",
                    "Name the spring that has the gap.")  # fmt: skip
    elif not _has_spring(task, play.place):
        yield fault("free_play.in", play.place, "a spring of one of the freedoms", "Add the freedom, or mend the word.")


def _has_spring(task: FlutterTask, place: str) -> bool:
    """Whether what the gap lets rattle moves at all."""
    if task.section is not None:
        return ("tab" if place == "tab" else "surface") in task.section.freedoms
    return task.wing is None or moves(task.wing.aileron)
