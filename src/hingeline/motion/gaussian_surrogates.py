"""Does the envelope look like a simple shaken structure's? A test against surrogates that are Gaussian."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.envelope import analytic_band

Array = NDArray[np.float64]

SURROGATES, HALF_BAND, SMOOTHED = 59, 0.5, 7


def evenness(swing: NDArray[np.complex128]) -> float:
    """Give R = <A⁴>/<A²>² of an envelope: 2 for Gaussian motion whatever its spectrum, 1 for a tone."""
    power = abs(swing) ** 2
    mean = float(power.mean())
    return float((power**2).mean()) / mean**2 if mean > 0.0 else 2.0


def chance_of_gaussian(channel: Array, rate: float, frequency: float) -> float:
    """Give the chance that Gaussian motion of the same spectrum has as even an envelope [1].

    Surrogates have random phases and exponentially distributed power about the smoothed periodogram: keeping the
    measured periodogram would reproduce a tone and hide it (Theiler and others 1992, Schreiber and Schmitz 2000,
    from memory). They are drawn from a fixed seed, so that the same record gives the same answer.

    Parameters
    ----------
    channel : array
        The channel whose stiffness may bend.
    rate, frequency : float
        [1/s], [Hz]
    """
    count = len(channel)
    power = abs(np.fft.rfft(channel - channel.mean())) ** 2
    kernel = np.hanning(SMOOTHED + 2)[1:-1]
    smooth = np.convolve(power, kernel / kernel.sum(), mode="same")
    generator = np.random.default_rng(0)
    parts = generator.standard_normal((SURROGATES, len(smooth), 2)) @ np.array([1.0, 1.0j])
    drawn = np.fft.irfft(parts * np.sqrt(smooth / 2.0), count, axis=1)
    edge = int(rate / frequency)
    inner = slice(edge, count - edge)
    ours = evenness(analytic_band(channel, rate, frequency, HALF_BAND)[inner])
    theirs = [evenness(each[inner]) for each in analytic_band(drawn, rate, frequency, HALF_BAND)]
    return (1.0 + sum(each <= ours for each in theirs)) / (SURROGATES + 1.0)
