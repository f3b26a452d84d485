"""How sure are frequency, damping and growth? Two ways to each, and an interval where its coverage was tried.

Decays and growths: damped swings fitted to the samples, beside the line through the logarithm of the envelope.
Steady tones: the line through the phase, whose scatter is part noise and part wandering, beside the spectrum's
peak. Of a motion that a random force keeps up no interval is given: its damping would describe the draw.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.damped_fit import DampedFit, fit_damped
from hingeline.motion.equations import damping_of
from hingeline.motion.facts import Facts
from hingeline.motion.pencil import Swings

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

NORMAL_95 = 1.959964
KEPT_ENERGY, MOST_SWINGS, LEAST_SAMPLES = 0.005, 3, 16
OF_A_DECAY, OF_A_PUSHED_DECAY, OF_A_GROWTH, OF_A_TONE = 1.2, 2.4, 1.7, 1.15
"""Widening of the intervals, chosen by simulation: a growing swing is pushed on by the air as it grows."""
PUSHED_ON = 1.5
"""Variance of the residual over the noise's, from which something pushes the motion on while it decays."""
LEFT_OFF = 0.25
"""Part of a stretch that is left off at either end to see whether the answer stays."""


@dataclass(frozen=True, slots=True)
class Estimate:
    """A number by two ways, with the interval of the first at 95 %; None where none can be stated.

    Parameters
    ----------
    value : float
    low, high : float, optional
    second : float, optional
        By the second way.
    """

    value: float
    low: float | None = None
    high: float | None = None
    second: float | None = None


@dataclass(frozen=True, slots=True)
class Estimates:
    """What a stretch says in numbers.

    Parameters
    ----------
    frequency : Estimate
        Damped [Hz].
    damping_ratio, growth_rate : Estimate, optional
        [1], [1/s]
    modes : tuple of (Estimate, Estimate)
        Frequency and damping ratio of every swing that was fitted, strongest first.
    ran_away : bool
        Whether damped swings were fitted and came to rest where none are: beyond the clock, at a frequency whose
        interval holds nought, or on the other side of nought than what was seen.
    """

    frequency: Estimate
    damping_ratio: Estimate | None = None
    growth_rate: Estimate | None = None
    modes: tuple[tuple[Estimate, Estimate], ...] = ()
    ran_away: bool = False


def of_damped_swings(
    facts: Facts, swings: Swings, start: int, stop: int, line_rate: float | None, *, grows: bool = False
) -> Estimates:
    """Fit damped swings to a stretch and give the main one; where the fit ran away, the frequency alone.

    Parameters
    ----------
    facts : Facts
    swings : Swings
        First guess.
    start, stop : int
        Samples of the stretch.
    line_rate : float, optional
        Slope of the logarithm of the envelope, the second way [1/s].
    grows : bool
        Whether a growth was seen, or a decay: which side of nought the rate is on, and how far intervals are widened.
    """
    poles = first_guess(facts, swings)
    values = facts.scaled[:, start:stop]
    if not len(poles) or values.shape[1] < LEAST_SAMPLES + 6 * len(poles):
        return Estimates(Estimate(facts.frequency))
    rate = facts.tracks.rate
    fit = fit_damped(values, rate, poles)
    if not fit.usable:
        return Estimates(Estimate(facts.frequency))
    shorter = [fit_damped(part, rate, fit.poles) for part in _shortened(values)]
    widening = OF_A_GROWTH if grows else OF_A_DECAY
    if fit.left > PUSHED_ON:
        widening = max(widening, OF_A_PUSHED_DECAY)
    second = None if line_rate is None else damping_of(-line_rate / facts.frequency)
    frequency, damping, growth = (
        _widened(read(fit, 0), [read(each, _nearest(each, fit)) for each in shorter if each.usable], widening)
        for read in (_frequency, _damping, _growth)
    )
    if _is_nowhere(*frequency, rate / 2.0) or _contradicts(growth[0], grows=grows):
        return Estimates(Estimate(facts.frequency), ran_away=True)
    return Estimates(
        _interval(*frequency, facts.frequency),
        _interval(*damping, second),
        _interval(*growth, line_rate),
        _modes(fit, rate / 2.0),
    )


def _is_nowhere(frequency: float, uncertainty: float, highest: float) -> bool:
    """Whether a frequency lies beyond the clock, or the samples tell none: its interval holds nought."""
    return not 0.0 < frequency < highest or NORMAL_95 * uncertainty >= frequency


def _contradicts(growth_rate: float, *, grows: bool) -> bool:
    """Whether a rate lies on the other side of nought than what was seen.

    Also where its interval is narrow: a burst of one sample is fitted surely, and says nothing of the motion.
    """
    return growth_rate <= 0.0 if grows else growth_rate >= 0.0


def _frequency(fit: DampedFit, index: int) -> tuple[float, float]:
    return fit.frequency(index)


