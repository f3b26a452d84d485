"""A WAV file as a recording: a regular clock, and no amplitude that could be trusted."""

from __future__ import annotations

import io
import wave
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from hingeline.errors import InputRefused
from hingeline.motion.model import Recording, TimeScale, recording_of
from hingeline_app.files.recording_table import NAMES, QUANTITIES, UNITS_OF

FASTEST_KEPT = 2000.0
"""Samples are averaged down to at most so many a second: surfaces move slower [1/s]."""
FEWEST_KEPT = 2
MOST_CHANNELS, MOST_FRAMES = 8, 60_000_000


def is_sound(data: bytes) -> bool:
    """Tell whether bytes begin as a WAV file does."""
    return data[:4] == b"RIFF" and data[8:12] == b"WAVE"


def read_recording_sound(data: bytes, columns: Mapping[str, str] | None = None, name: str = "") -> Recording:
    """Read a WAV file (PCM).

    Parameters
    ----------
    data : bytes
    columns : mapping of str to str, optional
        A channel, counted from 1, that holds no sound but a motion: ``{"acceleration_m_s2": "1"}``. Its values
        are parts of full scale; left out, every channel is a sound.
    name : str

    Raises
    ------
    InputRefused
        It is cut off, of another coding, or a channel does not exist.
    """
    rate, samples = _samples(data)
    stride = max(1, int(np.ceil(rate / FASTEST_KEPT)))
    count = samples.shape[0] // stride
    if count < FEWEST_KEPT:
        shown = f"{samples.shape[0]} samples, {rate:.0f} a second"
        expected = f"at least {FEWEST_KEPT} samples at {FASTEST_KEPT:.0f} a second"
        raise InputRefused.of("FILE", shown, expected, "It is too short, or its rate is wrong: export it again.")
    thin = samples[: count * stride].reshape(count, stride, samples.shape[1]).mean(axis=1)
    times = (np.arange(count) + 0.5 * (stride - 1) / stride) * stride / rate
    tracks = _tracks(thin, columns or {})
    source = "sound" if any(label.startswith("sound") for label in tracks) else "sensor"
    return recording_of(times, tracks, time_scale=TimeScale(), source=source, name=name)  # type: ignore[arg-type]


def _samples(data: bytes) -> tuple[float, NDArray[np.float64]]:
    try:
        with wave.open(io.BytesIO(data)) as sound:
            channels, width, rate, frames = sound.getparams()[:4]
            holds = 1 <= channels <= MOST_CHANNELS and rate > 0 and 0 < frames <= MOST_FRAMES
            content = sound.readframes(frames) if holds else b""
    except (wave.Error, EOFError, ValueError, RuntimeError) as fault:
        remedy = "Export it as WAV, PCM, 16 bit."
        raise InputRefused.of("FILE", str(fault) or "cut off", "a whole WAV file in PCM", remedy) from None
    if not holds:
        shown = f"{channels} channels, {rate} a second, {frames} samples"
        raise InputRefused.of("FILE", shown, f"1 to {MOST_CHANNELS} channels with samples", "Export it again.")
    if len(content) < frames * channels * width:
        shown = f"{len(content)} bytes of samples"
        raise InputRefused.of("FILE", shown, f"{frames * channels * width}", "It is cut off: copy it again.")
    return float(rate), _numbers(content, width).reshape(-1, channels)


def _numbers(content: bytes, width: int) -> NDArray[np.float64]:
    """Give samples as parts of full scale."""
    if width == 1:
        return (np.frombuffer(content, np.uint8).astype(np.float64) - 128.0) / 128.0
    if width == 2:
        return np.frombuffer(content, "<i2").astype(np.float64) / 32768.0
    if width == 3:
        three = np.frombuffer(content, np.uint8).reshape(-1, 3).astype(np.int64)
        whole = three[:, 0] | three[:, 1] << 8 | three[:, 2] << 16
        return (whole - ((whole >> 23) << 24)).astype(np.float64) / 8388608.0
    if width == 4:
        return np.frombuffer(content, "<i4").astype(np.float64) / 2147483648.0
    raise InputRefused.of("FILE", f"{8 * width} bit", "8, 16, 24 or 32 bit", "Export it as PCM, 16 bit.")


def _tracks(samples: NDArray[np.float64], columns: Mapping[str, str]) -> dict[str, NDArray[np.float64]]:
    """Name the channels: those that were mapped alone, else each as a sound."""
    count = samples.shape[1]
    if not columns:
        return {"sound" if count == 1 else f"sound {index + 1}": samples[:, index] for index in range(count)}
    tracks = {}
    for ours, theirs in columns.items():
        quantity, _, unit = ours.partition("_")
        factor = UNITS_OF.get(quantity, {}).get(unit.removeprefix("x_").removeprefix("y_").removeprefix("z_"))
        if quantity not in QUANTITIES or factor is None:
            raise InputRefused.of("--column", ours, f"a name such as {NAMES}", "Quantity first, unit last.")
        if not theirs.isascii() or not theirs.isdigit() or not 1 <= int(theirs) <= count:
            expected = f"a channel from 1 to {count}"
            raise InputRefused.of("--column", f"{ours}={theirs}", expected, "Channels count from 1.")
        tracks[f"{quantity} {unit}"] = factor * samples[:, int(theirs) - 1]
    return tracks
