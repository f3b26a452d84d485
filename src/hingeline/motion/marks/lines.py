"""A shutter that reads line after line takes low marks later than high ones: set right, or bounded."""

from __future__ import annotations

import numpy as np

from hingeline.motion.marks.equations import Places, Reals


def lateness(places: Places, readout: float, rows: float, turn: int) -> Reals:
    """Give how much later than the middle of its picture each place was taken.

    Parameters
    ----------
    places : array, shape (marks, times)
        As shown [pixel].
    readout : float
        From the first line to the last [s].
    rows : float
        Lines of the picture as stored.
    turn : int
        Degrees by which it is turned before it is shown, anticlockwise.

    Returns
    -------
    array, shape (marks, times)
        [s]
    """
    along = {0: places.imag, 90: places.real, 180: rows - 1.0 - places.imag, 270: rows - 1.0 - places.real}[turn]
    return np.asarray((along / rows - 0.5) * readout)


def at_one_time(times: Reals, places: Places, late: Reals) -> Places:
    """Bring places that were taken late to the times of their pictures.

    Parameters
    ----------
    times : array, shape (times,)
        [s]
    places : array, shape (marks, times)
        [pixel]; NaN where lost, and there it stays.
    late : array, shape (marks, times)
        [s]

    Returns
    -------
    array, shape (marks, times)

    Notes
    -----
    A cubic spline through the places at the times at which they were really taken.
    """
    from scipy.interpolate import CubicSpline

    brought = places.copy()
    for track, moved in zip(brought, late, strict=True):
        there = ~np.isnan(track)
        taken = (times + moved)[there]
        if len(taken) < 4 or np.any(np.diff(taken) <= 0.0):
            continue
        through = CubicSpline(taken, np.stack([track[there].real, track[there].imag], axis=1))(times[there])
        track[there] = through[:, 0] + 1j * through[:, 1]
    return brought
