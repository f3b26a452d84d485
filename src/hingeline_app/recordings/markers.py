"""A printed marker that says its own number: found by its pattern, placed where its diagonals cross.

Looked for only around its last place; the window grows while it is lost, up to the whole picture.
"""

from __future__ import annotations

from functools import cache
from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hingeline_app.recordings.windows import Picture, Place, cut

SMALLEST = 16.0
MARGIN = 0.55
"""Of the marker's side, around it: its white border, and how far it may get between two pictures."""
GROWS = 1.6
ANYWHERE, AROUND = 0.01, 0.5
HALVED = 48.0
"""From this side on, the pattern is looked for in a picture of half the size; its corners are not."""
Corners = NDArray[np.float64]


@cache
def finder(smallest: float) -> cv2.aruco.ArucoDetector:
    """Make a finder of the 4 by 4 patterns, of which there are fifty.

    Parameters
    ----------
    smallest : float
        Perimeter of the smallest square that is looked at, over the longer side of the picture. Around the last
        place the marker fills a good part of the window, and nothing smaller is worth the time.
    """
    settings = cv2.aruco.DetectorParameters()
    settings.cornerRefinementMethod = cv2.aruco.CORNER_REFINE_NONE
    settings.adaptiveThreshWinSizeMin = settings.adaptiveThreshWinSizeMax = 23 if smallest == ANYWHERE else 13
    settings.minMarkerPerimeterRate = smallest
    return cv2.aruco.ArucoDetector(cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50), settings)


class Marker:
    """One marker, by its number."""

    def __init__(self, number: int) -> None:
        self.number = number
        self.corners: Corners | None = None
        self.speed, self.missed, self.size = np.zeros(2), 0, 0.0
        self.contrast = self.noise = 0.0

    def begin(self, picture: Picture) -> str | None:
        """Find it in the whole first picture; give what is wrong, or None."""
        found = _found(self.number, picture, 0, 0, finder(ANYWHERE))
        if len(found) != 1:
            if not found:
                return f"no marker of number {self.number}"
            return f"{len(found)} markers of number {self.number}"
        self._take(found[0])
        if self.size < SMALLEST:
            return f"a marker of {self.size:.0f} pixels a side; {SMALLEST:.0f} are needed"
        self._light(picture)
        return None

    def _light(self, picture: Picture) -> None:
        assert self.corners is not None
        near, _, _ = cut(picture, *self.corners.min(axis=0), *self.corners.max(axis=0))
        self.contrast = float(near.max()) - float(near.min())

    def follow(self, picture: Picture) -> Place | None:
        """Find it again; None where it is lost."""
        if self.corners is None:
            return None
        low, high = self.corners.min(axis=0) + self.speed, self.corners.max(axis=0) + self.speed
        margin = self.size * MARGIN * GROWS ** min(self.missed, 20)
        near, left, top = cut(picture, *(low - margin), *(high + margin))
        found = self._looked_for(near, left, top) if near.size else []
        if len(found) != 1:
            self.missed, self.speed = self.missed + 1, np.zeros(2)
            return None
        before = self.corners.mean(axis=0)
        self._take(found[0])
        self.speed = np.zeros(2) if self.missed else found[0].mean(axis=0) - before
        self.missed = 0
        return crossing(found[0])

    def _looked_for(self, near: Picture, left: int, top: int) -> list[Corners]:
        if self.missed:
            return _found(self.number, near, left, top, finder(ANYWHERE))
        return _found(self.number, near, left, top, finder(AROUND), halved=self.size >= HALVED)

    def _take(self, corners: Corners) -> None:
        self.corners = corners
        self.size = float(np.linalg.norm(np.roll(corners, 1, axis=0) - corners, axis=1).mean())

    def state(self) -> dict[str, Any]:
        """Give what a later run needs to go on where this one stopped."""
        corners = [] if self.corners is None else self.corners.tolist()
        return {"corners": corners, "speed": self.speed.tolist(), "missed": self.missed}

    def restore(self, state: dict[str, Any]) -> None:
        """Go on where an earlier run stopped; the first picture was shown before."""
        self._take(np.array(state["corners"], dtype=float).reshape(4, 2))
        self.speed, self.missed = np.array(state["speed"], dtype=float).reshape(2), int(state["missed"])


def _found(
    number: int, picture: Picture, left: int, top: int, by: cv2.aruco.ArucoDetector, *, halved: bool = False
) -> list[Corners]:
    """Give the corners of every marker of this number, in the whole picture's pixels."""
    picture = np.ascontiguousarray(picture)
    looked_at: Any = cv2.resize(picture, None, fx=0.5, fy=0.5, interpolation=cv2.INTER_AREA) if halved else picture
    corners, numbers, _ = by.detectMarkers(looked_at)
    if numbers is None:
        return []
    edge = np.array([left, top], dtype=float)
    pairs = zip(corners, np.ravel(numbers), strict=True)
    fours = [np.asarray(four, dtype=np.float32).reshape(4, 2) for four, each in pairs if each == number]
    return [_refined(picture, 2.0 * four + 0.5 if halved else four) + edge for four in fours]


def all_in(picture: Picture) -> list[tuple[int, Place]]:
    """Give every marker of a picture: its number and where its diagonals cross."""
    corners, numbers, _ = finder(ANYWHERE).detectMarkers(np.ascontiguousarray(picture))
    if numbers is None:
        return []
    fours = [np.asarray(four, dtype=float).reshape(4, 2) for four in corners]
    return sorted((int(number), crossing(four)) for number, four in zip(np.ravel(numbers), fours, strict=True))


def _refined(picture: Picture, corners: NDArray[np.float32]) -> Corners:
    """Bring corners to a part of a pixel: where the lines of both edges meet."""
    side = float(np.linalg.norm(corners[1] - corners[0]))
    half = int(np.clip(side / 12.0, 2.0, 5.0))  # half a cell: no corner of the pattern inside comes into it
    end = (cv2.TERM_CRITERIA_MAX_ITER + cv2.TERM_CRITERIA_EPS, 20, 0.02)
    fine = cv2.cornerSubPix(picture, corners.reshape(4, 1, 2).astype(np.float32), (half, half), (-1, -1), end)
    return np.asarray(fine, dtype=float).reshape(4, 2)


def crossing(corners: Corners) -> Place:
    """Give where the diagonals cross: the middle of a square also where it is seen at an angle."""
    first, second = corners[2] - corners[0], corners[3] - corners[1]
    across = first[0] * second[1] - first[1] * second[0]
    between = corners[1] - corners[0]
    part = (between[0] * second[1] - between[1] * second[0]) / across
    x, y = corners[0] + part * first
    return float(x), float(y)


def pattern(number: int) -> list[list[bool]]:
    """Give the cells of a printed marker, its black border included: True where it is black."""
    dictionary = cv2.aruco.getPredefinedDictionary(cv2.aruco.DICT_4X4_50)
    cells = cv2.aruco.generateImageMarker(dictionary, number, 6, borderBits=1)
    return [[bool(cell == 0) for cell in row] for row in cells]
