"""Where is the motion in frequency, and how loud is the noise? Spectra by averaging over segments."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]

SEGMENTS_A_RECORD = 4
TOP_OF_THE_BAND = 0.65
"""The noise is read above this part of the highest frequency."""
SLOWEST = 0.5
"""Below this, drift of a hand or a mount is not told from motion [Hz]."""


def power_spectrum(values: Array, rate: float, segments: int = SEGMENTS_A_RECORD) -> tuple[Array, Array]:
    """Give frequencies [Hz] and the one-sided power spectrum of each channel [unit²/Hz].

    Overlapping segments of a quarter of the record under a Hann window, averaged (Welch 1967, from memory).
    """
    frequencies, parts = _windowed(values, rate, segments)
    return frequencies, np.asarray((abs(parts) ** 2).mean(axis=1))


def coherence_at(values: Array, rate: float, frequency: float) -> tuple[float, int]:
    """Give the coherence of two channels at a frequency, |S_xy|²/(S_xx S_yy), and the number of segments."""
    frequencies, parts = _windowed(values, rate, 2 * SEGMENTS_A_RECORD)
    at = int(np.argmin(abs(frequencies - frequency)))
    one, other = parts[0, :, at], parts[1, :, at]
    cross = abs((one.conj() * other).mean()) ** 2
    power = (abs(one) ** 2).mean() * (abs(other) ** 2).mean()
    return float(cross / power) if power > 0.0 else 0.0, parts.shape[1]


def _windowed(values: Array, rate: float, segments: int) -> tuple[Array, NDArray[np.complex128]]:
    count = values.shape[1]
    size = max(16, count // segments)
    size = min(size, count)
    starts = range(0, count - size + 1, max(1, size // 2))
    window = 0.5 - 0.5 * np.cos(2.0 * np.pi * (np.arange(size) + 0.5) / size)
    pieces = np.stack([values[:, start : start + size] for start in starts], axis=1)
    pieces = pieces - pieces.mean(axis=2, keepdims=True)
    padded = 4 * size
    parts = np.fft.rfft(pieces * window, padded, axis=2) * np.sqrt(2.0 / (rate * (window**2).sum()))
    return np.fft.rfftfreq(padded, 1.0 / rate).astype(np.float64), parts.astype(np.complex128)


def slowest_told(length: float) -> float:
    """Give the lowest frequency that a record of this length tells from drift [Hz]."""
    return max(3.0 / length, SLOWEST)


def peak_frequency(frequencies: Array, power: Array, lowest: float, highest: float) -> float:
    """Give the frequency of the highest peak between two [Hz]: a parabola through the logarithms of three bins."""
    inside = np.flatnonzero((frequencies >= lowest) & (frequencies <= highest))
    if len(inside) < 3:
        return float(frequencies[inside[0]]) if len(inside) else lowest
    at = int(inside[np.argmax(power[inside])])
    if not 0 < at < len(power) - 1 or power[at - 1 : at + 2].min() <= 0.0:
        return float(frequencies[at])
    left, middle, right = np.log(power[at - 1 : at + 2])
    bend = left - 2.0 * middle + right
    shift = 0.5 * (left - right) / bend if bend < 0.0 else 0.0
    return float(frequencies[at] + np.clip(shift, -1.0, 1.0) * (frequencies[1] - frequencies[0]))


def noise_level(frequencies: Array, power: Array, rate: float) -> Array:
    """Give the standard deviation of the white noise of each channel, from the top of the band."""
    top = frequencies > TOP_OF_THE_BAND * rate / 2.0
    return np.sqrt(np.median(power[:, top], axis=1) * rate / 2.0)


def half_power_width(frequencies: Array, power: Array, peak: float) -> float:
    """Give the width of a peak where its power has fallen to a half, over its frequency [1]."""
    low, high = half_power_ends(frequencies, power, peak)
    return (high - low) / peak


def half_power_ends(frequencies: Array, power: Array, peak: float) -> tuple[float, float]:
    """Give where the power of a peak has fallen to a half, below and above it [Hz]."""
    at = int(np.argmin(abs(frequencies - peak)))
    low = high = at
    while low > 0 and power[low] > power[at] / 2.0:
        low -= 1
    while high < len(power) - 1 and power[high] > power[at] / 2.0:
        high += 1
    return float(frequencies[low]), float(frequencies[high])


def harmonics(channel: Array, rate: float, frequency: float) -> tuple[float, float]:
    """Give the amplitudes at twice and three times a frequency over the amplitude at it, by projection [1]."""
    window = 0.5 - 0.5 * np.cos(2.0 * np.pi * (np.arange(len(channel)) + 0.5) / len(channel))
    turning = 2j * np.pi * frequency * np.arange(len(channel)) / rate
    one, two, three = (abs(np.sum(window * channel * np.exp(-order * turning))) for order in (1, 2, 3))
    told = [
        size / one if one > 0.0 and order * frequency < rate / 2.0 else 0.0 for order, size in ((2, two), (3, three))
    ]
    return float(told[0]), float(told[1])
