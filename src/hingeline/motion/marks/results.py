"""The motion of a section as a camera saw it, as a frozen record."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated

from hingeline.fields import Unit
from hingeline.motion.marks.doubts import Doubt
from hingeline.motion.model import Recording

Metres = Annotated[float, Unit("m")]
Radians = Annotated[float, Unit("rad")]
Pixels = Annotated[float, Unit("pixel")]


@dataclass(frozen=True, slots=True)
class SectionTracks:
    """The motion of a section as a camera saw it.

    Parameters
    ----------
    recording : Recording
        Plunge [m, positive down], pitch [rad, nose up], surface [rad, trailing edge down relative to the
        section], as far as the marks tell them, from the reference picture on.
    pitch_uncertainty, surface_uncertainty : float, optional
        Standard uncertainty of one value, from noise and from what is not known of the shutter [rad].
    plunge_uncertainty : float, optional
        The same [m].
    noise : float
        Of the place of a mark, in each direction [pixel].
    metres_per_pixel : float, optional
    shake : float
        Root mean square of the picture's shift by the camera [pixel].
    lost : float
        Part of the pictures in which something is missing.
    doubts : tuple of Doubt
    """

    recording: Recording
    pitch_uncertainty: Radians | None
    surface_uncertainty: Radians | None
    plunge_uncertainty: Metres | None
    noise: Pixels
    metres_per_pixel: float | None
    shake: Pixels
    lost: float
    doubts: tuple[Doubt, ...]
