"""A printed dot followed to a part of a pixel: the centroid of its darkness in a window that moves with it.

Each step is one compiled call on a window of a few dozen pixels; the whole picture is never looked at.
"""

from __future__ import annotations

from typing import Any

import cv2
import numpy as np
from numpy.typing import NDArray

from hingeline_app.recordings.windows import Picture, Place, cut, window

SEARCHED = (30, 60, 120, 240)
"""Half the side of the windows in which a dot is looked for where somebody pointed, one after another [pixel]."""
NEAR = 12.0
"""How far from the place somebody pointed at the dot may end [pixel]."""
SMALLEST, LEAST_CONTRAST = 5.0, 20.0
REACH = 2.2
"""Half the window, in radii of the dot."""
LEVEL = 0.3
"""What counts as dot begins this part of the contrast away from the light around it: noise stays outside."""
SMALLER, LARGER = 0.55, 1.7
"""How much the weight of the dot may change before something else is in the window."""
LOST_REACH = 8.0
LEVELS_EVERY = 4


class Dot:
    """One dot.

    Parameters
    ----------
    place : (float, float)
        Where it is in the first picture [pixel].
    """

    def __init__(self, place: Place) -> None:
        self.place, self.speed = place, (0.0, 0.0)
        self.seen, self.count = False, 0
        self.radius = self.contrast = self.noise = self.light = self.weight = 0.0

    # ---------------------------------------------------------------- the first picture

    def begin(self, picture: Picture) -> str | None:
        """Find the dot where somebody pointed; give what is wrong, or None."""
        found = _pointed_at(picture, self.place)
        if isinstance(found, str):
            return found
        x, y, area, self.dark_on_light = found
        self.radius = float(np.sqrt(area / np.pi))
        self._make_masks()
        self.place = (x, y)
        if window(picture, self.place, self.half) is None:
            return "a dot too close to the picture's edge"
        self._measure(picture)
        if self.contrast < LEAST_CONTRAST:
            return f"a dot that differs from its surroundings by {self.contrast:.0f} of 255 grey levels"
        settled = self._settled(picture, self.place)
        if settled is None:
            return "no single dot"
        self.place, self.weight, self.seen = (settled[0], settled[1]), settled[2], True
        return None

    def _make_masks(self) -> None:
        self.half = max(int(np.ceil(REACH * self.radius)), 6)
        y, x = np.mgrid[-self.half : self.half + 1, -self.half : self.half + 1]
        away = np.hypot(x, y)
        self._disk = (away <= self.half).astype(np.uint8)
        self._inner = (away <= 0.6 * self.radius).astype(np.uint8)
        self._ring = ((away >= 1.4 * self.radius) & (away <= self.half)).astype(np.uint8)
        self._level = np.zeros(away.shape, np.uint8)

    def _measure(self, picture: Picture) -> None:
        """Take the light around the dot and the dark in it again; smoothly, for the light may change."""
        seen = window(picture, self.place, self.half)
        if seen is None:
            return
        around, spread = cv2.meanStdDev(seen[0], mask=self._ring)
        inside = cv2.mean(seen[0], mask=self._inner)[0]
        light, contrast = float(around[0, 0]), abs(float(around[0, 0]) - inside)
        new = 1.0 if not self.seen else 0.25
        self.light += new * (light - self.light)
        self.contrast += new * (contrast - self.contrast)
        self.noise += new * (float(spread[0, 0]) - self.noise)
        self._set_level()

    def _set_level(self) -> None:
        sign = -1.0 if self.dark_on_light else 1.0
        self._level.fill(int(np.clip(self.light + sign * LEVEL * self.contrast, 0, 255)))

    # ---------------------------------------------------------------- every picture

    def follow(self, picture: Picture) -> Place | None:
        """Find the dot again; None where it is lost."""
        guess = (self.place[0] + self.speed[0], self.place[1] + self.speed[1])
        settled = self._settled(picture, guess) if self.seen else None
        if settled is None or not SMALLER < settled[2] / self.weight < LARGER:
            settled = self._searched(picture)
        if settled is None:
            self.seen, self.speed = False, (0.0, 0.0)
            return None
        place = (settled[0], settled[1])
        self.speed = (place[0] - self.place[0], place[1] - self.place[1]) if self.seen else (0.0, 0.0)
        self.place, self.seen, self.count = place, True, self.count + 1
        if self.count % LEVELS_EVERY == 0:
            self._measure(picture)
        return place

    def _settled(self, picture: Picture, guess: Place) -> tuple[float, float, float] | None:
        """Move the window onto the dot until its centroid stays; give the centroid and the weight of the dot."""
        for _ in range(5):
            seen = window(picture, guess, self.half)
            if seen is None:
                return None
            near, left, top = seen
            more, less = (self._level, near) if self.dark_on_light else (near, self._level)
            moments = cv2.moments(cv2.subtract(more, less, mask=self._disk))
            weight = moments["m00"]
            if weight <= 0.0:
                return None
            x, y = left + moments["m10"] / weight, top + moments["m01"] / weight
            if max(abs(x - left - self.half), abs(y - top - self.half)) < 1.0:
                return x, y, weight / max(self.contrast, 1.0)
            guess = (x, y)
        return None

    def _searched(self, picture: Picture) -> tuple[float, float, float] | None:
        """Look for the dot around where it was last."""
        reach = LOST_REACH * self.radius
        near, left, top = cut(picture, *(v - reach for v in self.place), *(v + reach for v in self.place))
        if near.size == 0:
            return None
        level = int(self._level[0, 0])
        dots = (near < level) if self.dark_on_light else (near > level)
        area = np.pi * self.radius**2
        best = _nearest(dots.astype(np.uint8), self.place[0] - left, self.place[1] - top, 0.5 * area, 2.0 * area)
        settled = None if best is None else self._settled(picture, (left + best[0], top + best[1]))
        return settled if settled is not None and SMALLER < settled[2] / self.weight < LARGER else None

    # ---------------------------------------------------------------- going on

    def state(self) -> dict[str, Any]:
        """Give what a later run needs to go on where this one stopped."""
        names = ("place", "speed", "seen", "count", "light", "contrast", "noise")
        return {name: getattr(self, name) for name in names}

    def restore(self, state: dict[str, Any]) -> None:
        """Go on where an earlier run stopped; the first picture was shown before."""
        self.place, self.speed = _pair(state["place"]), _pair(state["speed"])
        self.seen, self.count = bool(state["seen"]), int(state["count"])
        self.light, self.contrast, self.noise = (float(state[name]) for name in ("light", "contrast", "noise"))
        self._set_level()

    @property
    def size(self) -> float:
        """Its diameter [pixel]."""
        return 2.0 * self.radius


