"""A window of a picture around a place, kept inside the picture."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

Picture = NDArray[np.uint8]
Place = tuple[float, float]


def window(picture: Picture, place: Place, half: int) -> tuple[Picture, int, int] | None:
    """Give the square window around a place and its left and upper edge; None where it leaves the picture."""
    left, top = int(place[0] + 0.5) - half, int(place[1] + 0.5) - half
    right, bottom = left + 2 * half + 1, top + 2 * half + 1
    if left < 0 or top < 0 or right > picture.shape[1] or bottom > picture.shape[0]:
        return None
    return picture[top:bottom, left:right], left, top


def cut(picture: Picture, left: float, top: float, right: float, bottom: float) -> tuple[Picture, int, int]:
    """Give the part of a rectangle that lies in the picture, and its left and upper edge."""
    x, y = max(int(left), 0), max(int(top), 0)
    return picture[y : max(int(bottom) + 1, y), x : max(int(right) + 1, x)], x, y
