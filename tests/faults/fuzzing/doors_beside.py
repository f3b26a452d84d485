"""The doors of the library beside its rooms: the stick, the change over years, the aircraft's line, gaps, series, taps.

What they are asked is put into one record where it is not one already, so that any of it can be spoiled.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np

from hingeline.arm import gap_under_load, swept_by, travel_angle
from hingeline.balance import Weighing, weigh
from hingeline.balance.aircraft_line import MassChange
from hingeline.balance.drift import Drift, MomentOnDay, look_for_drift
from hingeline.due import falls_together, judge_entry, sign_off, what_is_due
from hingeline.errors import InputRefused
from hingeline.fields import Shown
from hingeline.flutter.stick import at_the_stick
from hingeline.flutter.stick_model import StickTask
from hingeline.motion import OnsetTask, Recording, RecordingAt, fit_tones, recording_of
from hingeline.units import read


@dataclass(frozen=True)
class Line:
    """What the aircraft's line is made of."""

    changes: tuple[MassChange, ...] = (MassChange(0.145, -0.18), MassChange(-0.1, 0.3))
    hinge_from_datum: float = 4.5


@dataclass(frozen=True)
class Series:
    """Weighings of one surface, year after year."""

    weighings: tuple[MomentOnDay, ...] = tuple(
        MomentOnDay(float(year), 1.0 + 0.01 * year, 0.02, year == 3) for year in range(8)
    )


@dataclass(frozen=True)
class Gap:
    """An arm that sweeps, and what it bends."""

    arm: float = 0.26
    angle: float = 0.44
    gap: float = 0.012
    mass: float = 1.4
    acceleration: float = 235.0
    stiffness: float = 71557.0
    distance: float = 0.074
    edge: float = 0.212


@dataclass(frozen=True, eq=False)
class Samples:
    """Two tones at times that are not even."""

    times: Any
    values: Any
    frequencies: Any
    held: int = 0


# ------------------------------------------------------------------ good inputs


@cache
def samples() -> tuple[Samples, ...]:
    times = np.cumsum(1.0 + 0.3 * np.sin(np.arange(90.0) ** 2)) / 40.0
    values = 2.0 + np.sin(2 * np.pi * 3.1 * times) + 0.2 * np.cos(2 * np.pi * 7.7 * times)
    return (Samples(times, values, np.array([3.0, 7.8])),)


@cache
def taps() -> tuple[Recording, ...]:
    """A knock of a second and a half with two modes."""
    times = np.arange(240) / 160.0
    ring = np.exp(-1.2 * times) * np.sin(2 * np.pi * 6.0 * times)
    ring += 0.5 * np.exp(-2.0 * times) * np.sin(2 * np.pi * 17.0 * times + 0.4)
    noise = 1e-3 * np.sin(37.0 * np.arange(240.0) ** 2)
    return (recording_of(times, {"plunge": 0.01 * ring + 1e-2 * noise, "pitch": 0.02 * ring + noise}),)


@cache
def knocks() -> tuple[OnsetTask, ...]:
    """Three knocks at each of five speeds, the slower dying out sooner."""
    times, noise = np.arange(160) / 100.0, 1e-3 * np.sin(29.0 * np.arange(160.0) ** 2)
    recordings = [
        RecordingAt(speed, recording_of(times, {"plunge": 0.01 * (_dying(times, speed) + (knock + 1) * noise)}))
        for speed in (20.0, 25.0, 30.0, 35.0, 40.0)
        for knock in range(3)
    ]
    return (OnsetTask(tuple(recordings)),)


def _dying(times: Any, speed: float) -> Any:
    first = np.exp(-0.06 * (50.0 - speed) * times) * np.sin(2 * np.pi * (3.0 + 0.02 * speed) * times)
    return first + 0.6 * np.exp(-0.04 * (60.0 - speed) * times) * np.sin(2 * np.pi * (6.0 - 0.02 * speed) * times)


# ------------------------------------------------------------------ what is asked


def of_gap(asked: Gap) -> tuple[float, float, float]:
    return (
        swept_by(asked.arm, asked.angle),
        gap_under_load(asked.gap, asked.mass, asked.acceleration, asked.stiffness),
        travel_angle(asked.distance, asked.edge),
    )


