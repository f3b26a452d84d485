"""How the onset moves when one input, or two, are varied over a range."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.flutter.build import build_system
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.model import FlutterTask, SweepPoint
from hingeline.flutter.onsets import Onsets, onsets_of
from hingeline.flutter.solve import search
from hingeline.flutter.stacks import changed, stackable
from hingeline.flutter.which_way import loops_for

AT_ONCE, SLOW_AT_ONCE = 500, 10
"""Variants of one part: of models that the fast scan takes, and of those found one by one."""
SAME = 1e-8
Progress = Callable[[int, int], bool | None]


@dataclass(frozen=True, slots=True)
class Part:
    """Some of the variants, to be worked together.

    Parameters
    ----------
    task : FlutterTask
    names : tuple of str
    rows : tuple of tuple of float
    compiled : bool
        By compiled loops, where there is a compiler.
    """

    task: FlutterTask
    names: tuple[str, ...]
    rows: tuple[tuple[float, ...], ...]
    compiled: bool


Runner = Callable[[Callable[[Part], tuple[SweepPoint, ...]], list[Part]], Iterable[tuple[SweepPoint, ...]]]


def sweep(
    task: FlutterTask, field: str, values: Sequence[float], progress: Progress | None = None, *, run: Runner = map
) -> tuple[SweepPoint, ...]:
    """Find the onset for several values of one field.

    Parameters
    ----------
    task : FlutterTask
    field : str
        Dotted name.
    values : sequence of float
        [SI]
    progress : callable, optional
        Called with variants done and variants in all; answers False to stop.
    run : callable
        As ``map``: takes a function and a list of arguments, and gives the results in order. A pool of processes or a
        cluster has one; the answer is the same.

    Returns
    -------
    tuple of SweepPoint
        As many as were done.

    Raises
    ------
    InputRefused
        A variant cannot be computed.
    RoutesDisagree
        The first variant of a part, found again three ways, has another onset.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, Section, sweep
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> given = FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip)
    >>> [point.speed is not None for point in sweep(given, "section.pitch_static_moment", [0.5, -0.5])]
    [True, False]
    """
    return _swept(task, (field,), [(value,) for value in values], progress, run)


def two_way_map(
    task: FlutterTask, fields: tuple[str, str], first: Sequence[float], second: Sequence[float],
    progress: Progress | None = None, *, run: Runner = map,
) -> tuple[SweepPoint, ...]:  # fmt: skip
    """Find the onset for every pair of values of two fields.

    Parameters
    ----------
    task : FlutterTask
    fields : (str, str)
        Dotted names.
    first, second : sequence of float
        Values of each [SI].
    progress : callable, optional
    run : callable
        As of :func:`sweep`.

    Returns
    -------
    tuple of SweepPoint
        The second field varies fastest.

    Raises
    ------
    InputRefused
        A variant cannot be computed.
    RoutesDisagree
        The first variant of a part, found again three ways, has another onset.

    Examples
    --------
    >>> from hingeline.flutter import Air, FlutterTask, Section, two_way_map
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> given = FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip)
    >>> fields = ("section.pitch_static_moment", "section.pitch_stiffness")
    >>> points = two_way_map(given, fields, [0.5, -0.5], [1300.0, 1500.0])
    >>> [(point.values, point.speed is not None) for point in points]
    [((0.5, 1300.0), True), ((0.5, 1500.0), True), ((-0.5, 1300.0), False), ((-0.5, 1500.0), False)]
    """
    return _swept(task, fields, [(one, other) for one in first for other in second], progress, run)


def _swept(
    task: FlutterTask, names: tuple[str, ...], rows: Sequence[tuple[float, ...]], progress: Progress | None, run: Runner
) -> tuple[SweepPoint, ...]:
    if len(set(names)) < len(names):
        raise InputRefused.of("fields", ", ".join(names), "two different fields", "Vary one field with a sweep.")
    for row in rows:
        refuse_unusable(changed(task, names, np.array(row)))
    points: list[SweepPoint] = []
    for some in run(work_part, _parts(task, names, rows)):
        points += some
        if progress is not None and progress(len(points), len(rows)) is False:
            break
    return tuple(points)


def _parts(task: FlutterTask, names: tuple[str, ...], rows: Sequence[tuple[float, ...]]) -> list[Part]:
    size = AT_ONCE if stackable(build_system(task)) else SLOW_AT_ONCE
    compiled = loops_for(len(rows)) is not None
    return [Part(task, names, tuple(rows[begin : begin + size]), compiled) for begin in range(0, len(rows), size)]


def work_part(part: Part) -> tuple[SweepPoint, ...]:
    """Find the onsets of one part; its first variant is found again by all ways that the whole answer goes.

    Parameters
    ----------
    part : Part

    Returns
    -------
    tuple of SweepPoint

    Raises
    ------
    RoutesDisagree
        That one has another onset.
    """
    found = onsets_of(part.task, part.names, np.array(part.rows), loops=loops_for(len(part.rows), part.compiled))
    points = _points(part.rows, found)
    _confirm(points[0], changed(part.task, part.names, np.array(part.rows[0])))
    return points


def _confirm(point: SweepPoint, task: FlutterTask) -> None:
    again = search(task)
    speed = None if again.onset is None else again.onset.speed
    first, second = (math.inf if one is None else one for one in (point.speed, speed))
    same = first == second or abs(first - second) <= SAME * second
    if not same or point.growing_at_lowest_speed != bool(again.growth.at_lowest):
        raise RoutesDisagree("onset speed of a variant", repr(point.speed), repr(speed), f"{SAME} of it")


def _points(rows: Sequence[tuple[float, ...]], found: Onsets) -> tuple[SweepPoint, ...]:
    return tuple(
        SweepPoint(tuple(row), float(speed) if np.isfinite(speed) else None, bool(growing))
        for row, speed, growing in zip(rows, found.speeds, found.growing, strict=True)
    )
