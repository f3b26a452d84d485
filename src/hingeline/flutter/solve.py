"""The whole answer of a flutter task: only what two ways agree on."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.flutter.build import build_system, density_of, modes_in_vacuo
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.coalescence import find_coalescences, is_undamped
from hingeline.flutter.confirming import confirm, confirm_coalescence
from hingeline.flutter.control_load import reversals_of
from hingeline.flutter.divergence import divergence_speeds, statically_unstable_when_free
from hingeline.flutter.growing import Growth, prove
from hingeline.flutter.mode_words import mode_words, shape_parts
from hingeline.flutter.model import (
    Crossing,
    Divergence,
    FlutterResult,
    FlutterTask,
    ModeAtOnset,
    Onset,
    Reversal,
    Root,
    RootsAtSpeed,
    Sensitivity,
)
from hingeline.flutter.neutral_points import NeutralPoint, find_neutral_points
from hingeline.flutter.result_words import (
    assumptions_of,
    cautions_of,
    note_on_turned,
    notes_on_divergence,
    notes_on_onset,
)
from hingeline.flutter.roots import find_roots, follow_root, roots_by_speed
from hingeline.flutter.sensitivity import sensitivities
from hingeline.flutter.singular import settle
from hingeline.flutter.slack_answer import with_cycles
from hingeline.flutter.system import AeroelasticSystem, Wake, largest_semichord
from hingeline.flutter.wake import wake_named
from hingeline.flutter.where_from import stated_sources

FREE_AND_UNSTABLE = (
    "A control that nothing holds is turned away by the air itself at every speed: it does not trail in the stream."
)


@dataclass(frozen=True, slots=True)
class Search:
    """What the search for growth found, before it is put in words.

    Parameters
    ----------
    system : AeroelasticSystem
    wake : callable
    points : tuple of NeutralPoint
    growth : Growth
    undamped : bool
        Nothing damps: the points are coalescences.
    """

    system: AeroelasticSystem
    wake: Wake
    points: tuple[NeutralPoint, ...]
    growth: Growth
    undamped: bool

    @property
    def onset(self) -> NeutralPoint | None:
        """The lowest point into growth; none where something grows from the start."""
        if self.growth.at_lowest:
            return None
        return next((point for point in self.points if point.direction == "into"), None)


def search(task: FlutterTask) -> Search:
    """Find all neutral points of a task, and have each of them confirmed.

    Parameters
    ----------
    task : FlutterTask

    Returns
    -------
    Search

    Raises
    ------
    RoutesDisagree
        Two ways to a point differ, or the count of growing roots does not add up.
    """
    system, wake = build_system(task), wake_named(task.wake)
    speeds = (task.speeds[0], task.speeds[1])
    undamped = is_undamped(system, wake)
    points = find_coalescences(system, speeds) if undamped else find_neutral_points(system, speeds, wake)
    for point in points:
        (confirm_coalescence if undamped else confirm)(system, point, wake)
    return Search(system, wake, points, prove(system, speeds, wake, points), undamped)


def analyse(task: FlutterTask, *, roots_at: Sequence[float] = (), with_sensitivities: bool = False) -> FlutterResult:
    """Find where a model starts to flutter, where it diverges, where its control reverses.

    Parameters
    ----------
    task : FlutterTask
        Model, air and range of true airspeeds, in SI; down, nose up, trailing edge down and mass aft are positive.
    roots_at : sequence of float
        True airspeeds at which all roots are given too, rising [m/s].
    with_sensitivities : bool
        Say how the onset moves with each input.

    Returns
    -------
    FlutterResult
        True airspeeds [m/s], frequencies [Hz], damping as a part of critical, below 0 where it grows: an
        estimate. Where the task states free play, with what that keeps going below the onset.

    Raises
    ------
    InputRefused
        The task cannot be computed.
    RoutesDisagree
        Two ways to one number differ: nothing is given out.

    Notes
    -----
    Neutral points by the k-method, confirmed by complex roots (p) and by the p-k method to 1e-8; "lowest" and
    "none" by counting the growing roots. A mode grows when Re p > 1e-9 |p|.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, Section, analyse
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> result = analyse(FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip))
    >>> result.flutter.mode.words.split()[0], result.crossings[0].direction
    ('plunge', 'into')
    """
    refuse_unusable(task)
    found = search(task)
    flutter = None if found.onset is None else _onset(task, found, found.onset)
    diverging = divergence_speeds(found.system)
    divergence = Divergence(diverging[0]) if diverging and _in_range(task, diverging[0]) else None
    reversed_at = next((speed for speed in reversals_of(task) if _in_range(task, speed)), None)
    growing = bool(found.growth.at_lowest)
    result = FlutterResult(
        name=task.name,
        speeds=task.speeds,
        flutter=flutter,
        growing_at_lowest_speed=growing,
        crossings=tuple(_crossing(point) for point in found.points),
        divergence=divergence,
        reversal=None if reversed_at is None else Reversal(reversed_at),
        natural_frequencies=tuple(modes_in_vacuo(task).frequencies.tolist()),
        density=density_of(task.air),
        wake=task.wake,
        assumptions=assumptions_of(task),
        notes=_notes(task, found, flutter, diverging),
        cautions=cautions_of(task, flutter, growing=growing),
        roots=_roots(found, roots_at) if roots_at else None,
        sensitivities=_sensitivities(task, found) if with_sensitivities else None,
        sources=stated_sources(task),
        divergences=tuple(Divergence(speed) for speed in diverging),
    )
    return result if task.free_play is None else with_cycles(task, result)


def _in_range(task: FlutterTask, speed: float) -> bool:
    return task.speeds[0] <= speed <= task.speeds[1]


def _notes(task: FlutterTask, found: Search, flutter: Onset | None, diverging: tuple[float, ...]) -> tuple[str, ...]:
    unstable = (FREE_AND_UNSTABLE,) if statically_unstable_when_free(found.system) else ()
    return (
        *notes_on_onset(task, flutter, found.growth.counts),
        *_growing_now(task, found),
        *note_on_turned(found.growth.turned_static),
        *notes_on_divergence(task, diverging),
        *unstable,
    )


def _growing_now(task: FlutterTask, found: Search) -> tuple[str, ...]:
    """Say what grows at the lowest speed."""
    if not found.growth.at_lowest:
        return ()
    roots = [root for root in find_roots(found.system, task.speeds[0], found.wake) if root.p.real > 1e-9 * abs(root.p)]
    return tuple(
        f"At {root.speed:.4g} m/s: {mode_words(found.system, root.right)}, {root.p.imag / (2 * np.pi):.4g} Hz, "
        f"growing by {root.p.real:.4g} per second."
        for root in roots
    )


def _crossing(point: NeutralPoint) -> Crossing:
    return Crossing(point.speed, point.angular_frequency / (2 * np.pi), point.direction)


def _onset(task: FlutterTask, found: Search, point: NeutralPoint) -> Onset:
    system = found.system
    mode = ModeAtOnset(_number(task, found, point), mode_words(system, point.shape), shape_parts(system, point.shape))
    reduced = point.angular_frequency * largest_semichord(system) / point.speed
    return Onset(point.speed, point.angular_frequency / (2 * np.pi), reduced, mode)


def _number(task: FlutterTask, found: Search, point: NeutralPoint) -> int:
    """Give the mode its number: followed to the lowest speed, and by frequency there; else the nearest in vacuo."""
    lowest = task.speeds[0]
    if not found.undamped:
        start = settle(found.system, 1j * point.angular_frequency, point.speed, found.wake)
        root = follow_root(found.system, start, lowest, found.wake)
        for number, other in roots_by_speed(found.system, [lowest], found.wake)[0].items():
            if root is not None and abs(root.p - other) < 1e-6 * abs(other):
                return number
    natural = modes_in_vacuo(task).frequencies
    return 1 + int(np.abs(natural - point.angular_frequency / (2 * np.pi)).argmin())


def _roots(found: Search, speeds: Sequence[float]) -> tuple[RootsAtSpeed, ...]:
    rows = roots_by_speed(found.system, speeds, found.wake)
    return tuple(
        RootsAtSpeed(
            speed,
            tuple(Root(mode, root.imag / (2 * np.pi), -root.real / abs(root)) for mode, root in row.items()),
        )
        for speed, row in zip(speeds, rows, strict=True)
    )


def _sensitivities(task: FlutterTask, found: Search) -> tuple[Sensitivity, ...]:
    if found.onset is None or found.undamped:
        return ()
    return sensitivities(task, found.onset)