def _damping(fit: DampedFit, index: int) -> tuple[float, float]:
    return fit.damping_ratio(index)


def _growth(fit: DampedFit, index: int) -> tuple[float, float]:
    return fit.growth_rate(index)


def _nearest(fit: DampedFit, whole: DampedFit) -> int:
    """Give the swing of a shorter stretch that is the main one of the whole: two may change places."""
    return int(np.argmin(abs(fit.poles - whole.poles[0])))


def _shortened(values: Array) -> list[Array]:
    """Give the stretch without its first part, and without its last."""
    cut = int(LEFT_OFF * values.shape[1])
    return [values[:, cut:], values[:, :-cut]]


def _widened(whole: tuple[float, float], shorter: list[tuple[float, float]], by: float) -> tuple[float, float]:
    """Widen a standard uncertainty by what shorter stretches differ more than their own scatter explains.

    Where the swings fit, the difference has the variance u_short² - u_whole²; what is beyond that tells of air
    that lags, of gusts, of a stiffness that bends: of what the swings leave out.
    """
    value, uncertainty = whole
    beyond = [(each - value) ** 2 - max(0.0, other**2 - uncertainty**2) for each, other in shorter]
    return value, by * float(np.sqrt(uncertainty**2 + max(0.0, *beyond, 0.0)))


def first_guess(facts: Facts, swings: Swings, kept: float = KEPT_ENERGY) -> Complex:
    """Give the poles worth fitting: swinging ones that hold energy, the main one first."""
    swinging = (swings.frequencies > 0.3 * facts.frequency) & (abs(swings.damping_ratios) < 0.6)
    worth = np.flatnonzero(swinging & (swings.energies > kept))
    near = abs(swings.frequencies[worth] / facts.frequency - 1.0) < 0.35
    order = np.lexsort((-swings.energies[worth], ~near))
    return np.asarray(swings.poles[worth[order]][:MOST_SWINGS])


def _interval(value: float, uncertainty: float, second: float | None) -> Estimate:
    half = NORMAL_95 * uncertainty
    return Estimate(value, value - half, value + half, second)


def _modes(fit: DampedFit, highest: float) -> tuple[tuple[Estimate, Estimate], ...]:
    return tuple(
        (_interval(*fit.frequency(index), None), _interval(*fit.damping_ratio(index), None))
        for index in range(len(fit.poles))
        if 0.0 < fit.frequency(index)[0] < highest
    )


def of_a_tone(facts: Facts) -> Estimates:
    """Give the frequency of a steady tone from the line through its phase.

    The phase is taken once a cycle. Its steps D(m) over m cycles have mean square 2 s² + q m: s the noise of a
    reading, q the wandering. Of n readings the slope has the variance 12 s²/n³ + 6 q/(5 n) a cycle².
    """
    swing, rate = facts.swing[facts.best], facts.tracks.rate
    cycle = rate / facts.frequency
    edges = np.arange(cycle, len(swing) - cycle, cycle)
    if len(edges) < 6:
        return Estimates(Estimate(facts.frequency))
    turn = np.exp(-2j * np.pi * facts.frequency * np.arange(len(swing)) / rate)
    sums = np.concatenate([[0.0], np.cumsum(swing * turn)])
    phase = np.unwrap(np.angle(np.diff(sums[edges.astype(int)])))
    slope, spread = phase_line(phase)
    per_cycle = facts.frequency / (2.0 * np.pi)
    value = facts.frequency + slope * per_cycle
    return Estimates(_interval(value, OF_A_TONE * spread * per_cycle, facts.frequency))


def phase_line(phase: Array) -> tuple[float, float]:
    """Give the slope of a phase taken once a cycle and its standard uncertainty [rad/cycle]."""
    count = len(phase)
    position = np.arange(count) - (count - 1) / 2.0
    slope = float(position @ phase / (position**2).sum())
    left = phase - phase.mean() - slope * position
    lags = np.arange(1, max(3, count // 3))
    steps = np.array([np.mean((left[lag:] - left[:-lag]) ** 2) for lag in lags])
    weights = (count - lags) / lags
    columns = np.stack([np.full(len(lags), 2.0), lags.astype(float)], axis=1)
    noise, wander = np.linalg.lstsq(columns * weights[:, None], steps * weights, rcond=None)[0]
    noise, wander = max(0.0, float(noise)), max(0.0, float(wander))
    if noise == 0.0:
        wander = float(steps[0])
    if wander == 0.0:
        noise = float(left @ left / max(1, count - 2))
    return slope, float(np.sqrt(12.0 * noise / count**3 + 1.2 * wander / count))


def of_the_record(facts: Facts) -> Estimates:
    """Give the frequency of the peak, with no interval: another draw of the same force gives another."""
    return Estimates(Estimate(facts.frequency))
