"""A set of points that was moved: by how much it was turned, stretched and shifted, and what noise makes of it.

A place is one complex number, z = x + i y with y down, so that a positive angle turns clockwise as seen.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Places = NDArray[np.complex128]
Reals = NDArray[np.float64]


def similarity(before: Places, seen: Places) -> tuple[Places, Places]:
    """Fit a turn, a stretch and a shift to points: z = a w + b, least squares.

    Parameters
    ----------
    before : array, shape (marks,)
        Where the points stood, w [pixel].
    seen : array, shape (marks, times)
        Where they are seen, z [pixel]; NaN where a point was lost.

    Returns
    -------
    (a, b) : arrays, shape (times,)
        ``a`` turns and stretches, ``b`` shifts [pixel]. One point seen: a = 1. None seen: NaN.

    Notes
    -----
    a = Σ conj(w − w̄)(z − z̄) / Σ |w − w̄|², b = z̄ − a w̄: the normal equations of a complex straight line;
    the two-dimensional case of Umeyama (1991), from memory, without its test for a mirror image.
    """
    there = ~np.isnan(seen.real)
    number = there.sum(axis=0)
    with np.errstate(invalid="ignore", divide="ignore"):
        middle_before = np.where(there, before[:, None], 0.0).sum(axis=0) / number
        middle_seen = np.where(there, seen, 0.0).sum(axis=0) / number
        arms = np.where(there, before[:, None] - middle_before, 0.0)
        moved = np.where(there, seen - middle_seen, 0.0)
        a = (arms.conj() * moved).sum(axis=0) / (np.abs(arms) ** 2).sum(axis=0)
    a = np.where(number == 1, 1.0 + 0.0j, a)
    return a, middle_seen - a * middle_before


def rigid(before: Places, seen: Places) -> tuple[Places, Places]:
    """Fit a turn and a shift without a stretch: z = a w + b with |a| = 1.

    Parameters
    ----------
    before, seen : arrays
        As in :func:`similarity`.

    Returns
    -------
    (a, b) : arrays, shape (times,)

    Notes
    -----
    The least-squares turn has the angle of the least-squares similarity: the sum that is made largest,
    Re(conj(a) Σ conj(w − w̄)(z − z̄)), takes the angle of the sum itself.
    """
    a, b = similarity(before, seen)
    with np.errstate(invalid="ignore", divide="ignore"):
        turn = a / np.abs(a)
    there = ~np.isnan(seen.real)
    with np.errstate(invalid="ignore", divide="ignore"):
        middle = np.where(there, before[:, None], 0.0).sum(axis=0) / there.sum(axis=0)
    return turn, b + (a - turn) * middle


def left_over(before: Places, seen: Places) -> Places:
    """Give what a turn and a shift leave of the motion of points [pixel], shape (marks, times)."""
    a, b = rigid(before, seen)
    return np.asarray(seen - (a * before[:, None] + b))


def noise_of_rigid(before: Places, seen: Places) -> float:
    """Estimate the noise of places on a body that keeps its shape.

    Parameters
    ----------
    before, seen : arrays
        As in :func:`similarity`, two points or more.

    Returns
    -------
    float
        Standard deviation in each direction [pixel]; NaN where too few pictures show all points.

    Notes
    -----
    With k points, 2k numbers are measured in each picture and 3 are fitted: s² = mean Σ|r|² / (2k − 3).
    What does not change from picture to picture is taken out first: it comes from the reference picture.
    """
    rest = left_over(before, seen)
    rest = rest[:, ~np.isnan(rest).any(axis=0)]
    if rest.shape[1] < 4:
        return float("nan")
    rest = rest - rest.mean(axis=1, keepdims=True)
    return float(np.sqrt((np.abs(rest) ** 2).sum(axis=0).mean() / (2 * len(before) - 3)))


def noise_of_pair(first: Places, second: Places) -> float:
    """Estimate the noise of two places from the third differences of their distance.

    Parameters
    ----------
    first, second : arrays, shape (times,)
        Two points that keep their distance, but for a camera that breathes slowly [pixel].

    Returns
    -------
    float
        Standard deviation of one place in one direction [pixel]; NaN where too few pictures show both.

    Notes
    -----
    The distance has the noise of two places along it: its variance is twice that of one.
    """
    bent = np.diff(np.abs(first - second), 3)
    bent = bent[~np.isnan(bent)]
    if len(bent) < 4:
        return float("nan")
    return float(np.median(np.abs(bent)) / 0.6745 / np.sqrt(40.0))


def noise_of_single(seen: Places) -> float:
    """Estimate the noise of one place from its third differences: an upper bound, for motion adds to it.

    Parameters
    ----------
    seen : array, shape (times,)
        [pixel]

    Returns
    -------
    float
        Standard deviation in each direction [pixel]; NaN where too few pictures show it.

    Notes
    -----
    The third difference of white noise has 1 + 9 + 9 + 1 = 20 times its variance; the median of the absolute
    value is 0.6745 standard deviations.
    """
    bent = np.diff(seen, 3)
    bent = bent[~np.isnan(bent)]
    if len(bent) < 4:
        return float("nan")
    return float(np.median(np.abs(np.concatenate([bent.real, bent.imag]))) / 0.6745 / np.sqrt(20.0))


def noise_of_turn(before: Places, noise: float) -> float:
    """Give the standard uncertainty of the turn of points [rad]: s / sqrt(Σ |w − w̄|²).

    For two points a distance d apart this is √2 s / d.
    """
    return noise / float(np.sqrt((np.abs(before - before.mean()) ** 2).sum()))


def noise_of_place(before: Places, noise: float, point: complex) -> float:
    """Give the standard uncertainty, in each direction, of a point carried by the points [pixel].

    s sqrt(1/k + |p − w̄|² / Σ |w − w̄|²); one point alone carries only itself.
    """
    lever = 0.0 if len(before) == 1 else abs(point - before.mean()) * noise_of_turn(before, noise)
    return float(np.hypot(noise / np.sqrt(len(before)), lever))
