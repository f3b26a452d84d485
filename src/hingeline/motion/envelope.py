"""How large is the swing from moment to moment? The analytic signal of a band, and statistics of its envelope."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.equations import excess_kurtosis

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

HALF_BAND = 0.3
"""Half width of the band around the frequency, as a part of it."""
CYCLES_LEFT_OUT = 1.0
"""At each end of a record, where a filter rings."""


def analytic_band(values: Array, rate: float, frequency: float, half_band: float = HALF_BAND) -> Complex:
    """Give the analytic signal x + i H(x) of a band around a frequency; its magnitude is the envelope.

    The band's edges are cosine tapers. The record is continued at each end turned about its last value, so that
    neither a level nor a slope breaks off there.
    """
    count = values.shape[-1]
    over = min(count - 1, int(4.0 * rate / frequency))
    left = 2.0 * values[..., :1] - values[..., over:0:-1]
    right = 2.0 * values[..., -1:] - values[..., -2 : -over - 2 : -1]
    whole = np.concatenate([left, values, right], axis=-1)
    frequencies = np.fft.fftfreq(whole.shape[-1], 1.0 / rate)
    gain = 2.0 * _taper(np.abs(frequencies / frequency - 1.0).astype(np.float64), half_band) * (frequencies > 0.0)
    filtered = np.fft.ifft(np.fft.fft(whole, axis=-1) * gain, axis=-1)
    return np.asarray(filtered[..., over : over + count])


def _taper(distance: Array, half_band: float) -> Array:
    """Give 1 inside 0.8 of the half band, 0 outside 1.2 of it."""
    part = np.clip((distance / half_band - 0.8) / 0.4, 0.0, 1.0)
    return 0.5 + 0.5 * np.cos(np.pi * part)


def without_drift(values: Array, rate: float, lowest: float) -> Array:
    """Take a straight line and everything slower than ``lowest`` [Hz] out of each channel."""
    count = values.shape[-1]
    position = np.arange(count) - (count - 1) / 2.0
    level = values - values.mean(axis=-1, keepdims=True)
    slope = (level * position).sum(axis=-1, keepdims=True) / (position**2).sum()
    level = level - slope * position
    over = min(count - 1, int(2.0 * rate / lowest))
    # Mirrored, so that a release from one side does not become a level before it.
    whole = np.concatenate([level[..., over:0:-1], level, level[..., -2 : -over - 2 : -1]], axis=-1)
    frequencies = np.fft.rfftfreq(whole.shape[-1], 1.0 / rate)
    part = np.clip((frequencies / lowest - 0.6) / 0.6, 0.0, 1.0)
    filtered = np.fft.irfft(np.fft.rfft(whole, axis=-1) * (0.5 - 0.5 * np.cos(np.pi * part)), whole.shape[-1], axis=-1)
    return np.asarray(filtered[..., over : over + count])


@dataclass(frozen=True, slots=True)
class EnvelopeFacts:
    """Statistics of the swing in a band.

    Parameters
    ----------
    variation : float
        Standard deviation of the envelope over its mean; a tone 0, narrow-band Gaussian motion 0.523.
    kurtosis : float
        Excess kurtosis of the swing; a sine -1.5, Gaussian motion 0.
    memory : float
        Largest autocorrelation near ten cycles; a tone 1.
    level_change : float
        Last quarter over first, root mean squares [dB].
    """

    variation: float
    kurtosis: float
    memory: float
    level_change: float


def envelope_facts(swing: Complex, rate: float, frequency: float) -> EnvelopeFacts:
    """Describe the envelope of an analytic signal, its ends left out."""
    edge = int(CYCLES_LEFT_OUT * rate / frequency)
    inner = swing[edge:-edge] if edge and len(swing) > 4 * edge else swing
    size = abs(inner)
    quarter = max(1, len(inner) // 4)
    first, last = (float(np.mean(size[part] ** 2)) for part in (slice(None, quarter), slice(-quarter, None)))
    return EnvelopeFacts(
        variation=float(size.std() / size.mean()) if size.mean() > 0.0 else 0.0,
        kurtosis=excess_kurtosis(inner.real),
        memory=memory(inner.real, rate, frequency),
        level_change=10.0 * float(np.log10(last / first)) if first > 0.0 and last > 0.0 else 0.0,
    )


def memory(swing: Array, rate: float, frequency: float, cycles: float = 10.0) -> float:
    """Give the largest autocorrelation within half a cycle of a lag of ``cycles`` [1]; 0 where the record is short."""
    lags = range(int((cycles - 0.5) * rate / frequency), int((cycles + 0.5) * rate / frequency) + 2)
    if lags[-1] > 0.8 * len(swing):
        return 0.0
    return max(_likeness(swing[:-lag], swing[lag:]) for lag in lags)


def _likeness(one: Array, other: Array) -> float:
    size = float(np.sqrt(float(one @ one) * float(other @ other)))
    return float(one @ other) / size if size > 0.0 else 0.0
