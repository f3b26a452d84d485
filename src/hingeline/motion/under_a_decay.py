"""Does a small swing grow while the large one of a knock dies out? Then the knock does not show that all is damped."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hingeline.motion import spectrum
from hingeline.motion.envelope import analytic_band
from hingeline.motion.facts import FLOOR, Facts
from hingeline.motion.growth import Stretch, rise_in, smooth_envelope

Array = NDArray[np.float64]

LAST, STRONGER, LEAST_SAMPLES = 4, 1.5, 32
"""The last such part of the decay is set beside the one before it; a swing that grows is so much stronger there."""
NEAR_NYQUIST, LEAST_SEEN, LEFT_OUT, AT_THE_END = 0.4, 6.0, 1.0, 0.85
"""Highest frequency over the rate; cycles in all, cycles left out at the end, and where a rise must reach to."""
LEAST_CYCLES, MOST_DRIFT = 4.0, 0.3


@dataclass(frozen=True, slots=True)
class GrowsUnder:
    """A swing that grows until the end of a decay.

    Parameters
    ----------
    frequency : float
        [Hz]
    rise : Stretch
    """

    frequency: float
    rise: Stretch


def grows_under(facts: Facts) -> GrowsUnder | None:
    """Find a swing that grows from a knock's decay until the end of the recording; None where there is none.

    Parameters
    ----------
    facts : Facts

    Returns
    -------
    GrowsUnder, optional
        The one that rises most.

    Notes
    -----
    In the spectrum of the last quarter after the greatest swing the strongest line that is weaker in the quarter
    before; its envelope from the least on must rise straight as a growth does. Chosen on simulated recordings.
    """
    after, rate = (facts.tracks.values / facts.noise[:, None])[:, facts.fall.peak :], facts.tracks.rate
    found = [
        GrowsUnder(frequency, rise)
        for channel, frequency in _stronger_at_the_end(after, rate)
        if (rise := _rise(after[channel], rate, frequency)) is not None
    ]
    return max(found, key=lambda each: each.rise.change, default=None)


def _stronger_at_the_end(after: Array, rate: float) -> Iterator[tuple[int, float]]:
    """Give, by channel, the frequency that is strongest at the end among those that became stronger [Hz]."""
    size = after.shape[1] // LAST
    if size < LEAST_SAMPLES:
        return
    frequencies, last = spectrum.power_spectrum(after[:, -size:], rate, segments=1)
    _, before = spectrum.power_spectrum(after[:, -2 * size : -size], rate, segments=1)
    told = (frequencies >= spectrum.slowest_told(size / rate)) & (frequencies <= NEAR_NYQUIST * rate)
    risen = np.where(told & (last > STRONGER * before), last, 0.0)
    for channel in np.flatnonzero(risen.max(axis=1) > 0.0):
        yield int(channel), float(frequencies[int(risen[channel].argmax())])


def _rise(channel: Array, rate: float, frequency: float) -> Stretch | None:
    """Give the rise of a band from its least on, the end left out where the filter rings."""
    cycle, first = rate / frequency, len(channel) // LAST
    stop = int(len(channel) - LEFT_OUT * cycle)
    if stop - first < LEAST_SEEN * cycle:
        return None
    # The knock fades in: its blow would ring through the filter, and round it to the end.
    shown = channel.copy()
    shown[:first] *= np.sin(np.linspace(0.0, np.pi / 2.0, first)) ** 2
    swing = analytic_band(shown[None, :], rate, frequency)[0, :stop]
    envelope = smooth_envelope(swing, rate, frequency)
    least = first + int(np.argmin(envelope[first : stop - int(2.0 * cycle)]))
    # Samples are counted in their noise here.
    floor = FLOOR * float(np.sqrt(min(1.0, 0.6 * frequency / (rate / 2.0))))
    rise = rise_in(swing[least:], rate, frequency, floor)
    if rise is None or rise.cycles < LEAST_CYCLES or rise.drift > MOST_DRIFT:
        return None
    return rise if least + rise.stop >= AT_THE_END * len(swing) else None
