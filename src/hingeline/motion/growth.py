"""Does the swing grow at a constant rate, or fall from a knock? The envelope read in its logarithm."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

LEAST_RISE, LEAST_CYCLES, STRAIGHT = 12.0, 3.0, 0.90
"""What a growth must have: decibels, cycles, R² of the line."""
DECIBEL = 20.0 / np.log(10.0)
FAINT = 10.0 ** (-30.0 / 20.0)
EVEN_TAIL, STILL_FALLING, END_CYCLES = 0.15, 0.75, 3.0
"""Variation of an even swing [1]; fall from half to half that counts as falling [dB]; cycles left out at the end."""
TRIED = 14
"""Starts that are tried between the noise and the peak."""


@dataclass(frozen=True, slots=True)
class Stretch:
    """A part of the record over which the envelope rises or falls along a line in its logarithm.

    Parameters
    ----------
    start, stop : int
        Samples.
    cycles : float
    change : float
        Over the stretch, along the line; positive rises [dB].
    straightness : float
        R² of the line [1].
    rate : float
        Slope of the logarithm of the envelope [1/s].
    drift : float
        Change of the frequency from the first half of the stretch to the second, each weighted by the power of
        the swing, as a part of it [1].
    before : float
        Largest envelope before the stretch, over the one at its end [1]; 0 where nothing is before.
    """

    start: int
    stop: int
    cycles: float
    change: float
    straightness: float
    rate: float
    drift: float
    before: float


def smooth_envelope(swing: Complex, rate: float, frequency: float) -> Array:
    """Give the envelope, averaged over one cycle."""
    width = max(1, round(rate / frequency))
    sums = np.cumsum(np.concatenate([[0.0], abs(swing)]))
    centre = np.arange(len(swing))
    low, high = np.maximum(centre - width // 2, 0), np.minimum(centre + (width + 1) // 2, len(swing))
    return np.asarray((sums[high] - sums[low]) / (high - low))


def rise_in(swing: Complex, rate: float, frequency: float, floor: float) -> Stretch | None:
    """Find the largest straight rise towards the peak of the envelope; None where there is none.

    Parameters
    ----------
    swing : complex array
        Analytic signal of the band.
    rate, frequency : float
        [1/s], [Hz]
    floor : float
        Envelope below which noise is read, in the unit of the swing.
    """
    envelope = smooth_envelope(swing, rate, frequency)
    edge = int(0.5 * rate / frequency)
    inner = envelope[edge : len(envelope) - edge]
    if len(inner) < LEAST_CYCLES * rate / frequency:
        return None
    peak = int(np.argmax(inner)) + edge
    above = envelope[: peak + 1] > floor
    first = peak if not above[-1] else peak - int(np.argmin(above[::-1])) + 1 if not above.all() else edge
    best: Stretch | None = None
    for part in (1.0, 0.9, 0.7, 0.5):
        late = np.flatnonzero(envelope[first : peak + 1] >= part * envelope[peak])
        stop = first + int(late[0]) + 1 if len(late) else peak + 1
        least = int(LEAST_CYCLES * rate / frequency)
        if stop - first <= least:
            continue
        for start in np.linspace(first, stop - least - 1, TRIED).astype(int):
            found = stretch_of(swing, envelope, rate, int(start), stop)
            good = found.change > LEAST_RISE and found.straightness > STRAIGHT and found.cycles >= LEAST_CYCLES
            if good and (best is None or _worth(found) > _worth(best)):
                best = found
    return best


def _worth(stretch: Stretch) -> float:
    """Prefer a long rise, and a straight one: decibels less the part that the line does not explain."""
    return stretch.change * (1.0 - 4.0 * (1.0 - stretch.straightness))


def stretch_of(swing: Complex, envelope: Array, rate: float, start: int, stop: int) -> Stretch:
    """Describe a stretch of the envelope."""
    times = np.arange(stop - start) / rate
    logarithm = np.log(np.maximum(envelope[start:stop], 1e-300))
    slope, level = np.polyfit(times, logarithm, 1) if len(times) > 2 else (0.0, float(logarithm.mean()))
    scatter, spread = float(((logarithm - level - slope * times) ** 2).sum()), float(logarithm.var() * len(times))
    mean, drift = _turning(swing[start:stop], rate)
    edge = envelope[: max(0, start)]
    return Stretch(
        start, stop, abs(mean) * len(times) / rate, float(slope * (times[-1] if len(times) else 0.0) * DECIBEL),
        1.0 - scatter / spread if spread > 0.0 else 0.0, float(slope), drift,
        float(edge.max() / max(envelope[stop - 1], 1e-300)) if len(edge) else 0.0,
    )  # fmt: skip


def _turning(swing: Complex, rate: float) -> tuple[float, float]:
    """Give the mean frequency [Hz] and how it changes from one half to the other, as a part of it."""
    product = swing[1:] * swing[:-1].conj()
    if len(product) < 4 or not abs(product).any():
        return 0.0, 1.0
    half = len(product) // 2
    one, other, mean = (
        float(np.angle(part.sum()) * rate / (2.0 * np.pi)) for part in (product[:half], product[half:], product)
    )
    return mean, abs(other - one) / mean if mean > 0.0 else 1.0


@dataclass(frozen=True, slots=True)
class Fall:
    """How the motion starts and how it ends.

    Parameters
    ----------
    peak : int
        Sample of the greatest swing.
    stop : int
        Where the swing has fallen into the noise, or the record ends.
    fit_stop : int
        Where it has fallen into the noise or by 30 dB: what remains is shaken on by the air as a rule.
    before : float
        Largest swing more than a cycle before the peak, over the peak [1]; 0 where nothing is before.
    fall : float
        From the peak to the end of the record [dB].
    quarters : float
        Last quarter under the first, counted from the peak [dB].
    goes_on : bool
        The last quarter of the record holds an even swing above the noise that no longer falls.
    line : Stretch, optional
        The fall as a line; None where it is too short.
    """

    peak: int
    stop: int
    fit_stop: int
    before: float
    fall: float
    quarters: float
    goes_on: bool
    line: Stretch | None


def fall_in(raw: Array, swing: Complex, rate: float, frequency: float, noise: float, floor: float) -> Fall:
    """Describe the fall from the greatest swing: the start in the unfiltered samples, which no filter smears.

    Parameters
    ----------
    raw : array
        Samples of the channel, drift taken out.
    swing : complex array
        Its analytic signal in the band.
    rate, frequency : float
    noise : float
        Standard deviation of the samples' noise.
    floor : float
        Envelope below which noise is read.
    """
    cycle = rate / frequency
    envelope = smooth_envelope(swing, rate, frequency)
    peak = int(np.argmax(abs(raw)))
    early = abs(raw[: max(0, int(peak - cycle))])
    before = max(0.0, float(early.max()) - 3.0 * noise) / abs(raw[peak]) if len(early) else 0.0
    begin = min(peak + int(0.5 * cycle), len(raw) - 2)
    under = np.flatnonzero(envelope[begin:] < floor)
    stop = begin + int(under[0]) if len(under) else len(raw)
    tail = envelope[begin:]
    faint = np.flatnonzero(tail < max(floor, FAINT * float(tail.max())))
    fit_stop = begin + int(faint[0]) if len(faint) else len(raw)
    quarter = max(1, len(tail) // 4)
    ends = tail[-quarter:].mean()
    fall = 20.0 * np.log10(max(tail[: max(1, int(cycle))].max(), 1e-300) / max(ends, 1e-300))
    quarters = 20.0 * np.log10(max(tail[:quarter].mean(), 1e-300) / max(ends, 1e-300))
    line = stretch_of(swing, envelope, rate, begin, fit_stop) if fit_stop - begin > 2 * cycle else None
    return Fall(peak, stop, fit_stop, before, float(fall), float(quarters), _goes_on(swing, cycle, floor), line)


def _goes_on(swing: Complex, cycle: float, floor: float) -> bool:
    """Tell whether the last quarter, its last three cycles left out, holds an even swing that no longer falls."""
    size = abs(swing[: max(2, int(len(swing) - END_CYCLES * cycle))])
    tail = size[-max(4, len(size) // 4) :]
    one, other = tail[: len(tail) // 2].mean(), tail[len(tail) // 2 :].mean()
    falls = 20.0 * np.log10(max(one, 1e-300) / max(other, 1e-300))
    return bool(tail.mean() > floor and tail.std() < EVEN_TAIL * tail.mean() and falls < STILL_FALLING)
