"""What are frequency and damping, and how sure is it? Damped swings fitted to the samples by least squares."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

STEPS = 40
SMALLEST_STEP = 1e-6
NARROW, BINS = 0.12, 2.5
"""Where the residual is looked at: so near the frequency, or so many bins of the stretch."""


@dataclass(frozen=True, slots=True)
class DampedFit:
    """Damped swings fitted to a stretch, with the covariance of their poles.

    Parameters
    ----------
    poles : complex array, shape (m,)
        σ + i w [1/s].
    covariance : array, shape (2 m, 2 m)
        Of (σ₁, w₁, σ₂, w₂, …) [1/s²].
    explained : float
        Part of the energy of the stretch.
    left : float
        Variance of the residual, in units of the samples' noise [1].
    settled : bool
        Whether the fit came to rest.
    """

    poles: Complex
    covariance: Array
    explained: float
    left: float
    settled: bool

    @property
    def usable(self) -> bool:
        """Whether it came to rest with uncertainties that exist."""
        sizes = np.diag(self.covariance)
        return self.settled and bool(np.isfinite(self.covariance).all() and (sizes > 0.0).all())

    def frequency(self, index: int) -> tuple[float, float]:
        """Give the damped frequency and its standard uncertainty [Hz]."""
        return (
            float(self.poles[index].imag / (2.0 * np.pi)),
            float(np.sqrt(self.covariance[2 * index + 1, 2 * index + 1]) / (2.0 * np.pi)),
        )

    def growth_rate(self, index: int) -> tuple[float, float]:
        """Give σ and its standard uncertainty [1/s]."""
        return float(self.poles[index].real), float(np.sqrt(self.covariance[2 * index, 2 * index]))

    def damping_ratio(self, index: int) -> tuple[float, float]:
        """Give -σ/|s| and its standard uncertainty [1]."""
        pole, part = self.poles[index], self.covariance[2 * index : 2 * index + 2, 2 * index : 2 * index + 2]
        size = abs(pole)
        slope = np.array([-(pole.imag**2), pole.real * pole.imag]) / size**3
        return float(-pole.real / size), float(np.sqrt(slope @ part @ slope))


def fit_damped(values: Array, rate: float, poles: Complex) -> DampedFit:
    """Fit damped swings, starting at ``poles``, and say how sure they are.

    Parameters
    ----------
    values : array, shape (channels, n)
        Each in units of its noise.
    rate : float
        [1/s]
    poles : complex array
        First guess, upper half plane [1/s].

    Notes
    -----
    Amplitudes, phases, a level and a slope of each channel are linear and eliminated (variable projection, Golub and
    Pereyra 1973, in Kaufman's short form, from memory); poles by Gauss and Newton. The covariance is that of least
    squares, times the power of the residual about the swing over its mean power, because a residual that is not
    white (air, a mount) has more of it there.
    """
    times = np.arange(values.shape[1]) / rate
    guess, best = poles.copy(), np.inf
    settled, damping = False, 1e-3
    left, jacobian = _linear_part(values, times, guess)
    best = float((left**2).sum())
    for _ in range(STEPS):
        normal = jacobian.T @ jacobian
        step = np.linalg.lstsq(normal + damping * np.diag(np.diag(normal)), -jacobian.T @ left, rcond=None)[0]
        tried = guess + step[0::2] + 1j * step[1::2]
        trial, trial_jacobian = _linear_part(values, times, tried)
        now = float((trial**2).sum())
        if now < best:
            small = np.all(abs(step) < SMALLEST_STEP * np.repeat(abs(guess), 2))
            settled = bool(small or best - now < 1e-9 * best)
            guess, left, jacobian, best, damping = tried, trial, trial_jacobian, now, damping / 10.0
        else:
            settled, damping = damping > 1e3, damping * 10.0
        if settled:
            break
    return _with_covariance(values, rate, guess, left, jacobian, settled)


def _columns(times: Array, poles: Complex) -> tuple[Array, Complex]:
    shifted = np.where(poles.real > 0.0, times[-1], 0.0)
    exponent = np.clip(poles.real[None, :] * (times[:, None] - shifted[None, :]), -700.0, 50.0)
    shapes = np.exp(exponent) * np.exp(1j * poles.imag[None, :] * times[:, None])
    return np.concatenate([shapes.real, shapes.imag, _slow(times)], axis=1), shapes


def _slow(times: Array) -> Array:
    """Give the columns of a level and a slope, which take up the drift of a short stretch."""
    return np.stack([np.ones(len(times)), times / max(times[-1], 1e-300) - 0.5], axis=1)


def _linear_part(values: Array, times: Array, poles: Complex) -> tuple[Array, Array]:
    """Give the residual and its slope with (σ₁, w₁, …), both with the linear part taken out, channel after channel."""
    columns, shapes = _columns(times, poles)
    basis, _ = np.linalg.qr(columns)
    sizes = np.linalg.lstsq(columns, values.T, rcond=1e-10)[0]
    left = values.T - columns @ sizes
    count, slopes = len(poles), []
    for index in range(count):
        moved = times * shapes[:, index]
        real, imaginary = sizes[index], sizes[count + index]
        by_growth = np.outer(moved.real, real) + np.outer(moved.imag, imaginary)
        by_turning = np.outer(-moved.imag, real) + np.outer(moved.real, imaginary)
        slopes += [-(part - basis @ (basis.T @ part)).T.ravel() for part in (by_growth, by_turning)]
    return left.T.ravel(), np.array(slopes).T


def _with_covariance(
    values: Array, rate: float, poles: Complex, left: Array, jacobian: Array, settled: bool
) -> DampedFit:
    channels, count = values.shape
    residual = left.reshape(channels, count)
    free = max(1, left.size - 2 * len(poles) - channels * (2 * len(poles) + 2))
    variance = float((left**2).sum()) / free
    colour = max(1.0, _colour(residual, rate, float(poles[0].imag / (2.0 * np.pi))))
    covariance = np.linalg.pinv(jacobian.T @ jacobian, hermitian=True) * variance * colour
    power = float(((values - values.mean(axis=1, keepdims=True)) ** 2).sum())
    explained = 1.0 - float((left**2).sum()) / power if power > 0.0 else 0.0
    return DampedFit(poles, covariance, explained, variance, settled)


def _colour(residual: Array, rate: float, frequency: float) -> float:
    """Give the power of the residual about a frequency over its mean power, of the channels together."""
    frequencies = np.fft.rfftfreq(residual.shape[1], 1.0 / rate)
    power = (abs(np.fft.rfft(residual, axis=1)) ** 2).sum(axis=0)
    bins = frequencies[1] if len(frequencies) > 1 else frequency
    near = abs(frequencies - frequency) < max(NARROW * frequency, BINS * bins)
    if near.sum() < 3 or power[1:].mean() <= 0.0:
        return 1.0
    return float(power[near].mean() / power[1:].mean())
