"""Are two rendered pictures alike? A line that moved by two pixels is not; the softness of an edge is.

How a browser and a font smooth an edge differs by fractions of a pixel from one machine to the next. Both pictures
are made soft first, so that such fractions stay small; then the patch of 16 by 16 pixels is found where most differs.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

import numpy as np
from PIL import Image, ImageFilter

# Of full scale, in one place; and of the places of the worst patch. Each bound is tried by a test of its own.
STEP, PATCH, MOST = 0.22, 16, 0.06


def alike(one: bytes, other: bytes) -> bool:
    """Whether two pictures show the same."""
    return worst_patch(one, other) <= MOST


def worst_patch(one: bytes, other: bytes) -> float:
    """Give the share of places that differ in the worst patch; 1 where the pictures are not of one size."""
    first, second = softened(one), softened(other)
    if first.shape != second.shape:
        return 1.0
    differs = np.abs(first - second) > STEP
    down, across = (-each % PATCH for each in differs.shape)
    tiles = np.pad(differs, ((0, down), (0, across)))
    shares = tiles.reshape(tiles.shape[0] // PATCH, PATCH, -1, PATCH).mean(axis=(1, 3))
    return float(shares.max())


def softened(picture: bytes) -> np.ndarray[Any, np.dtype[np.float64]]:
    """Give a picture as lightness from 0 to 1, each place the mean of what is around it."""
    with Image.open(BytesIO(picture)) as seen:
        return np.asarray(seen.convert("L").filter(ImageFilter.GaussianBlur(1.2)), dtype=np.float64) / 255.0
