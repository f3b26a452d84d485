"""What a video may cost, and how large it may be."""

from __future__ import annotations

from dataclasses import dataclass

FEWEST_FRAMES = 8
KINDS = {"mov": "MP4 or MOV", "matroska": "Matroska or WebM", "avi": "AVI"}
CODECS = ("h264", "hevc", "vp8", "vp9", "av1", "mpeg4", "mjpeg", "prores")
"""The codecs of phones and action cameras, and of what people turn their files into. Each more is a risk more."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What the process that reads a video may use, and how large the video may be.

    Parameters
    ----------
    memory : int
        Of the whole process: the operating system refuses more [byte].
    cpu_seconds : int
        Of processor time: the operating system ends the process [s].
    wall_seconds : float
        From start to end [s].
    silent_seconds : float
        Without a single picture [s].
    open_files : int
    largest_file : int
        [byte]
    most_pixels : int
        Of a picture.
    most_frames : int
    longest : float
        Seconds of the file [s].
    """

    memory: int = 1 << 30
    cpu_seconds: int = 900
    wall_seconds: float = 1800.0
    silent_seconds: float = 60.0
    open_files: int = 32
    largest_file: int = 4 << 30
    most_pixels: int = 4096 * 2304
    most_frames: int = 100_000
    longest: float = 1800.0


class Unreadable(Exception):
    """The file is no video that can be used.

    Parameters
    ----------
    found, expected, remedy : str
        As in a refusal.
    """

    def __init__(self, found: str, expected: str, remedy: str) -> None:
        self.found, self.expected, self.remedy = found, expected, remedy
        super().__init__(f"{found}; expected {expected}")


DAMAGED = "The file is damaged or was cut: take the original from the camera again, and compare its size."


def damaged(found: str, expected: str = "a whole video file") -> Unreadable:
    """Say that a file is damaged."""
    return Unreadable(found, expected, DAMAGED)
