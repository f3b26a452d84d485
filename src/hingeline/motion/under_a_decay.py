"""Does a small swing grow, or go on, while the large one of a knock dies out? Then not all may be damped."""

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
Complex = NDArray[np.complex128]

LAST, STRONGER, LEAST_SAMPLES = 4, 1.5, 32
"""The last such part of the decay is set beside the one before it; a swing that grows is so much stronger there."""
NEAR_NYQUIST, LEAST_SEEN, LEFT_OUT, AT_THE_END = 0.4, 6.0, 1.0, 0.85
"""Highest frequency over the rate; cycles in all, cycles left out at the end, and where a rise must reach to."""
LEAST_CYCLES, MOST_DRIFT = 4.0, 0.3
TAIL, TAIL_CYCLES, LOUD, EVEN, FALLING = 3, 6.0, 2.0, 0.2, 1.0
"""Part of the decay at its end that is looked at for an even swing; its cycles, its mean over the floor, its variation,
its fall from half to half [dB]."""


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


@dataclass(frozen=True, slots=True)
class GoesOnUnder:
    """An even swing that no longer falls at the end of a decay.

    Parameters
    ----------
    frequency : float
        [Hz]
    share : float
        Of the greatest swing [1].
    """

    frequency: float
    share: float


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
    after, rate = _after(facts)
    found = [
        GrowsUnder(frequency, rise)
        for channel, frequency in _strongest_at_the_end(after, rate, STRONGER)
        if (rise := _rise(after[channel], rate, frequency)) is not None
    ]
    return max(found, key=lambda each: each.rise.change, default=None)


def goes_on_under(facts: Facts) -> GoesOnUnder | None:
    """Find an even swing above the noise that goes on to the end of a knock's decay; None where there is none.

    Parameters
    ----------
    facts : Facts

    Returns
    -------
    GoesOnUnder, optional
        The largest.

    Notes
    -----
    The strongest line of the last quarter; its envelope over the last third, as even as air alone hardly keeps it.
    Chosen on simulated recordings.
    """
    after, rate = _after(facts)
    found = [
        GoesOnUnder(frequency, share)
        for channel, frequency in _strongest_at_the_end(after, rate, 0.0)
        if (share := _even_share(after[channel], rate, frequency)) is not None
    ]
    return max(found, key=lambda each: each.share, default=None)


def _after(facts: Facts) -> tuple[Array, float]:
    """Give the channels from the greatest swing on, counted in their noise, and their rate."""
    return (facts.tracks.values / facts.noise[:, None])[:, facts.fall.peak :], facts.tracks.rate


def _strongest_at_the_end(after: Array, rate: float, stronger: float) -> Iterator[tuple[int, float]]:
    """Give, by channel, the frequency that is strongest at the end, of those so much stronger than before [Hz]."""
    size = after.shape[1] // LAST
    if size < LEAST_SAMPLES:
        return
    frequencies, last = spectrum.power_spectrum(after[:, -size:], rate, segments=1)
    _, before = spectrum.power_spectrum(after[:, -2 * size : -size], rate, segments=1)
    told = (frequencies >= spectrum.slowest_told(size / rate)) & (frequencies <= NEAR_NYQUIST * rate)
    risen = np.where(told & (last > stronger * before), last, 0.0)
    for channel in np.flatnonzero(risen.max(axis=1) > 0.0):
        yield int(channel), float(frequencies[int(risen[channel].argmax())])


def _rise(channel: Array, rate: float, frequency: float) -> Stretch | None:
    """Give the rise of a band from its least on, the end left out where the filter rings."""
    cycle, first, swing = rate / frequency, len(channel) // LAST, _band(channel, rate, frequency)
    if len(swing) - first < LEAST_SEEN * cycle:
        return None
    envelope = smooth_envelope(swing, rate, frequency)
    least = first + int(np.argmin(envelope[first : len(swing) - int(2.0 * cycle)]))
    rise = rise_in(swing[least:], rate, frequency, _floor(rate, frequency))
    if rise is None or rise.cycles < LEAST_CYCLES or rise.drift > MOST_DRIFT:
        return None
    return rise if least + rise.stop >= AT_THE_END * len(swing) else None


def _even_share(channel: Array, rate: float, frequency: float) -> float | None:
    """Give what an even swing at the end is of the greatest; None where there is no such swing."""
    cycle, size = rate / frequency, len(channel) // TAIL - int(LEFT_OUT * rate / frequency)
    if size < TAIL_CYCLES * cycle:
        return None
    tail = smooth_envelope(_band(channel, rate, frequency), rate, frequency)[-size:]
    one, other, mean = tail[: size // 2].mean(), tail[size // 2 :].mean(), float(tail.mean())
    falls = 20.0 * np.log10(max(one, 1e-300) / max(other, 1e-300))
    even = mean > LOUD * _floor(rate, frequency) and tail.std() < EVEN * mean and falls < FALLING
    return mean / float(abs(channel).max()) if even else None


def _band(channel: Array, rate: float, frequency: float) -> Complex:
    """Give the analytic signal of a band, its end left out where the filter rings.

    The knock fades in: its blow would ring through the filter, and round it to the end.
    """
    shown, first = channel.copy(), len(channel) // LAST
    shown[:first] *= np.sin(np.linspace(0.0, np.pi / 2.0, first)) ** 2
    return analytic_band(shown[None, :], rate, frequency)[0, : int(len(channel) - LEFT_OUT * rate / frequency)]


def _floor(rate: float, frequency: float) -> float:
    """Give the envelope under which a band holds noise alone, where samples are counted in their noise."""
    return FLOOR * float(np.sqrt(min(1.0, 0.6 * frequency / (rate / 2.0))))
