"""The formulas of a recording: one function, one equation, one source.

ζ is a damping ratio, positive when the motion dies out; f a frequency [Hz]; w = 2 π f.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike

RAYLEIGH_VARIATION = math.sqrt(4.0 / math.pi - 1.0)
"""Standard deviation over mean of the envelope of narrow-band Gaussian motion (Rice 1944, from memory) [1]."""


def decrement_of(damping_ratio: float) -> float:
    """Give the logarithmic decrement of one cycle, δ = 2 π ζ/√(1 - ζ²) [1].

    Parameters
    ----------
    damping_ratio : float
        Between -1 and 1.

    Notes
    -----
    Textbook closed form, read in two public pages. Valid for one mode alone: two close modes beat, and a
    decrement then means nothing.

    Examples
    --------
    >>> round(decrement_of(0.05), 10)
    0.3145527023
    """
    return 2.0 * math.pi * damping_ratio / math.sqrt(1.0 - damping_ratio**2)


def damping_of(decrement: float) -> float:
    """Give the damping ratio of a logarithmic decrement, ζ = δ/√(4 π² + δ²) [1].

    Examples
    --------
    >>> round(damping_of(0.1), 9)
    0.015913479
    """
    return decrement / math.sqrt(4.0 * math.pi**2 + decrement**2)


def decrement_over(ratio: float, cycles: float) -> float:
    """Give the decrement where after so many cycles the amplitude is ``ratio`` of the first, -ln(ratio)/n [1].

    Examples
    --------
    >>> round(decrement_over(0.13, 100), 10)
    0.0204022083
    """
    return -math.log(ratio) / cycles


def growth_a_cycle(damping_ratio: float) -> float:
    """Give the factor by which the amplitude changes in one cycle, exp(-δ) [1].

    Examples
    --------
    >>> round(growth_a_cycle(-0.02), 10)
    1.1339292872
    """
    return math.exp(-decrement_of(damping_ratio))


def cycles_to_double(damping_ratio: float) -> float:
    """Give the cycles in which a growing amplitude doubles, ln 2/(-δ) [1].

    Examples
    --------
    >>> round(cycles_to_double(-0.02), 10)
    5.5147867155
    """
    return math.log(2.0) / -decrement_of(damping_ratio)


def half_power_ratios(damping_ratio: float) -> tuple[float, float]:
    """Give the two frequencies, over the natural one, at which the displacement has half its greatest power.

    r² = 1 - 2 ζ² ∓ 2 ζ √(1 - ζ²) (closed form). Their difference is 2 ζ for small ζ.

    Examples
    --------
    >>> [round(ratio, 10) for ratio in half_power_ratios(0.02)]
    [0.9793916483, 1.0194076708]
    """
    middle, half = 1.0 - 2.0 * damping_ratio**2, 2.0 * damping_ratio * math.sqrt(1.0 - damping_ratio**2)
    return math.sqrt(middle - half), math.sqrt(middle + half)


def damping_by_half_power(low: float, high: float, natural: float) -> float:
    """Give ζ ≈ (f₂ - f₁)/(2 fₙ) from the two half-power frequencies [1]; for small ζ.

    Examples
    --------
    >>> damping_by_half_power(98.0, 102.0, 100.0)
    0.02
    """
    return (high - low) / (2.0 * natural)


def noise_bandwidth(damping_ratio: float) -> float:
    """Give the equivalent noise bandwidth of a displacement resonance over its frequency, π ζ [1].

    ∫|H|² df = π fₙ ζ |H(fₙ)|² (textbook, from memory).

    Examples
    --------
    >>> round(noise_bandwidth(0.02), 8)
    0.06283185
    """
    return math.pi * damping_ratio


def independent_looks(damping_ratio: float, frequency: float, length: float) -> float:
    """Give how often a record shows the envelope afresh, n = 2 π ζ f T: twice the noise bandwidth times its length.

    Examples
    --------
    >>> round(independent_looks(0.02, 5.0, 25.0), 3)
    15.708
    """
    return 2.0 * noise_bandwidth(damping_ratio) * frequency * length


def best_damping_accuracy(damping_ratio: float, frequency: float, length: float) -> float:
    """Give the least standard deviation of ζ from a randomly shaken record, √(ζ/(2 π f T)) [1].

    Own derivation from the asymptotic covariance of a second-order autoregression.

    Examples
    --------
    >>> round(best_damping_accuracy(0.02, 5.0, 25.0), 6)
    0.005046
    """
    return math.sqrt(damping_ratio / (2.0 * math.pi * frequency * length))


def memory_of_a_mode(damping_ratio: float, cycles: float = 10.0) -> float:
    """Give the autocorrelation of a mode shaken by white noise after so many cycles, exp(-δ n) [1].

    Examples
    --------
    >>> round(memory_of_a_mode(0.02), 10)
    0.2845380007
    """
    return math.exp(-decrement_of(damping_ratio) * cycles)


def serial_correlation(values: ArrayLike, lag: int = 1) -> float:
    """Give the autocorrelation about the mean at a lag, Σ(xᵢ - m)(xᵢ₊ₗ - m)/Σ(xᵢ - m)² [1]; 0 where nothing varies.

    Source: NIST/SEMATECH e-Handbook of Statistical Methods, 1.3.5.12, as its certified values are defined.

    Examples
    --------
    >>> serial_correlation([1.0, -1.0, 1.0, -1.0])
    -0.75
    """
    level = np.asarray(values, dtype=float)
    level = level - level.mean()
    power = float(level @ level)
    return float(level[:-lag] @ level[lag:]) / power if power > 0.0 else 0.0


def excess_kurtosis(values: ArrayLike) -> float:
    """Give m₄/m₂² - 3 about the mean: a sine -1.5, Gaussian 0, below about -1.55 clipped [1].

    Examples
    --------
    >>> round(excess_kurtosis(np.sin(np.linspace(0.0, 2.0 * np.pi, 1000, endpoint=False))), 9)
    -1.5
    """
    level = np.asarray(values, dtype=float)
    level = level - level.mean()
    power = float(np.mean(level**2))
    return float(np.mean(level**4)) / power**2 - 3.0 if power > 0.0 else 0.0


def coherence_floor(segments: int, probability: float = 0.95) -> float:
    """Give the coherence that two unrelated channels stay under with a probability, 1 - (1 - p)^(1/(n - 1)) [1].

    Bendat and Piersol, from memory; their mean is 1/n.

    Examples
    --------
    >>> round(coherence_floor(8), 10)
    0.3481636551
    """
    return 1.0 - (1.0 - probability) ** (1.0 / (segments - 1)) if segments > 1 else 1.0


def alias_of(frequency: float, rate: float) -> float:
    """Give the frequency at which a faster motion appears, |f - r round(f/r)| [Hz].

    Examples
    --------
    >>> alias_of(28.0, 30.0)
    2.0
    """
    return abs(frequency - rate * round(frequency / rate))


def seen_through_shutter(frequency: float, exposure: float) -> float:
    """Give the part of an amplitude that an open shutter leaves, sin(π f e)/(π f e) [1].

    Examples
    --------
    >>> round(seen_through_shutter(20.0, 1.0 / 60.0), 10)
    0.8269933431
    """
    return float(np.sinc(frequency * exposure))


def skewed_phase(frequency: float, skew: float) -> float:
    """Give the phase that two marks taken apart in time are wrong by, 2 π f t [rad].

    Examples
    --------
    >>> round(math.degrees(skewed_phase(5.0, 0.020 * 200 / 1080)), 6)
    6.666667
    """
    return 2.0 * math.pi * frequency * skew


def angle_noise(separation: float, centroid_noise: float) -> float:
    """Give the standard deviation of the angle of a line through two marks, √2 s/d [rad].

    Examples
    --------
    >>> round(math.degrees(angle_noise(60.0, 0.02)), 10)
    0.0270094895
    """
    return math.sqrt(2.0) * centroid_noise / separation


def acceleration_of(amplitude: float, frequency: float) -> float:
    """Give the acceleration of a swing, w² a [m/s²].

    Examples
    --------
    >>> round(acceleration_of(0.010, 5.0), 6)
    9.869604
    """
    return (2.0 * math.pi * frequency) ** 2 * amplitude
