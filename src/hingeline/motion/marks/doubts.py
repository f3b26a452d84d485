"""What makes the tracks of a video worth less than their noise says, in words."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

import numpy as np

from hingeline.motion.marks.equations import Reals
from hingeline.motion.marks.model import Mark, Marks, PixelTracks
from hingeline.motion.marks.steady import Shake

Weight = Literal["cannot tell", "wider"]

FINE_MARK = 14.0  # the smallest dot that was measured with; angle within 0.03 degrees
STRONG_SHAKE, STRONG_TURN = 0.03, np.radians(2.0)
ANGLE_THAT_MATTERS = np.radians(0.2)
NEAR_NYQUIST = 0.4
IRREGULAR = 0.05
LOST = 0.05


@dataclass(frozen=True, slots=True)
class Doubt:
    """One ground to believe the tracks less.

    Parameters
    ----------
    about : str
        In a word or two.
    sentence : str
    weight : {"cannot tell", "wider"}
        Whether nothing can be concluded, or the uncertainty is larger than stated.
    """

    about: str
    sentence: str
    weight: Weight


def of_the_file(tracks: PixelTracks) -> Iterator[Doubt]:
    """Doubts from the file: damage, an early stop."""
    for sentence in tracks.doubts:
        repeated = "same time" in sentence
        yield Doubt("the file", sentence, "cannot tell" if repeated or tracks.missing else "wider")
    if not tracks.finished:
        yield Doubt("stopped", "The video was followed only in part.", "wider")


def of_the_times(steps: Reals) -> Iterator[Doubt]:
    """Doubts from the times of the pictures: their rate, and how even it is."""
    ordinary = np.median(steps)
    lost = int(np.sum(np.round(steps / ordinary) - 1.0))
    jitter = float(np.std(steps[steps < 1.5 * ordinary]) / ordinary)
    if jitter > IRREGULAR:
        sentence = f"The time between pictures varies by {100 * jitter:.0f} %: their own times are used, not a rate."
        yield Doubt("variable rate", sentence, "wider")
    if lost > 0.02 * len(steps):
        yield Doubt("frames left out", f"The camera left out about {lost} of {len(steps) + lost} pictures.", "wider")


def of_the_scale(scale: float | None) -> Iterator[Doubt]:
    """Doubts from slow motion."""
    if scale is None:
        sentence = (
            "Nothing says at which rate the pictures were taken, so a second of the file may be less than a true "
            "one. Frequencies are per second of the file; say how many pictures a second were taken."
        )
        yield Doubt("slow motion unknown", sentence, "wider")


def of_the_camera(marks: Marks, shake: Shake, width: float) -> Iterator[Doubt]:
    """Doubts from the hand that held the camera."""
    if not shake.marks and marks.camera == "held":
        sentence = (
            "No mark stands on something that does not move: the hand's motion, 1 to 8 Hz, is in the tracks and "
            "cannot be told from the section's."
        )
        yield Doubt("shake", sentence, "cannot tell")
    if shake.marks == 1:
        yield Doubt("shake", "One still mark takes out the camera's shift, and not its turn.", "wider")
    if shake.pixels > STRONG_SHAKE * width or shake.angle > STRONG_TURN:
        sentence = (
            f"The camera shook by {shake.pixels:.0f} pixels and {np.degrees(shake.angle):.1f} degrees (rms): still "
            "marks take out what turns, shifts and stretches the picture, not a change of view or blur."
        )
        yield Doubt("strong shake", sentence, "wider")


def of_the_marks(tracks: PixelTracks, moving: list[Mark], lost: float) -> Iterator[Doubt]:
    """Doubts from the marks: too small, lost now and then, too few."""
    small = [each.mark for each in tracks.tracks if each.size < FINE_MARK]
    if small:
        sentence = f"Smaller than {FINE_MARK:.0f} pixels: {', '.join(small)}. Go nearer, or print larger marks."
        yield Doubt("small marks", sentence, "wider")
    if lost > LOST:
        sentence = f"A mark was lost in {100 * lost:.0f} % of the pictures: there the tracks have gaps."
        yield Doubt("marks lost", sentence, "cannot tell" if lost > 0.5 else "wider")
    if any(mark.kind == "patch" for mark in moving):
        sentence = "A patch is followed by its looks: its noise was tried on drawn pictures only. Print marks."
        yield Doubt("patch", sentence, "wider")


def of_the_lines(angle: float, known: bool) -> Iterator[Doubt]:
    """Doubts from a shutter that reads line after line; a known readout comes here only where it could not be used."""
    if angle > ANGLE_THAT_MATTERS:
        moved = f"{np.degrees(angle):.2f}"
        sentence = (
            "A shutter that reads line after line, if it needs the whole time between two pictures, moves the angle by "
            f"{moved} degrees (rms). Say its readout time, or keep the marks in the same lines."
        )
        if known:
            sentence = (
                "The readout time of the shutter cannot be used while the rate of the pictures is unknown: line after "
                f"line it may move the angle by {moved} degrees (rms). Say how many pictures a second were taken."
            )
        yield Doubt("rolling shutter", sentence, "wider")


def of_the_rate(times: Reals, values: Reals) -> Iterator[Doubt]:
    """Doubts from a motion that is too quick for the camera.

    The largest peak of the spectrum, resampled by straight lines, above 0.4 of the rate. A motion above
    half the rate shows as a slower one, and nothing in a video warns of that.
    """
    there = ~np.isnan(values)
    if there.sum() < 16:
        return
    even = np.linspace(times[0], times[-1], len(times))
    wave = np.interp(even, times[there], values[there])
    power = np.abs(np.fft.rfft((wave - wave.mean()) * np.hanning(len(wave)))) ** 2
    part = float(np.argmax(power)) / len(wave)
    if part > NEAR_NYQUIST:
        sentence = (
            f"The motion repeats every {1.0 / part:.1f} pictures: too few to tell its shape, and it may be the "
            "shadow of a quicker one. Film again at a higher rate, and once more at another: a true frequency stays."
        )
        yield Doubt("near half the rate", sentence, "cannot tell")
