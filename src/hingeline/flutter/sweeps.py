"""How the onset moves when one input, or two, are varied over a range."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from hingeline.errors import InputRefused
from hingeline.flutter.checks import refuse_unusable
from hingeline.flutter.model import FlutterTask, Speed
from hingeline.flutter.onsets import Onsets, onsets_of
from hingeline.flutter.stacks import changed
from hingeline.flutter.which_way import loops_for

AT_ONCE = 500
Progress = Callable[[int, int], bool | None]


@dataclass(frozen=True, slots=True)
class SweepPoint:
    """What one variant does.

    Parameters
    ----------
    values : tuple of float
        Of the fields that vary [SI].
    speed : float, optional
        Lowest crossing into growth [m/s]; none in the range where it is left out.
    growing_at_lowest_speed : bool
        Something grows at the lowest speed already; there is then no crossing to give.
    """

    values: tuple[float, ...]
    speed: Speed | None
    growing_at_lowest_speed: bool


def sweep(
    task: FlutterTask, field: str, values: Sequence[float], progress: Progress | None = None
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

    Returns
    -------
    tuple of SweepPoint
        As many as were done.

    Raises
    ------
    InputRefused
        A variant cannot be computed.

    Examples
    --------
    >>> from hingeline.flutter.model import Air, Section
    >>> strip = Section(("plunge", "pitch"), 0.3, -0.4, 12.0, pitch_static_moment=0.55, pitch_inertia=0.33,
    ...                 plunge_stiffness=12800.0, pitch_stiffness=1300.0)
    >>> given = FlutterTask(Air(density=1.225), (2.0, 100.0), section=strip)
    >>> [point.speed is not None for point in sweep(given, "section.pitch_static_moment", [0.5, -0.5])]
    [True, False]
    """
    return _swept(task, (field,), [(value,) for value in values], progress)


def two_way_map(
    task: FlutterTask, fields: tuple[str, str], first: Sequence[float], second: Sequence[float],
    progress: Progress | None = None,
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

    Returns
    -------
    tuple of SweepPoint
        The second field varies fastest.

    Raises
    ------
    InputRefused
        A variant cannot be computed.
    """
    return _swept(task, fields, [(one, other) for one in first for other in second], progress)


def _swept(
    task: FlutterTask, names: tuple[str, ...], rows: Sequence[tuple[float, ...]], progress: Progress | None
) -> tuple[SweepPoint, ...]:
    if len(set(names)) < len(names):
        raise InputRefused.of("fields", ", ".join(names), "two different fields", "Vary one field with a sweep.")
    for row in rows:
        refuse_unusable(changed(task, names, np.array(row)))
    points: list[SweepPoint] = []
    loops = loops_for(len(rows))
    for begin in range(0, len(rows), AT_ONCE):
        some = rows[begin : begin + AT_ONCE]
        points += _points(some, onsets_of(task, names, np.array(some), loops=loops))
        if progress is not None and progress(len(points), len(rows)) is False:
            break
    return tuple(points)


def _points(rows: Sequence[tuple[float, ...]], found: Onsets) -> list[SweepPoint]:
    return [
        SweepPoint(tuple(row), float(speed) if np.isfinite(speed) else None, bool(growing))
        for row, speed, growing in zip(rows, found.speeds, found.growing, strict=True)
    ]
