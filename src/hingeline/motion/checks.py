"""What a recording must be before anything is read from it. All faults are gathered."""

from __future__ import annotations

import math
from collections.abc import Iterator
from typing import Any, get_args

import numpy as np

from hingeline.errors import InputRefused, Refusal
from hingeline.motion.model import UNITS, Channel, From, Recording, Source
from hingeline.motion.regular import together, told_apart

LEAST_SAMPLES, MOST_SAMPLES, MOST_CHANNELS = 32, 1_000_000, 12
LARGEST = {"plunge": 10.0, "pitch": 7.0, "surface": 7.0, "acceleration": 5000.0, "sound": 1e9}
LONGEST, FASTEST = 86_400.0, 1e6
SLOWEST_SCALE, FASTEST_SCALE = 1e-3, 100.0
FASTEST_AIR = 400.0
LARGEST_SKEW = 0.1


def refuse_unusable(recording: Recording) -> None:
    """Refuse a recording that cannot be read.

    Raises
    ------
    InputRefused
        With one refusal for every fault.
    """
    faults = list(_faults(recording))
    if faults:
        raise InputRefused(faults)


def _faults(recording: Recording) -> Iterator[Refusal]:
    count = len(recording.times)
    if not LEAST_SAMPLES <= count <= MOST_SAMPLES:
        expected = f"{LEAST_SAMPLES} to {MOST_SAMPLES} times"
        yield Refusal("times", str(count), expected, "Record for a few seconds, or cut out the part that matters.")
        return
    yield from _of_words(recording)
    yield from _of_times(recording)
    if not 1 <= len(recording.channels) <= MOST_CHANNELS:
        yield Refusal(
            "channels", str(len(recording.channels)), f"1 to {MOST_CHANNELS} channels", "Name the columns to read."
        )
    for index, channel in enumerate(recording.channels):
        yield from _of_channel(f"channels[{index}]", channel, count)
    if recording.airspeed is not None:
        yield from _of_airspeed(recording.airspeed, count)
    yield from _of_scale(recording)


def _of_words(recording: Recording) -> Iterator[Refusal]:
    """Refuse words that no rule knows: a file is checked before it comes here, a caller's records are not."""
    yield from one_of_the_words("source", recording.source, Source)
    yield from one_of_the_words("time_scale.from_", recording.time_scale.from_, From)


def one_of_the_words(field: str, word: str, known: Any) -> Iterator[Refusal]:
    """Refuse a word that is none of those of a Literal."""
    if word not in get_args(known):
        yield Refusal(field, word, f"one of {', '.join(get_args(known))}", "Write one of these words.")


def _of_times(recording: Recording) -> Iterator[Refusal]:
    times = np.asarray(recording.times, dtype=float)
    if not np.isfinite(times).all():
        at = int(np.flatnonzero(~np.isfinite(times))[0])
        yield Refusal(f"times[{at}]", str(times[at]), "a time in seconds", "Leave the line out.")
        return
    alone = np.unique(times)
    alone = alone[told_apart(alone)]
    span, different = float(times.max() - times.min()), len(alone)
    if different < LEAST_SAMPLES:
        yield Refusal("times", f"{different} different ones", f"at least {LEAST_SAMPLES}", "Is this the time column?")
    elif not 0.0 < span <= LONGEST:
        yield Refusal(
            "times", f"{span:g} s in all", f"more than 0 and at most {LONGEST:g} s", "Check the unit of time."
        )
    elif different / span > FASTEST:
        yield Refusal("times", f"{different / span:g} in a second", f"at most {FASTEST:g}", "Check the unit of time.")
    elif len(alone[together(alone)]) < LEAST_SAMPLES:
        found = f"{len(alone[together(alone)])} different ones"
        yield Refusal("times", found, f"at least {LEAST_SAMPLES}", "Is this the time column?")


def _of_channel(place: str, channel: Channel, count: int) -> Iterator[Refusal]:
    if channel.quantity not in UNITS:
        yield Refusal(f"{place}.quantity", str(channel.quantity), f"one of {', '.join(UNITS)}", "Name one of these.")
        return
    if len(channel.values) != count:
        remedy = "Give one value for each time, or none where it was lost."
        yield Refusal(f"{place}.values", str(len(channel.values)), f"{count}, as many as times", remedy)
        return
    values = np.array(channel.values, dtype=float)
    known = values[~np.isnan(values)]
    if len(known) < LEAST_SAMPLES:
        yield Refusal(f"{place}.values", f"{len(known)} known", f"at least {LEAST_SAMPLES}", "Is it the right column?")
    elif abs(known).max() > LARGEST[channel.quantity]:
        unit = UNITS[channel.quantity]
        expected = f"at most {LARGEST[channel.quantity]:g} {unit}"
        yield Refusal(f"{place}.values", f"{abs(known).max():g} {unit}", expected, "Check the unit of the column.")


def _of_airspeed(airspeed: tuple[float | None, ...], count: int) -> Iterator[Refusal]:
    known = [value for value in airspeed if value is not None]
    if len(airspeed) != count:
        yield Refusal("airspeed", str(len(airspeed)), f"{count}, as many as times", "Give one for each time.")
    elif any(not 0.0 <= value <= FASTEST_AIR for value in known):
        yield Refusal("airspeed", f"{max(known, key=abs):g} m/s", f"0 to {FASTEST_AIR:g} m/s", "Check its unit.")


def _of_scale(recording: Recording) -> Iterator[Refusal]:
    scale = recording.time_scale
    ratio = scale.true_over_file
    if (ratio is None) != (scale.from_ == "unknown"):
        remedy = "Give the ratio, or say that it is unknown."
        yield Refusal("time_scale", f"{ratio}, {scale.from_}", "a ratio, or unknown without one", remedy)
    elif ratio is not None and not (math.isfinite(ratio) and SLOWEST_SCALE <= ratio <= FASTEST_SCALE):
        expected = f"{SLOWEST_SCALE:g} to {FASTEST_SCALE:g} true seconds in one of the file"
        yield Refusal("time_scale.true_over_file", str(ratio), expected, "Check the capture rate.")
    if not 0.0 <= recording.row_skew <= LARGEST_SKEW:
        expected = f"0 to {LARGEST_SKEW:g} s"
        yield Refusal("row_skew", str(recording.row_skew), expected, "It is at most the time that one frame takes.")
