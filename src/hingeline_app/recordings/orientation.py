"""How a picture is turned before somebody sees it: a telephone held upright stores its pictures lying.

Places are given and reported as seen; they are followed as stored.
"""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.recordings.limits import Unreadable
from hingeline_app.recordings.windows import Place


@dataclass(frozen=True, slots=True)
class Orientation:
    """From stored pixels to seen ones.

    Parameters
    ----------
    width, height : int
        As stored [pixel].
    turn : int
        Anticlockwise, in degrees: 0, 90, 180 or 270.
    stretch : float
        Width of a stored pixel over its height.
    """

    width: int
    height: int
    turn: int = 0
    stretch: float = 1.0

    @property
    def seen_size(self) -> tuple[float, float]:
        """Width and height as seen [pixel]."""
        wide = self.width * self.stretch
        return (wide, float(self.height)) if self.turn in (0, 180) else (float(self.height), wide)

    def seen(self, place: Place) -> Place:
        """Turn a stored place into the seen one."""
        x, y = place[0] * self.stretch, place[1]
        right, bottom = (self.width - 1) * self.stretch, self.height - 1.0
        turned = {0: (x, y), 90: (y, right - x), 180: (right - x, bottom - y), 270: (bottom - y, x)}
        return turned[self.turn]

    def stored(self, place: Place) -> Place:
        """Turn a seen place into the stored one."""
        x, y = place
        right, bottom = (self.width - 1) * self.stretch, self.height - 1.0
        back = {0: (x, y), 90: (right - y, x), 180: (right - x, bottom - y), 270: (y, bottom - x)}[self.turn]
        return back[0] / self.stretch, back[1]


def orientation(width: int, height: int, turn: int, stretch: float) -> Orientation:
    """Make an orientation from what a file says.

    Raises
    ------
    Unreadable
        The picture is turned by something else than a quarter.
    """
    if turn % 90 != 0:
        found = f"a picture that is to be shown turned by {turn} degrees"
        raise Unreadable(found, "a picture that is turned by quarters", "Export it without turning it.")
    return Orientation(width, height, turn % 360, stretch if 0.1 < stretch < 10.0 else 1.0)
