"""A few cycles of a recording, slowed: which pictures, where the marks were in them, what the section did."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray

from hingeline.motion import Recording
from hingeline.motion.marks import PixelTracks

CYCLES, A_CYCLE, SECONDS_A_CYCLE = 3.0, 16, 2.4
FEWEST = 6
UNKNOWN_SECONDS = 2.0
Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Replay:
    """What is shown, step by step.

    Parameters
    ----------
    steps : tuple of int
        Which rows of the recording, and which pictures of the video.
    start, stop : float
        The stretch [s of the recording, true ones where the scale is known].
    slowed : float
        How many times slower it is shown.
    plunge, pitch, surface : tuple of float
        About their middle in the stretch [m], [rad], [rad]; empty where it was not recorded, a lost value held.
    lost : tuple of bool
        Something is missing in that step.
    """

    steps: tuple[int, ...]
    start: float
    stop: float
    slowed: float
    plunge: tuple[float, ...]
    pitch: tuple[float, ...]
    surface: tuple[float, ...]
    lost: tuple[bool, ...]

    @property
    def seconds(self) -> float:
        """Give how long one showing lasts [s]."""
        return (self.stop - self.start) * self.slowed


def replay_of(document: Mapping[str, Any], recording: Recording) -> Replay | None:
    """Choose about three cycles where the motion is largest in the stretch that the numbers come from.

    Parameters
    ----------
    document : mapping
        The motion result.
    recording : Recording

    Returns
    -------
    Replay or None
        None where nothing was recorded that a section can be drawn by.
    """
    channels: dict[str, Sequence[float | None]] = {
        each.quantity: each.values for each in recording.channels if each.quantity in SHOWN
    }
    if not channels:
        return None
    scale = recording.time_scale.true_over_file or 1.0
    times = scale * np.array(recording.times, dtype=float)
    start, length = _window(document)
    inside = np.flatnonzero((times >= start - 1e-9) & (times <= start + length + 1e-9))
    if len(inside) < FEWEST:
        return None
    stride = max(1, -(-len(inside) // round(CYCLES * A_CYCLE)))
    steps = inside[::stride]
    tracks = {name: _held(channels[name], steps) for name in channels}
    lost = np.any([np.isnan(raw) for raw, _ in tracks.values()], axis=0)
    shown = {name: tuple((held - held.mean()).tolist()) for name, (_, held) in tracks.items()}
    return Replay(
        tuple(steps.tolist()), float(times[steps[0]]), float(times[steps[-1]]),
        SECONDS_A_CYCLE * _cycles_a_second(document, length),
        shown.get("plunge", ()), shown.get("pitch", ()), shown.get("surface", ()), tuple(lost.tolist()),
    )  # fmt: skip


SHOWN = ("plunge", "pitch", "surface")


def _window(document: Mapping[str, Any]) -> tuple[float, float]:
    """Give where the showing starts and how long it is: the loud end of the stretch."""
    stretch = document["stretch"]
    first, last = stretch["from"]["value"], stretch["to"]["value"]
    rate = _cycles_a_second(document, 0.0)
    length = min(last - first, CYCLES / rate if rate else UNKNOWN_SECONDS)
    if document["statement"] == "growing":
        return last - length, length
    if document["statement"] == "dying out":
        return first, length
    return (first + last - length) / 2.0, length


def _cycles_a_second(document: Mapping[str, Any], length: float) -> float:
    frequency = document["frequency"]
    found = frequency["value"] if frequency is not None else document["frequency_per_file_second"]
    return float(found) if found else (CYCLES / length if length else 0.0)


def _held(values: Sequence[float | None], steps: NDArray[np.intp]) -> tuple[Array, Array]:
    """Give the values at some steps, and the same with a lost one drawn where its neighbours are."""
    raw = np.array([math.nan if values[step] is None else values[step] for step in steps], dtype=float)
    there = np.flatnonzero(~np.isnan(raw))
    if not len(there):
        return raw, np.zeros_like(raw)
    return raw, np.interp(np.arange(len(raw)), there, raw[there])


def ticks_of(replay: Replay, tracks: PixelTracks) -> tuple[int, ...]:
    """Give the times of the pictures in the video."""
    return tuple(tracks.ticks[step] for step in replay.steps)


def places_of(replay: Replay, tracks: PixelTracks) -> list[list[tuple[float, float] | None]]:
    """Give where each mark is in each picture; none where it was lost [pixel]."""
    found: list[list[tuple[float, float] | None]] = []
    for track in tracks.tracks:
        pairs = ((track.x[step], track.y[step]) for step in replay.steps)
        found.append([None if x is None or y is None else (x, y) for x, y in pairs])
    return found
