"""Everything that the rules look at, measured once: from a recording to numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hingeline.motion import spectrum
from hingeline.motion.bent_autoregression import SmallMotion, small_motion
from hingeline.motion.envelope import EnvelopeFacts, analytic_band, envelope_facts, without_drift
from hingeline.motion.equations import independent_looks
from hingeline.motion.flaws import Flaws, flaws_of, one_direction
from hingeline.motion.gaussian_surrogates import chance_of_gaussian
from hingeline.motion.growth import Fall, Stretch, fall_in, rise_in
from hingeline.motion.model import DISPLACEMENTS, Recording
from hingeline.motion.pencil import Swings, main_swing, swings_in
from hingeline.motion.regular import Clock, Tracks, arrays_of, clock_of, longest_piece, on_an_even_clock, together

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

FLOOR = 3.0
"""Over the noise in the band, below which an envelope is read as noise."""
LOUD_PART, LOUDER = 2.0, 4.0
BEND_LEAST_LENGTH, BEND_LEAST_CYCLES, BEND_LEAST_SAMPLES, BEND_LEAST_LEVEL = 10.0, 30.0, 6.0, 5.0


@dataclass(frozen=True)
class Facts:
    """What was measured of one recording; ``best`` is the channel that stands out of its noise most.

    Parameters
    ----------
    clock : Clock
    flaws : Flaws
    tracks : Tracks
        On an even clock, drift taken out.
    start, length : float
        Of the part used [s].
    quantities : tuple of str
    best : int
    noise : array
        Standard deviation of the noise of each channel.
    levels : array
        Root mean square of the loudest half second over the noise, by channel.
    frequency : float
        Dominant [Hz].
    cycles : float
        In the part used.
    swing : complex array, shape (channels, n)
        Analytic signals of the band.
    envelope : EnvelopeFacts
    rise : Stretch, optional
    rising : Swings, optional
        In the rise.
    fall : Fall
    falling : Swings, optional
        From the greatest swing on.
    width : float
        Half-power width of the peak over its frequency [1].
    looks : float
        How often the record shows the envelope afresh.
    harmonics : tuple of float
        Amplitudes at twice and three times the frequency over the one at it [1].
    small : SmallMotion, optional
        Where two displacements allow it.
    gaussian : float, optional
        Chance that a simple shaken structure shows such an envelope.
    true_time : bool
        Whether a second here is a true one; else it is one of the file.
    """

    clock: Clock
    flaws: Flaws
    tracks: Tracks
    start: float
    length: float
    quantities: tuple[str, ...]
    best: int
    noise: Array
    levels: Array
    frequency: float
    cycles: float
    swing: Complex
    envelope: EnvelopeFacts
    rise: Stretch | None
    rising: Swings | None
    fall: Fall
    falling: Swings | None
    width: float
    looks: float
    harmonics: tuple[float, float]
    small: SmallMotion | None
    gaussian: float | None
    true_time: bool = True

    @property
    def level(self) -> float:
        """Loudest half second over the noise, of the best channel."""
        return float(self.levels[self.best])

    @property
    def scaled(self) -> Array:
        """Channels as recorded, drift left in, in units of their noise."""
        raw = self.tracks.values if self.tracks.raw is None else self.tracks.raw
        return raw / self.noise[:, None]


def facts_of(recording: Recording) -> Facts:
    """Measure a recording that :mod:`hingeline.motion.checks` has let pass."""
    times, values = arrays_of(recording)
    clock, flaws = clock_of(times, values), flaws_of(values)
    quantities, values, flaws = one_direction(recording, values, flaws)
    near = together(times)
    times, values = times[near], values[:, near]
    tracks = _even(times, values, clock)
    frequency, noise = _first_look(tracks)
    if clock.longest_gap > 0.25 / frequency and not clock.regular:
        tracks = _even(*longest_piece(times, values, max(0.25 / frequency, 2.5 / clock.rate)), clock)
        frequency, noise = _first_look(tracks)
    found = _measured(clock, flaws, tracks, quantities, frequency, noise)
    return replace(found, true_time=recording.time_scale.true_over_file is not None)


def _even(times: Array, values: Array, clock: Clock) -> Tracks:
    tracks = on_an_even_clock(times, values, clock)
    lowest = spectrum.slowest_told(max(tracks.length, 1.0 / clock.rate))
    return Tracks(tracks.rate, tracks.start, without_drift(tracks.values, tracks.rate, lowest), tracks.values)


def _first_look(tracks: Tracks) -> tuple[float, Array]:
    """Give the dominant frequency and the noise of each channel.

    A short event drowns in the average over a long record: where the loudest part stands out of the noise much
    further than the whole, its frequency counts.
    """
    frequencies, power = spectrum.power_spectrum(tracks.values, tracks.rate)
    noise = spectrum.noise_level(frequencies, power, tracks.rate)
    noise = np.maximum(noise, 1e-6 * tracks.values.std(axis=1) + 1e-300)
    best = int(np.argmax(loudest(tracks.values, tracks.rate) / noise))
    lowest, highest = spectrum.slowest_told(tracks.length), 0.49 * tracks.rate
    found = spectrum.peak_frequency(frequencies, power[best], lowest, highest)
    part = _loud_part(tracks.values, tracks.rate)
    parts, loud = spectrum.power_spectrum(part, tracks.rate, segments=1)
    if loud[best, parts >= lowest].max() > LOUDER * power[best, frequencies >= lowest].max():
        found = spectrum.peak_frequency(parts, loud[best], lowest, highest)
    return found, noise


def _loud_part(values: Array, rate: float) -> Array:
    """Give the part of so many seconds that holds the most power over the noise of the channels together."""
    span = min(values.shape[1], int(LOUD_PART * rate))
    power = (values**2 / values.var(axis=1, keepdims=True).clip(1e-300)).sum(axis=0)
    sums = np.cumsum(np.concatenate([[0.0], power]))
    start = int(np.argmax(sums[span:] - sums[:-span]))
    return values[:, start : start + span]


def loudest(values: Array, rate: float) -> Array:
    """Give the root mean square of the loudest half second of each channel."""
    span = max(2, min(values.shape[1], int(0.5 * rate)))
    sums = np.cumsum(np.pad(values**2, ((0, 0), (1, 0))), axis=1)
    return np.asarray(np.sqrt(((sums[:, span:] - sums[:, :-span]) / span).max(axis=1)))


def _measured(
    clock: Clock, flaws: Flaws, tracks: Tracks, quantities: tuple[str, ...], frequency: float, noise: Array
) -> Facts:
    values, rate = tracks.values, tracks.rate
    levels = loudest(values, rate) / noise
    best = int(np.argmax(levels))
    swing = analytic_band(values, rate, frequency)
    floor = FLOOR * noise[best] * np.sqrt(min(1.0, 0.6 * frequency / (rate / 2.0)))
    rise = rise_in(swing[best], rate, frequency, floor)
    fall = fall_in(values[best], swing[best], rate, frequency, float(noise[best]), floor)
    frequencies, power = spectrum.power_spectrum(values, rate)
    width = spectrum.half_power_width(frequencies, power[best], frequency)
    facts = envelope_facts(swing[best], rate, frequency)
    return Facts(
        clock=clock, flaws=flaws, tracks=tracks, start=tracks.start, length=tracks.length, quantities=quantities,
        best=best, noise=noise, levels=levels, frequency=frequency, cycles=frequency * tracks.length, swing=swing,
        envelope=facts, rise=rise, rising=_swings(values / noise[:, None], rate, frequency, rise),
        fall=fall, falling=_after_the_peak(values / noise[:, None], rate, frequency, fall),
        width=width, looks=_looks(frequency, width, tracks.length),
        harmonics=spectrum.harmonics(values[best], rate, frequency),
        small=_small(tracks, quantities, levels, frequency, flaws),
        gaussian=_gaussian(values, rate, frequency, quantities, best),
    )  # fmt: skip


def _swings(scaled: Array, rate: float, frequency: float, stretch: Stretch | None) -> Swings | None:
    if stretch is None or stretch.stop - stretch.start < 12:
        return None
    return swings_in(scaled[:, stretch.start : stretch.stop], rate, frequency)


def _after_the_peak(scaled: Array, rate: float, frequency: float, fall: Fall) -> Swings | None:
    stop = min(scaled.shape[1], fall.stop + int(rate / frequency))
    if stop - fall.peak < 16:
        return None
    return swings_in(scaled[:, fall.peak : stop], rate, frequency)


def _looks(frequency: float, width: float, length: float) -> float:
    """Count independent looks with the damping that the width of the peak reads, at most 0.1."""
    return independent_looks(min(0.1, max(width / 2.0, 0.0)), frequency, length)


def angle_channel(quantities: tuple[str, ...]) -> int | None:
    """Give the channel whose stiffness may bend: the control's angle before pitch."""
    for quantity in ("surface", "pitch"):
        if quantity in quantities:
            return quantities.index(quantity)
    return None


def _small(
    tracks: Tracks, quantities: tuple[str, ...], levels: Array, frequency: float, flaws: Flaws
) -> SmallMotion | None:
    angle = angle_channel(quantities)
    others = [index for index, each in enumerate(quantities) if each in DISPLACEMENTS and index != angle]
    enough = (
        tracks.length >= BEND_LEAST_LENGTH
        and frequency * tracks.length >= BEND_LEAST_CYCLES
        and tracks.rate >= BEND_LEAST_SAMPLES * frequency
    )
    if angle is None or not others or not enough or flaws.flat_tops:
        return None
    pair = [others[0], angle]
    if levels[pair].min() < BEND_LEAST_LEVEL:
        return None
    return small_motion(tracks.values[pair], tracks.rate, frequency)


def _gaussian(values: Array, rate: float, frequency: float, quantities: tuple[str, ...], best: int) -> float | None:
    channel = angle_channel(quantities)
    if frequency * values.shape[1] / rate < 20.0:
        return None
    return chance_of_gaussian(values[best if channel is None else channel], rate, frequency)


def strongest(facts: Facts, swings: Swings | None) -> int | None:
    """Give the index of the main swing of a set."""
    return None if swings is None else main_swing(swings, facts.frequency)
