"""Steady tones at the true times: which sines make a record whose samples are uneven, without resampling it."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from hingeline.errors import InputRefused

Array = NDArray[np.float64]

STEPS, SMALLEST_STEP = 60, 1e-13
# Beyond these a product of a time, a frequency and a sample has no end.
LATEST, LARGEST, FASTEST = 1e12, 1e30, 1e9


@dataclass(frozen=True, slots=True)
class Tones:
    """Steady tones fitted to samples at any times.

    Parameters
    ----------
    frequencies : array, shape (m,)
        Of the tones, in the order of the first guess [Hz].
    level : float
        Of all, in the unit of the samples.
    cosines, sines : array, shape (m,)
        Sizes of cos 2π f t and sin 2π f t, in the unit of the samples.
    squares : float
        Sum of the squares that are left.
    deviation : float
        Standard deviation of what is left, by its degrees of freedom.
    uncertainties : array, shape (m,)
        Standard uncertainty of each frequency, of white noise; 0 where it was held [Hz].
    """

    frequencies: Array
    level: float
    cosines: Array
    sines: Array
    squares: float
    deviation: float
    uncertainties: Array


def fit_tones(times: ArrayLike, values: ArrayLike, frequencies: ArrayLike, held: int = 0) -> Tones:
    """Fit a level and steady tones by least squares, at the times as they are.

    Parameters
    ----------
    times : array, shape (n,)
        In any order and at any steps [s].
    values : array, shape (n,)
    frequencies : array, shape (m,)
        First guess: within about one over the record's length of the truth [Hz].
    held : int
        So many of the first frequencies stay as they are.

    Returns
    -------
    Tones

    Raises
    ------
    InputRefused
        The arrays are no rows of finite numbers, do not go together, or hold fewer samples than a fit has unknowns.

    Notes
    -----
    Level, cosines and sines are linear and eliminated (variable projection, Golub and Pereyra 1973, in Kaufman's
    short form, from memory); frequencies by Levenberg's damped Gauss and Newton steps. White noise is assumed: where
    the rest is coloured the uncertainties are too small.

    Examples
    --------
    >>> import numpy as np
    >>> from hingeline.motion import fit_tones
    >>> uneven = np.cumsum(1.0 + 0.3 * np.sin(np.arange(60.0) ** 2)) / 20.0
    >>> tones = fit_tones(uneven, 2.0 + np.sin(2.0 * np.pi * 3.1 * uneven), [3.0])
    >>> round(float(tones.frequencies[0]), 9), round(tones.level, 9)
    (3.1, 2.0)
    """
    moments, samples = _row("times", times, LATEST), _row("values", values, LARGEST)
    found = _row("frequencies", frequencies, FASTEST).copy()
    _refuse_too_few(moments, samples, found, held)
    left, slopes, sizes = _linear_part(moments, samples, found)
    damping = 1e-3
    for _ in range(STEPS if len(found) > held else 0):
        free = slopes[:, held:]
        normal = free.T @ free
        step = np.linalg.lstsq(normal + damping * np.diag(np.diag(normal)), -free.T @ left, rcond=None)[0]
        tried = found + np.concatenate([np.zeros(held), step])
        trial = _linear_part(moments, samples, tried)
        small = bool(np.all(abs(step) <= SMALLEST_STEP * abs(found[held:])))
        if float(trial[0] @ trial[0]) <= float(left @ left):
            found, (left, slopes, sizes), damping = tried, trial, damping / 10.0
        else:
            damping *= 10.0
        if small or damping > 1e12:
            break
    return _tones(found, left, slopes, sizes, held)


def _row(name: str, values: ArrayLike, most: float) -> Array:
    """Read a row of finite numbers."""
    row = np.asarray(values, dtype=float)
    if row.ndim != 1 or not bool(np.all(np.abs(row) <= most)):
        shown = f"{row.ndim} dimensions" if row.ndim != 1 else "a number beyond that, or none"
        raise InputRefused.of(name, shown, f"one row of numbers up to {most:g}", "Leave out what is no sample.")
    return row


def _refuse_too_few(times: Array, values: Array, frequencies: Array, held: int) -> None:
    if len(times) != len(values):
        raise InputRefused.of("values", f"{len(values)} samples", f"{len(times)}, one at each time", "Give both alike.")
    unknowns = 1 + 3 * len(frequencies) - held
    if not 0 <= held <= len(frequencies):
        raise InputRefused.of("held", held, f"a whole number from 0 to {len(frequencies)}", "Hold what is there.")
    if len(times) < unknowns:
        expected = f"{unknowns} or more, as many as are unknown"
        raise InputRefused.of("times", f"{len(times)} samples", expected, "Ask for fewer tones.")


def _tones(found: Array, left: Array, slopes: Array, sizes: Array, held: int) -> Tones:
    count, squares = len(found), float(left @ left)
    deviation = float(np.sqrt(squares / max(1, len(left) - 1 - 3 * count + held)))
    uncertain = np.zeros(count)
    if count > held:
        free = slopes[:, held:]
        uncertain[held:] = deviation * np.sqrt(np.diag(np.linalg.pinv(free.T @ free, hermitian=True)))
    return Tones(found, float(sizes[0]), sizes[1 : count + 1], sizes[count + 1 :], squares, deviation, uncertain)


def _linear_part(times: Array, values: Array, frequencies: Array) -> tuple[Array, Array, Array]:
    """Give what is left, its slopes with the frequencies, and the linear sizes."""
    turns = 2.0 * np.pi * times[:, None] * frequencies[None, :]
    cosines, sines, count = np.cos(turns), np.sin(turns), len(frequencies)
    columns = np.concatenate([np.ones((len(times), 1)), cosines, sines], axis=1)
    basis, triangle = np.linalg.qr(columns)
    sizes = np.linalg.lstsq(triangle, basis.T @ values, rcond=None)[0]
    left = values - columns @ sizes
    moved = 2.0 * np.pi * times[:, None] * (sizes[count + 1 :] * cosines - sizes[1 : count + 1] * sines)
    return left, -(moved - basis @ (basis.T @ moved)), sizes
