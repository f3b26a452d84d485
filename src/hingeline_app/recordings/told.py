"""What a file's own structure says of it, before any decoder has seen it."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Told:
    """What the structure of a file says.

    Parameters
    ----------
    frames : int, optional
        Number of pictures of its first video track. None: it does not say.
    seconds : float, optional
        How long that track lasts. None: it does not say.
    doubts : tuple of str
        What does not fit together, or cannot be known.
    """

    frames: int | None = None
    seconds: float | None = None
    doubts: tuple[str, ...] = ()
