"""The camera's own motion, taken out by marks on something that does not move."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from hingeline.motion.marks.equations import Places, similarity


@dataclass(frozen=True, slots=True)
class Shake:
    """How much the camera moved.

    Parameters
    ----------
    marks : int
        How many still marks told it.
    pixels : float
        Root mean square of the shift of the picture's middle [pixel].
    angle : float
        Root mean square of the turn [rad]; 0 with one mark, which cannot tell.
    """

    marks: int = 0
    pixels: float = 0.0
    angle: float = 0.0


def steadied(places: Places, still_before: Places, still: Places, middle: complex) -> tuple[Places, Shake]:
    """Bring places to where a camera that does not move would have seen them.

    Parameters
    ----------
    places : array, shape (marks, times)
        [pixel]
    still_before, still : arrays, shapes (still marks,) and (still marks, times)
        Marks that do not move, in the reference picture and in all; none: nothing is taken out.
    middle : complex
        Of the picture [pixel].

    Returns
    -------
    (array, Shake)
        NaN where fewer still marks were seen than tell the motion.
    """
    if not len(still_before):
        return places, Shake()
    a, b = similarity(still_before, still)
    enough = (~np.isnan(still)).sum(axis=0) >= min(len(still_before), 2)
    a = np.where(enough, a, np.nan)
    shift = a * middle + b - middle
    shake = Shake(
        len(still_before),
        float(np.sqrt(np.nanmean(np.abs(shift - np.nanmean(shift)) ** 2))) if enough.any() else 0.0,
        float(np.nanstd(np.angle(a))) if enough.any() else 0.0,
    )
    with np.errstate(invalid="ignore"):
        return np.asarray((places - b) / a), shake
