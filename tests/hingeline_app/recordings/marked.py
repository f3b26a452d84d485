"""The marks of a rendered scene, and how its truth is compared with what was followed."""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from pathlib import Path
from typing import Any

import numpy as np
from scipy.optimize import least_squares

from hingeline.motion.marks import KnownLength, Mark, Marks, SectionTracks, section_tracks
from hingeline_app.recordings.follow import follow
from tests.hingeline_app.recordings.rendered import Array, Scene, rendered, still

BODIES = ("section", "section", "background", "background", "surface", "surface")
NAMES = ("forward", "aft", "wall high", "wall low", "at the hinge", "at the trailing edge")


def marks_of(scene: Scene, off: float = 1.5, bodies: tuple[str, ...] = BODIES, **changes: Any) -> Marks:
    """Say which marks a scene has, pointing ``off`` pixels beside each."""
    places = scene.seen(scene.true_times[:1])[0][0]
    number = 4 if scene.surface is still else 6
    marks = tuple(
        Mark(
            NAMES[index],
            scene.kind,
            bodies[index],
            None if scene.kind == "marker" else (float(places[index, 0] + off), float(places[index, 1] - off)),
            index if scene.kind == "marker" else None,
            31.0 if scene.kind == "patch" else None,
        )
        for index in range(number)
        if bodies[index]
    )
    # The reference point as it stands in the first picture: carried there by the section's marks.
    turn = scene.pitch(scene.true_times[:1])[0]
    across = places[1] - places[0]
    away = scene.hinge - scene.section_marks[0]
    along = (away @ (scene.section_marks[1] - scene.section_marks[0])) / np.sum(
        (scene.section_marks[1] - scene.section_marks[0]) ** 2
    )
    reference = places[0] + along * across
    assert abs(turn) < 0.2
    given = {"scale": KnownLength(0.16, (NAMES[0], NAMES[1])), "reference": (float(reference[0]), float(reference[1]))}
    return Marks(marks, **(given | changes))


@dataclass(frozen=True)
class Compared:
    """What was followed beside the truth."""

    section: SectionTracks
    angle: float  # rms [deg]
    plunge: float  # rms [mm]
    frequencies: tuple[float, float]  # relative errors
    dampings: tuple[float, float]  # errors

    @property
    def about(self) -> set[str]:
        """What is doubted."""
        return {doubt.about for doubt in self.section.doubts}


def channel(section: SectionTracks, name: str) -> Array:
    """Give one channel with NaN where it was lost."""
    (found,) = (each for each in section.recording.channels if each.label == name)
    return np.array([np.nan if value is None else value for value in found.values])


def fitted(times: Array, values: Array, frequency: float, damping: float) -> Array:
    """Fit a free decay: frequency, damping ratio, two amplitudes, rest."""
    there = ~np.isnan(values)
    times, values = times[there], values[there]

    def away(p: Array) -> Array:
        omega = 2.0 * np.pi * p[0]
        envelope, damped = np.exp(-p[1] * omega * times), omega * np.sqrt(1.0 - p[1] ** 2)
        return np.asarray(envelope * (p[2] * np.cos(damped * times) + p[3] * np.sin(damped * times)) + p[4] - values)

    large = float(np.abs(values).max())
    start = [frequency, damping, values[0], 0.0, 0.0]
    return np.asarray(least_squares(away, start, x_scale=[0.01, 0.001, large, large, large]).x)


def rms(found: Array, truth: Array) -> float:
    """Give the root mean square of the difference, a constant apart: only motion is told."""
    return float(np.nanstd(found - truth))


def compared(path: Path, scene: Scene, captured_at: float | None, **changes: Any) -> Compared:
    """Render a scene, follow it, and compare."""
    rendered(path, scene)
    section = section_tracks(follow(path, marks_of(scene, **changes)), captured_at)
    scale = section.recording.time_scale.true_over_file or 1.0
    times, truth = np.array(section.recording.times) * scale, scene.true_times
    pitch, plunge = channel(section, "pitch"), channel(section, "plunge")
    of_pitch, of_plunge = fitted(times, pitch, 6.4, 0.035), fitted(times, plunge, 3.2, 0.041)
    return Compared(
        section,
        float(np.degrees(rms(pitch, scene.pitch(truth)))),
        1000.0 * rms(plunge, scene.plunge(truth)),
        (of_pitch[0] / 6.4 - 1.0, of_plunge[0] / 3.2 - 1.0),
        (of_pitch[1] - 0.035, of_plunge[1] - 0.041),
    )


@cache
def small_video(folder: Path, suffix: str = ".mp4", codec: str = "libx264") -> tuple[Path, Scene]:
    """Render a short, small video once for many tests."""
    scene = Scene(width=320, height=184, rate=60.0, seconds=1.5, dot=0.016, codec=codec)
    return rendered(folder / f"small{suffix}", scene), scene
