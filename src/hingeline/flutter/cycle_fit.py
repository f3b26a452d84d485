"""What a marched motion turned into: it dies out, cycles, wanders, or grows."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

import numpy as np

from hingeline.flutter.marching import March
from hingeline.flutter.system import Array, ComplexArray

HARMONICS = 15
DIED_OUT = 0.05
"""Half-gaps: a swing that is less, or that has fallen by a tenth within the stretch looked at, dies out."""
STILL_CHANGING = 0.1
NOT_PERIODIC = 0.02
"""Of the root mean square: what fifteen harmonics of one frequency leave over in a cycle is less."""


@dataclass(frozen=True, slots=True)
class Motion:
    """The last third of a run.

    Parameters
    ----------
    outcome : {"cycle", "dies out", "not periodic", "grows"}
    peak : float
        Largest |θ| [half-gaps].
    angular_frequency : float
        Of the strongest component [rad/s]; 0 where it dies out.
    coefficients : array (15,)
        Of θ = Re Σ c_k exp(i k ω t), k = 1 … 15 [half-gaps].
    leftover : float
        Root mean square not explained by them, over the whole [1].
    """

    outcome: Literal["cycle", "dies out", "not periodic", "grows"]
    peak: float
    angular_frequency: float
    coefficients: ComplexArray
    leftover: float


def motion_of(run: March) -> Motion:
    """Say what a run turned into.

    Parameters
    ----------
    run : March

    Returns
    -------
    Motion
    """
    nothing = np.zeros(HARMONICS, dtype=np.complex128)
    peak = float(np.abs(run.angles).max())
    if run.left or not np.isfinite(peak):
        return Motion("grows", float("inf"), 0.0, nothing, 0.0)
    first, last = (float(np.ptp(part)) / 2 for part in np.array_split(run.angles, 4)[::3])
    if last < DIED_OUT or (last < (1 - STILL_CHANGING) * first and last < 1.0):
        return Motion("dies out", peak, 0.0, nothing, 0.0)
    frequency = strongest(run.angles, run.step)
    coefficients, leftover = harmonics_at(run.angles, run.step, frequency)
    if leftover > NOT_PERIODIC:
        return Motion("grows" if last > 1.5 * first else "not periodic", peak, frequency, coefficients, leftover)
    return Motion("cycle", peak, frequency, coefficients, leftover)


def strongest(angles: Array, step: float) -> float:
    """Find the angular frequency of the strongest component [rad/s].

    By the highest bin of the spectrum, then by the phase that it gains from the first half to the second.
    """
    window = np.hanning(len(angles))
    spectrum = np.abs(np.fft.rfft((angles - angles.mean()) * window))
    frequency = 2 * np.pi * float(spectrum.argmax()) / (len(angles) * step)
    half = len(angles) // 2
    taper = np.hanning(half)
    for _ in range(6):
        turning = np.exp(-1j * frequency * step * np.arange(half)) * taper
        early, late = angles[:half] @ turning, angles[half : 2 * half] @ turning
        gained = np.angle(late / early * np.exp(-1j * frequency * step * half))
        frequency += float(gained) / (half * step)
    return frequency


def harmonics_at(angles: Array, step: float, frequency: float) -> tuple[ComplexArray, float]:
    """Fit a mean and fifteen harmonics of one frequency by least squares; give them, and what is left over."""
    turning = np.exp(1j * frequency * step * np.outer(np.arange(len(angles)), np.arange(1, HARMONICS + 1)))
    columns = np.hstack([np.ones((len(angles), 1)), turning.real, -turning.imag])
    found, *_ = np.linalg.lstsq(columns, angles, rcond=None)
    left = angles - columns @ found
    coefficients = found[1 : HARMONICS + 1] + 1j * found[HARMONICS + 1 :]
    return coefficients, float(np.sqrt(np.mean(left**2)) / np.std(angles))
