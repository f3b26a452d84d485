"""What the picture of onset speeds is drawn from: samples along a scale, and the places that are talked about."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.figures.axis import Axis
from hingeline_app.figures.svg import Point


@dataclass(frozen=True, slots=True)
class OnsetSample:
    """What the model says at one place of the scale.

    Parameters
    ----------
    x : float
        Where on the scale, in its own unit.
    speed : float or None
        Onset [kn]; None where no growth was found.
    low, high : float or None
        The band about it [kn]; ``low`` None: no case of the scatter has an onset; ``high`` None: some have none.
    from_the_start : bool
        A motion grows at every speed: there is no onset to draw, and nothing better either.
    """

    x: float
    speed: float | None
    low: float | None = None
    high: float | None = None
    from_the_start: bool = False


@dataclass(frozen=True, slots=True)
class ChosenPlace:
    """A place that is talked about: numbered as its button is, 0 without one; one of them is chosen."""

    sample: OnsetSample
    number: int
    chosen: bool


@dataclass(frozen=True, slots=True)
class OnsetCurve:
    """What is drawn.

    Parameters
    ----------
    samples : tuple of OnsetSample
        In the order of the scale, two or more.
    scale, second_scale : str
        Words and unit under the picture, and on top of it.
    second_factor, second_offset : float
        From the scale to the second one: factor times x, and offset.
    searched : float
        Up to where the model looked [kn].
    airspeed : str
        Which airspeed it is: "true" or "equivalent".
    unit : str
        In which all speeds are given, instead of knots.
    band : str
        What the band is, in words; empty without one.
    dive_speed : float or None
        Design dive speed [kn].
    dive_words : str
        How it is named: of an invented aeroplane, that it is invented.
    places : tuple of ChosenPlace
    finding : str
        What the picture says.
    told : tuple of str
        The same, written under a picture that stands alone; each sample is then a point too, since nothing
        is known between them.
    """

    samples: tuple[OnsetSample, ...]
    scale: str
    searched: float
    finding: str
    airspeed: str = "true"
    unit: str = "kn"
    band: str = ""
    second_scale: str = ""
    second_factor: float = 1.0
    second_offset: float = 0.0
    dive_speed: float | None = None
    dive_words: str = "design dive speed"
    places: tuple[ChosenPlace, ...] = ()
    told: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Frame:
    """Where the plot stands: the scale [px], and speeds from none at the bottom to the highest shown [kn]."""

    x: Axis
    highest: float
    top: float
    bottom: float

    def y(self, speed: float) -> float:
        """Return the height at which a speed stands, held inside the plot."""
        return max(self.top, self.bottom - speed / self.highest * (self.bottom - self.top))

    def point(self, x: float, speed: float) -> Point:
        """Return where a speed at a place of the scale stands."""
        return self.x.x(x), self.y(speed)
