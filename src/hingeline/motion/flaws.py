"""What is wrong with the samples themselves? Clipping, repeated values, directions of a sensor."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from hingeline.motion.model import Recording

Array = NDArray[np.float64]

RUN = 3
"""So many samples at one extreme value in a row are a flat top."""
CLIPPED_FROM = 0.005
REPEATED_FROM, LEAST_IN_ONE_DIRECTION = 0.05, 0.80
"""Beyond these it is said in words."""


@dataclass(frozen=True, slots=True)
class Flaws:
    """Flaws of the samples.

    Parameters
    ----------
    clipped : float
        Part of the samples that stand at the highest value, or at the lowest: the larger of the two [1].
    flat_tops : bool
        Three or more samples in a row stand at one extreme, or more than 0.5 % in all, on a scale fine enough
        for that to tell something: more than 50 different values.
    repeated : float
        Part of the samples that repeat the one before [1].
    one_direction : float
        Part of the motion that the main direction of a sensor holds [1]; 1 where there is one channel.
    """

    clipped: float
    flat_tops: bool
    repeated: float
    one_direction: float = 1.0


def flaws_of(values: Array) -> Flaws:
    """Look for flaws in raw channels; the worst channel counts."""
    found = [_of_channel(channel[np.isfinite(channel)]) for channel in values]
    return Flaws(max(each[0] for each in found), any(each[1] for each in found), max(each[2] for each in found))


def _of_channel(channel: Array) -> tuple[float, bool, float]:
    steps = abs(np.diff(channel))
    moving = steps[steps > 0.0]
    if not len(moving):
        return 0.0, False, 1.0
    repeated = float((steps == 0.0).mean())
    # A coarse scale repeats values everywhere; a rail does it only at the extremes.
    at_rail = [(channel >= channel.max()), (channel <= channel.min())]
    runs = max(_longest_run(rail) for rail in at_rail)
    clipped = max(float(rail.mean()) for rail in at_rail)
    fine = len(np.unique(channel)) > 50
    flat = fine and (runs >= RUN or clipped > CLIPPED_FROM) and clipped > 2.0 / len(channel)
    return clipped, bool(flat), repeated


def _longest_run(rail: NDArray[np.bool_]) -> int:
    edges = np.diff(np.concatenate([[0], rail.astype(int), [0]]))
    starts, stops = np.flatnonzero(edges == 1), np.flatnonzero(edges == -1)
    return int((stops - starts).max()) if len(starts) else 0


def one_direction(recording: Recording, values: Array, flaws: Flaws) -> tuple[tuple[str, ...], Array, Flaws]:
    """Turn the accelerations of a sensor into one along their main direction; other channels stay.

    The direction is the largest eigenvector of the covariance. Gravity is a level and falls out with it.
    """
    quantities = [channel.quantity for channel in recording.channels]
    sensed = [index for index, quantity in enumerate(quantities) if quantity == "acceleration"]
    if len(sensed) < 2:
        return tuple(quantities), values, flaws
    several = values[sensed]
    level = several - np.nanmean(several, axis=1, keepdims=True)
    known = np.isfinite(level).all(axis=0)
    sizes, directions = np.linalg.eigh(np.cov(level[:, known]))
    along = directions[:, -1] * np.sign(directions[np.argmax(abs(directions[:, -1])), -1])
    others = [index for index in range(len(quantities)) if index not in sensed]
    kept = np.concatenate([values[others], (along @ level)[None, :]])
    share = float(sizes[-1] / sizes.sum()) if sizes.sum() > 0.0 else 1.0
    named = (*(quantities[index] for index in others), "acceleration")
    return named, kept, replace(flaws, one_direction=share)
