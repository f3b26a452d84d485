"""What a picture of a recording shows: the swing with its envelope, and one motion against the other."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hingeline.motion import spectrum
from hingeline.motion.checks import refuse_unusable
from hingeline.motion.facts import Facts, angle_channel, facts_of
from hingeline.motion.growth import smooth_envelope
from hingeline.motion.model import UNITS, Recording
from hingeline.motion.solve import spoken_of

Array = NDArray[np.float64]

MOST_DRAWN = 3000
MOST_SHOWN = 4.0
"""Times the peak, up to where a spectrum is shown."""
WINDOW_WIDTH = 1.44
"""Half-power width of a Hann window of one second [Hz]; worked out from the window."""


@dataclass(frozen=True, slots=True)
class Trace:
    """The best channel of a recording over time, drift taken out.

    Parameters
    ----------
    quantity, unit : str
        Of the channel.
    times, values : tuple of float
        [s], in ``unit``; thinned for drawing.
    envelope : tuple of float
        At the same times, of the band about the frequency.
    start, stop : float
        The stretch that the numbers come from [s].
    line : tuple of float
        Envelope by the growth rate over the stretch, at its start and its end; empty where there is none.
    portrait : tuple of (float, float)
        Plunge [m] against the angle [rad] over the stretch; empty where there are not both.
    orbit : tuple of (float, float)
        The best channel over the stretch, near the frequency, against how fast it moves: both in ``unit``, the
        speed divided by the angular frequency, so that a steady swing is a circle.
    spectrum : tuple of (float, float)
        Frequency [Hz], of the file where its scale is unknown, and power over that of the peak [1]: segments of a
        quarter of the record.
    peak : float
        Frequency of the peak [Hz].
    half_power : (float, float)
        Where the power has fallen to a half on either side of it [Hz].
    resolution : float
        Two peaks nearer than this are one [Hz].
    """

    quantity: str
    unit: str
    times: tuple[float, ...]
    values: tuple[float, ...]
    envelope: tuple[float, ...]
    start: float
    stop: float
    line: tuple[float, ...]
    portrait: tuple[tuple[float, float], ...]
    orbit: tuple[tuple[float, float], ...]
    spectrum: tuple[tuple[float, float], ...]
    peak: float
    half_power: tuple[float, float]
    resolution: float


def trace_of(recording: Recording) -> Trace:
    """Give what a picture of a recording shows.

    Parameters
    ----------
    recording : Recording

    Returns
    -------
    Trace
        Of its best channel.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the recording.

    Examples
    --------
    >>> import numpy as np
    >>> from hingeline.motion import recording_of, trace_of
    >>> times = np.arange(1200) / 120.0
    >>> swing = 0.01 * np.exp(-0.6 * times) * np.cos(2.0 * np.pi * 4.0 * times)
    >>> noise = 1e-4 * np.random.default_rng(1).standard_normal(1200)
    >>> trace = trace_of(recording_of(times, {"plunge": swing + noise}))
    >>> trace.quantity, trace.unit, round(trace.peak)
    ('plunge', 'm', 4)
    """
    refuse_unusable(recording)
    facts = facts_of(recording)
    _verdict, start, stop, estimates = spoken_of(facts)
    rate, values = facts.tracks.rate, facts.tracks.values[facts.best]
    envelope = smooth_envelope(facts.swing[facts.best], rate, facts.frequency)
    stride = max(1, len(values) // MOST_DRAWN)
    growth = estimates.growth_rate
    frequencies, power = spectrum.power_spectrum(facts.tracks.values[[facts.best]], rate)
    return Trace(
        quantity=facts.quantities[facts.best],
        unit=UNITS[facts.quantities[facts.best]],
        times=tuple((facts.start + np.arange(0, len(values), stride) / rate).tolist()),
        values=tuple(values[::stride].tolist()),
        envelope=tuple(envelope[::stride].tolist()),
        start=facts.start + start / rate,
        stop=facts.start + (stop - 1) / rate,
        line=() if growth is None else _line(envelope[start:stop], rate, growth.value),
        portrait=_portrait(facts, start, stop),
        orbit=_orbit(facts, start, stop),
        spectrum=_over_the_peak(frequencies, power[0], facts.frequency),
        peak=facts.frequency,
        half_power=spectrum.half_power_ends(frequencies, power[0], facts.frequency),
        resolution=WINDOW_WIDTH * spectrum.SEGMENTS_A_RECORD / facts.length,
    )


def _over_the_peak(frequencies: Array, power: Array, peak: float) -> tuple[tuple[float, float], ...]:
    """Give the spectrum up to a few times the peak, in parts of the power there."""
    shown = frequencies <= MOST_SHOWN * peak
    highest = float(power[int(np.argmin(abs(frequencies - peak)))]) or 1.0
    stride = max(1, int(shown.sum()) // MOST_DRAWN)
    pairs = zip(frequencies[shown][::stride], power[shown][::stride] / highest, strict=True)
    return tuple((float(frequency), float(part)) for frequency, part in pairs)


def _line(envelope: Array, rate: float, growth: float) -> tuple[float, float]:
    """Lay the exponential of a growth rate through the envelope, by the mean of the logarithms."""
    times = np.arange(len(envelope)) / rate
    level = float(np.mean(np.log(np.maximum(envelope, 1e-300)) - growth * times))
    return float(np.exp(level)), float(np.exp(level + growth * times[-1]))


def _portrait(facts: Facts, start: int, stop: int) -> tuple[tuple[float, float], ...]:
    angle = angle_channel(facts.quantities)
    if angle is None or "plunge" not in facts.quantities:
        return ()
    pair = facts.swing[[facts.quantities.index("plunge"), angle], start:stop].real
    stride = max(1, pair.shape[1] // MOST_DRAWN)
    return tuple((float(one), float(other)) for one, other in pair[:, ::stride].T)


def _orbit(facts: Facts, start: int, stop: int) -> tuple[tuple[float, float], ...]:
    """Give place and speed of the best channel: the speed of A cos(wt) is -A w sin(wt)."""
    swing = facts.swing[facts.best, start:stop]
    stride = max(1, len(swing) // MOST_DRAWN)
    return tuple((float(each.real), float(-each.imag)) for each in swing[::stride])
