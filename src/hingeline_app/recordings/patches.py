"""A patch of the picture that somebody pointed at, followed by its likeness to the first picture.

The likeness is always that to the first picture, so that nothing drifts. Not for a surface without texture.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np

from hingeline_app.recordings.windows import Picture, Place, cut, window

LEAST_LIKENESS = 0.6
LEAST_TEXTURE = 6.0
REACH, LOST_REACH = 0.75, 2.0
"""How far it is looked for, in its own size, while it is seen and while it is lost."""


class Patch:
    """One patch.

    Parameters
    ----------
    place : (float, float)
        Its middle in the first picture [pixel].
    size : float
        Its side [pixel].
    """

    def __init__(self, place: Place, size: float) -> None:
        self.place, self.half = place, max(int(size / 2.0), 4)
        self.speed: Place = (0.0, 0.0)
        self.seen = True
        self.contrast = self.noise = 0.0

    @property
    def size(self) -> float:
        """Its side [pixel]."""
        return 2.0 * self.half + 1.0

    def begin(self, picture: Picture) -> str | None:
        """Remember what it looks like; give what is wrong, or None."""
        seen = window(picture, self.place, self.half)
        if seen is None:
            return "a patch that reaches over the picture's edge"
        self.likeness = np.ascontiguousarray(seen[0])
        self.place = (float(seen[1] + self.half), float(seen[2] + self.half))
        self.contrast = float(self.likeness.std())
        lines = [float(np.std(self.likeness.mean(axis=axis))) for axis in (0, 1)]
        if self.contrast < LEAST_TEXTURE or min(lines) < 1.0:
            return "a patch without enough texture across and down to tell where it is"
        return None

    def follow(self, picture: Picture) -> Place | None:
        """Find it again; None where it is lost."""
        reach = self.half + self.size * (REACH if self.seen else LOST_REACH)
        x, y = self.place[0] + self.speed[0], self.place[1] + self.speed[1]
        near, left, top = cut(picture, x - reach, y - reach, x + reach, y + reach)
        found = self._best(np.ascontiguousarray(near))
        if found is None:
            self.seen, self.speed = False, (0.0, 0.0)
            return None
        place = (left + found[0] + self.half, top + found[1] + self.half)
        self.speed = (place[0] - self.place[0], place[1] - self.place[1]) if self.seen else (0.0, 0.0)
        self.place, self.seen = place, True
        return place

    def _best(self, near: Picture) -> Place | None:
        """Give where the likeness is largest, to a part of a pixel, or None where it is small or at an edge."""
        if min(near.shape) < 2 * self.half + 4:
            return None
        like = cv2.matchTemplate(near, self.likeness, cv2.TM_CCOEFF_NORMED)
        _, best, _, (x, y) = cv2.minMaxLoc(like)
        if best < LEAST_LIKENESS or not (0 < x < like.shape[1] - 1 and 0 < y < like.shape[0] - 1):
            return None
        return x + _peak(*like[y, x - 1 : x + 2]), y + _peak(*like[y - 1 : y + 2, x])

    def state(self) -> dict[str, Any]:
        """Give what a later run needs to go on where this one stopped."""
        return {"place": self.place, "speed": self.speed, "seen": self.seen}

    def restore(self, state: dict[str, Any]) -> None:
        """Go on where an earlier run stopped; the first picture was shown before."""
        self.place = (float(state["place"][0]), float(state["place"][1]))
        self.speed = (float(state["speed"][0]), float(state["speed"][1]))
        self.seen = bool(state["seen"])


def _peak(before: float, best: float, after: float) -> float:
    """Give where a parabola through three likenesses is largest, counted from the middle one."""
    bend = float(before) - 2.0 * float(best) + float(after)
    return 0.0 if bend >= 0.0 else 0.5 * (float(before) - float(after)) / bend
