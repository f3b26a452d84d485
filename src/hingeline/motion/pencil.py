"""Which damped swings add up to this motion? Poles by the matrix pencil, all channels sharing them."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

Array = NDArray[np.float64]
Complex = NDArray[np.complex128]

LONGEST = 240
"""Samples that a pencil is made from; a longer stretch is thinned out first."""
LARGEST_ORDER = 12
KEPT_FROM = 0.01
"""Singular values are kept from this part of the largest."""


@dataclass(frozen=True, slots=True)
class Swings:
    """Damped swings that together make a motion.

    Parameters
    ----------
    poles : complex array, shape (m,)
        σ + i w, upper half plane and real ones [1/s].
    energies : array, shape (m,)
        Part of the energy of all swings that each has [1].
    explained : float
        Part of the motion's energy, the noise's left out, that they make together [1].
    last : array, shape (m,)
        Amplitude at the end of the stretch, of the channel where it is largest, in that channel's noise.
    greatest : float
        Greatest sample of the stretch, in its channel's noise.
    """

    poles: Complex
    energies: Array
    explained: float
    last: Array
    greatest: float

    @property
    def frequencies(self) -> Array:
        """Damped frequencies [Hz]."""
        return np.asarray(self.poles.imag / (2.0 * np.pi))

    @property
    def damping_ratios(self) -> Array:
        """-Re s/|s| [1]."""
        return np.asarray(-self.poles.real / np.maximum(abs(self.poles), 1e-12))


def thinned(values: Array, rate: float, frequency: float, a_cycle: float = 12.0) -> tuple[Array, float]:
    """Keep every n-th sample, about ``a_cycle`` in a cycle, after taking out what would fold back."""
    stride = max(1, int(rate / (a_cycle * frequency)))
    if stride == 1:
        return values, rate
    count, over = values.shape[-1], min(values.shape[-1] - 1, 8 * stride)
    left, right = values[..., over:0:-1], values[..., -2 : -over - 2 : -1]
    left, right = 2.0 * values[..., :1] - left, 2.0 * values[..., -1:] - right
    whole = np.concatenate([left, values, right], axis=-1)
    frequencies = np.fft.rfftfreq(whole.shape[-1], 1.0)
    part = np.clip((frequencies * 2.0 * stride - 0.7) / 0.3, 0.0, 1.0)
    smooth = np.fft.irfft(np.fft.rfft(whole, axis=-1) * (0.5 + 0.5 * np.cos(np.pi * part)), whole.shape[-1], axis=-1)
    return np.asarray(smooth[..., over : over + count : stride]), rate / stride


def swings_in(values: Array, rate: float, frequency: float, order: int = LARGEST_ORDER) -> Swings:
    """Find the damped swings in a stretch.

    Parameters
    ----------
    values : array, shape (channels, n)
        Each in units of its noise, so that channels weigh alike.
    rate : float
        [1/s]
    frequency : float
        About which the motion swings; says how far it may be thinned out [Hz].
    order : int
        Poles at most.

    Returns
    -------
    Swings

    Notes
    -----
    Two Hankel matrices one sample apart, cut to their largest singular values; poles z = eig(Y₀⁺ Y₁),
    s = ln(z) × rate (Hua and Sarkar 1990, from memory). Exact without noise. Under random forcing the poles
    describe the draw, not the system.
    """
    samples = values.shape[1]
    values, rate = thinned(values, rate, frequency)
    # Smoothing before thinning leaves that part of the noise's power, which is 1 for each sample.
    noise = values.size * values.shape[1] / samples
    if values.shape[1] > LONGEST:
        noise *= LONGEST / values.shape[1]
        values = values[:, :LONGEST]
    count = values.shape[1]
    width = count // 3
    rows = [values[:, start : start + width + 1] for start in range(count - width)]
    hankel = np.concatenate(rows, axis=0)
    _, sizes, right = np.linalg.svd(hankel, full_matrices=False)
    keep = max(2, min(order, int((sizes > KEPT_FROM * sizes[0]).sum())))
    basis = right[:keep].T
    moved = np.linalg.lstsq(basis[:-1], basis[1:], rcond=None)[0]
    roots = np.linalg.eigvals(moved)
    poles = np.log(np.where(abs(roots) > 1e-6, roots, 1e-6).astype(complex)) * rate
    return _weighed(values, rate, poles[poles.imag > -1e-9], noise)


def _weighed(values: Array, rate: float, poles: Complex, noise: float) -> Swings:
    """Find how much of the motion each pole makes, by least squares."""
    times = np.arange(values.shape[1]) / rate
    length = times[-1]
    # A swing that grows is counted back from its end, so that no column overflows.
    shifted = np.where(poles.real > 0.0, length, 0.0)
    shapes = np.exp(np.clip(poles.real[:, None] * (times[None, :] - shifted[:, None]), -700.0, 0.0) + 0j)
    shapes = shapes * np.exp(1j * poles.imag[:, None] * times[None, :])
    columns = np.concatenate([shapes.real, shapes.imag, np.ones((1, len(times)))]).T
    sizes = np.linalg.lstsq(columns, values.T, rcond=1e-9)[0]
    half = len(poles)
    energies, last = np.zeros(half), np.zeros(half)
    for index in range(half):
        part = columns[:, [index, half + index]] @ sizes[[index, half + index]]
        energies[index] = float((part**2).sum())
        size = np.hypot(sizes[index], sizes[half + index]).max()
        last[index] = size * abs(shapes[index, -1])
    left = float(((values.T - columns @ sizes) ** 2).sum())
    power = float(((values - values.mean(axis=1, keepdims=True)) ** 2).sum())
    total = energies.sum()
    explained = 1.0 - max(0.0, left - noise) / (power - noise) if power > noise else 0.0
    return Swings(poles, energies / total if total > 0.0 else energies, explained, last, float(abs(values).max()))


def main_swing(swings: Swings, frequency: float, within: float = 0.35) -> int | None:
    """Give the index of the strongest swing near a frequency; None where there is none."""
    near = abs(swings.frequencies / frequency - 1.0) < within
    if not near.any():
        return None
    return int(np.argmax(np.where(near, swings.energies, -1.0)))
