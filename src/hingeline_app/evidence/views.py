"""What an answer looks like as parts of a page: the motion, one motion against the other, the marks, each row."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline.motion import Recording, Trace, trace_of
from hingeline.motion.marks import PixelTracks
from hingeline_app.evidence.strip import strip_of
from hingeline_app.evidence.words import frequency_text, interval_text, number_text, phase_text
from hingeline_app.figures.motion.evidence_strip import draw_motion, draw_portrait
from hingeline_app.figures.motion.followed_marks import SeenMark, draw_followed_marks
from hingeline_app.figures.motion.spectrum import SpectrumPicture, draw_spectrum
from hingeline_app.figures.wording import format_number, with_unit

Document = Mapping[str, Any]

MEANINGS = {
    "growing": "feeds itself, as flutter does",
    "sustained": "a steady tone: treat as self-excited until a drive at this frequency is shown",
    "irregular": "as turbulence and buffeting make it; flutter is not excluded",
    "dying out": "damped, at this speed and size of motion only",
    "cannot tell": "self-excitation is not excluded",
}
WINDINGS = {
    "growing": "winds outward",
    "sustained": "stays in its ring",
    "irregular": "no pattern",
    "dying out": "winds inward",
    "cannot tell": "no pattern is claimed",
}
WAVE_OF = {
    "self-excited": "growing",
    "a steady tone": "sustained",
    "shaken": "irregular",
    "dying out": "dying out",
    "cannot tell": "cannot tell",
}
"""The sign beside what an item points to; one that points to neither has none."""
CAUTION = "A video shows only what it sees. Never try to make it happen again in flight."
CAUTION_OTHERWISE = "A recording shows only what it holds. Never try to make it happen again in flight."
WIDE, NARROW, BESIDE = 660.0, 340.0, 300.0


@dataclass(frozen=True, slots=True)
class Item:
    """One row of the evidence."""

    measure: str
    value: str
    points_to: str
    role: str
    wave: str


@dataclass(frozen=True, slots=True)
class Views:
    """The parts of a page, as SVG and words.

    Parameters
    ----------
    motion, motion_narrow : str
    portrait, portrait_title : str
    spectrum : str
    time_words : str
        Who says how long a second is.
    numbers : tuple of (str, str)
        Name and value with its interval.
    items : tuple of Item
    """

    motion: str
    motion_narrow: str
    portrait: str
    portrait_title: str
    spectrum: str
    time_words: str
    numbers: tuple[tuple[str, str], ...]
    items: tuple[Item, ...]


def views_of(document: Document, recording: Recording) -> Views:
    """Draw and word an answer."""
    trace = trace_of(recording)
    both = bool(trace.portrait)
    pairs = trace.portrait if both else trace.orbit
    words = ("plunge", "angle") if both else (trace.quantity, "how fast")
    strip = strip_of(document, trace, pairs, words)
    winds = winding(document)
    if both and document["phase"] is not None:
        winds += f", {phase_text(document).replace(' deg', '°')}"
    pace = pace_words(document)
    return Views(
        motion=draw_motion(strip, WIDE, pace),
        motion_narrow=draw_motion(strip, NARROW, pace),
        portrait=draw_portrait(strip, BESIDE, winds),
        portrait_title="Pitch against plunge" if both else "Speed against place",
        spectrum=draw_spectrum(spectrum_of(document, trace), BESIDE),
        time_words=time_words(document),
        numbers=numbers_of(document),
        items=items_of(document),
    )


def spectrum_of(document: Document, trace: Trace) -> SpectrumPicture:
    """Give what is drawn of a spectrum."""
    known = document["time_scale"]["true_over_file"] is not None
    return SpectrumPicture(
        pairs=trace.spectrum,
        peak=trace.peak,
        half_power=trace.half_power,
        resolution=trace.resolution,
        quantity=trace.quantity,
        unit="Hz" if known else "cycles a second of the file",
    )


def winding(document: Document) -> str:
    """Say what the portrait does; a limit cycle inside turbulence keeps no ring that could be seen."""
    if document["statement"] == "sustained" and document["ground"] != "a steady tone":
        return "no clean ring: it is shaken as well"
    return WINDINGS[document["statement"]]


def numbers_of(document: Document) -> tuple[tuple[str, str], ...]:
    """Give every number of an answer with its interval, as the command line writes it."""
    stretch = document["stretch"]
    start, stop = (format_number(stretch[end]["value"], 2) for end in ("from", "to"))
    return (
        ("frequency", frequency_text(document)),
        ("damping ratio", interval_text(document["damping_ratio"])),
        ("growth rate", interval_text(document["growth_rate"])),
        ("phase", phase_text(document)),
        ("part used", f"{start} … {with_unit(stop, 's')}, {format_number(document['cycles'], 1)} cycles"),
        ("signal over noise", format_number(document["signal_to_noise"], 1)),
    )


def items_of(document: Document) -> tuple[Item, ...]:
    """Give the evidence row by row; what was not measured is listed too."""
    return tuple(
        Item(
            each["measure"],
            number_text(each["value"], each["unit"]),
            each["points_to"],
            each["role"],
            WAVE_OF.get(each["points_to"], ""),
        )
        for each in document["evidence"]
    )


def pace_words(document: Document) -> str:
    """Say in words how fast it grows or dies out."""
    rate = document["growth_rate"]
    if rate is None or not rate["value"]:
        return ""
    seconds = math.log(2.0) / abs(rate["value"])
    time = with_unit(f"{seconds:.2g}" if seconds < 100.0 else f"{seconds:.0f}", "s")
    return f"growing: twice the size every {time}" if rate["value"] > 0.0 else f"half the size every {time}"


def time_words(document: Document) -> str:
    """Say who says how long a second is."""
    scale = document["time_scale"]
    true = scale["true_over_file"]
    if true is None:
        return "true time unknown: frequency is given per second of the file"
    said = {"metadata": "from the file", "given": "as given"}[scale["from"]]
    slower = f", shown {format_number(1.0 / true, 2)} times slower" if abs(true - 1.0) > 0.01 else ""
    return f"true time known {said}{slower}"


def marks_picture(address: str, tracks: PixelTracks, width: float) -> str:
    """Draw the marks on the first picture."""
    return draw_followed_marks(address, (tracks.width, tracks.height), seen_marks(tracks), width)


def seen_marks(tracks: PixelTracks) -> list[SeenMark]:
    """Give each mark where it was first seen, and how often it was lost."""
    found = []
    for track in tracks.tracks:
        there = [(x, y) for x, y in zip(track.x, track.y, strict=True) if x is not None and y is not None]
        if there:
            found.append(SeenMark(track.mark, *there[0], 1.0 - len(there) / max(len(track.x), 1)))
    return found
