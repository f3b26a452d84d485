"""What the picture of a weighing is made from: plain numbers and ready words."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal


@dataclass(frozen=True, slots=True)
class SupportMark:
    """A support that holds the surface level and shows a force.

    Parameters
    ----------
    arm : float
        From the hinge line, aft positive [m].
    force : float
        Magnitude of what it exerts on the surface [N].
    force_text, reading_text : str
        The same as it is to be written, and the mean that the scale shows.
    pushes : str
        ``up`` (a scale under it) or ``down`` (a hook).
    arm_text : str
        The arm as it is to be written; empty: in millimetres.
    """

    arm: float
    force: float
    force_text: str
    reading_text: str
    pushes: Literal["up", "down"] = "up"
    arm_text: str = ""


@dataclass(frozen=True, slots=True)
class HungMass:
    """A known mass that hangs from the surface to level it; ``arm`` aft positive [m]."""

    arm: float
    text: str
    arm_text: str = ""


@dataclass(frozen=True, slots=True)
class WeightMark:
    """A balance weight that is part of the surface; ``arm`` aft positive [m]."""

    arm: float
    text: str
    arm_text: str = ""


@dataclass(frozen=True, slots=True)
class LoosePart:
    """A part that was off, or on but must not count; ``arm`` aft positive [m]."""

    arm: float
    text: str
    fitted: bool = False
    arm_text: str = ""


Mark = SupportMark | HungMass | WeightMark | LoosePart


@dataclass(frozen=True, slots=True)
class BeamPicture:
    """A weighing as a side view.

    Parameters
    ----------
    supports, hung, weights, parts : tuple
        What acts on the surface; any may be empty.
    trailing_edge : float or None
        From the hinge line to the trailing edge [m]; None: the outline is guessed and drawn as phantom.
    centre_of_gravity : float or None
        Aft of the hinge line [m]; None: not drawn, never guessed.
    mass_text : str
        The mass of the surface as it is to be written.
    moment : float or None
        Static moment, tail-heavy positive [N m].
    moment_text : str
        The same as it is to be written, with ± and the sense word.
    statement : str or None
        Colours the moment.
    full_force : float or None
        Force that a support would show at the upper limit [N]: a light reading then looks light.
    """

    supports: tuple[SupportMark, ...] = ()
    hung: tuple[HungMass, ...] = ()
    weights: tuple[WeightMark, ...] = ()
    parts: tuple[LoosePart, ...] = ()
    trailing_edge: float | None = None
    centre_of_gravity: float | None = None
    mass_text: str = ""
    moment: float | None = None
    moment_text: str = ""
    statement: str | None = None
    full_force: float | None = None

    @property
    def marks(self) -> tuple[Mark, ...]:
        """Return everything that acts, in the order it is numbered."""
        return (*self.supports, *self.hung, *self.weights, *self.parts)