def of_tasks(asked: Any) -> Any:
    """Ask what falls together; what the last entry of hours means; and sign each task off as it was the last time."""
    together = falls_together(what_is_due(asked.aircraft, asked.parts, asked.tasks, asked.on))
    entries = [judge_entry(each, each.readings[-1]) for each in asked.aircraft if each.readings]
    signed = [sign_off(replace(each, done=each.done[:-1]), each.done[-1]) for each in asked.tasks if each.done]
    return together, entries, signed


# ------------------------------------------------------------------ second ways


def pulled_by_work(asked: StickTask, found: Any) -> None:
    """The stick's work is the surface's: force by travel is moment by angle; and twice the mass pulls twice."""
    for load in found.loads:
        assert math.isclose(
            load.stick_force * asked.stick_travel,
            load.hinge_moment * asked.surface_travel,
            rel_tol=1e-9,
            abs_tol=1e-300,
        )
    surface = asked.surface
    doubled = replace(surface, static_moment=2 * surface.static_moment, height_moment=2 * surface.height_moment)
    twice = at_the_stick(replace(asked, surface=replace(doubled, inertia=2 * surface.inertia), weight=None, air=None))
    for one, two in zip(found.loads, twice.loads, strict=True):
        assert math.isclose(2 * one.hinge_moment, two.hinge_moment, rel_tol=1e-9, abs_tol=1e-9)


def turned_over(asked: Series, found: Drift) -> None:
    """Nose-heavy for tail-heavy: the same changes and the same slope with the other sign, called out alike."""
    other = look_for_drift([replace(each, moment=-each.moment) for each in asked.weighings])
    assert [each.difference for each in other.changes] == [-each.difference for each in found.changes]
    assert other.is_called_out == found.is_called_out
    if found.slope and other.slope:
        assert math.isclose(other.slope.per_year, -found.slope.per_year, rel_tol=1e-9, abs_tol=1e-12)


def added_up(asked: Line, found: Any) -> None:
    moment = sum(each.mass * (asked.hinge_from_datum + each.arm_from_hinge) for each in asked.changes)
    size = sum(abs(each.mass) * (abs(asked.hinge_from_datum) + abs(each.arm_from_hinge)) for each in asked.changes)
    assert math.isclose(found.moment, moment, rel_tol=1e-9, abs_tol=1e-9 * size)


def shown_by_the_scale(asked: Weighing, found: Any) -> None:
    """What the scale may show at the limits stands in their order, the guarded window within the simple one.

    And a surface that shows just that is weighed to just that limit: the way back, from reading to moment.
    """
    window, limits = found.reading_window, found.limits
    ends = (window.at_lower, window.at_guarded_lower, window.at_guarded_upper, window.at_upper)
    shown = [each.value for each in ends if each is not None]
    if None not in ends and limits.guarded_lower <= limits.guarded_upper:
        ordered = shown if window.rises_with_moment else shown[::-1]
        size = 1e-9 * max(map(abs, shown))
        assert all(one <= other + size for one, other in pairwise(ordered)), ends
    for limit, reading in ((limits.lower, window.at_lower), (limits.upper, window.at_upper)):
        if limit is not None and reading is not None:
            weighed_at(asked, reading, limit)


def weighed_at(asked: Weighing, shown: Shown, limit: float) -> None:
    """Weigh the surface at a reading, where a scale can show it: the moment is the limit."""
    (support,) = asked.supports
    reading = read(
        f"{shown.value!r} {shown.unit}", "mass" if support.reading_unit == "kg" else "force", field="reading"
    )
    try:
        at = weigh(replace(asked, supports=(replace(support, readings=(reading,), rising=(), falling=()),)))
    except InputRefused:
        return
    # What the scale shows and its tare may cancel: their rounding is as large as they are, not as their difference.
    size = abs(limit) + sum(abs(each.moment) for each in at.terms)
    size += 10.0 * (abs(reading) + abs(support.tare)) * support.arm
    assert math.isclose(at.static_moment.value, limit, rel_tol=1e-9, abs_tol=1e-9 * size), (at.static_moment, limit)


def twice_as_large(asked: Samples, found: Any) -> None:
    """Samples twice as large have tones twice as large at the same frequencies."""
    size = float(np.abs(np.asarray(asked.values)).max(initial=1e-290))
    again = fit_tones(asked.times, 2.0 * np.asarray(asked.values), asked.frequencies, asked.held)
    assert np.allclose(again.frequencies, found.frequencies, rtol=1e-6, atol=1e-9)
    assert np.allclose(again.cosines, 2.0 * found.cosines, rtol=1e-6, atol=1e-6 * size)