def _pair(value: Any) -> Place:
    return float(value[0]), float(value[1])


Blob = tuple[float, float, float, bool]


def _pointed_at(picture: Picture, place: Place) -> Blob | str:
    """Find the dot at a place, in windows one larger than the other: place, area, whether it is dark; or a fault."""
    for reach in SEARCHED:
        near, left, top = cut(picture, *(v - reach for v in place), *(v + reach for v in place))
        if not near.size:
            return "a place outside the picture"
        found = _blob(near, place[0] - left, place[1] - top)
        if found is not None:
            return left + found[0], top + found[1], *found[2:]
    return f"no round dot of {SMALLEST:.0f} pixels or more across within {NEAR:.0f} pixels of that place"


def _blob(near: Picture, x: float, y: float) -> Blob | None:
    """Find the round blob that somebody pointed at."""
    level, _ = cv2.threshold(near, 0, 255, cv2.THRESH_BINARY + cv2.THRESH_OTSU)
    at = near[min(max(round(y), 0), near.shape[0] - 1), min(max(round(x), 0), near.shape[1] - 1)]
    # A dot that was pointed at a little beside it: the darker kind first, for most are printed.
    for dark in dict.fromkeys((bool(at <= level), True, False)):
        dots = (near <= level if dark else near > level).astype(np.uint8)
        best = _nearest(dots, x, y, 0.785 * SMALLEST**2, float(near.size))
        if best is not None and np.hypot(best[0] - x, best[1] - y) <= max(NEAR, np.sqrt(best[2] / np.pi)):
            return *best, dark
    return None


def _nearest(
    dots: NDArray[np.uint8], x: float, y: float, least: float, most: float
) -> tuple[float, float, float] | None:
    """Give the nearest round blob inside the window: centre and area."""
    number, _, stats, centres = cv2.connectedComponentsWithStats(dots)
    found = []
    for index in range(1, number):
        left, top, width, height, area = (int(v) for v in stats[index])
        inside = left > 0 and top > 0 and left + width < dots.shape[1] and top + height < dots.shape[0]
        if inside and least <= area <= most and 0.5 < width / height < 2.0 and area > 0.55 * width * height:
            cx, cy = (float(v) for v in centres[index])
            found.append((float(np.hypot(cx - x, cy - y)), cx, cy, float(area)))
    return min(found)[1:] if found else None
