"""What a demonstration surface is."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from hingeline.flutter import FlutterTask
from hingeline_app.why_balance.knobs import Knob, Settings

Shape = Mapping[str, complex]
"""What each freedom of the model does in one motion, in metres and radians."""


@dataclass(frozen=True, slots=True)
class Movement:
    """What a section of the surface does: plunge of its axis [m, down], pitch [rad, nose up], surface angle [rad]."""

    plunge: complex
    pitch: complex
    surface: complex = 0.0


@dataclass(frozen=True, slots=True)
class Surface:
    """A surface to play with.

    Parameters
    ----------
    name : str
        In the page's address.
    title : str
    says : str
        What is modelled, in one sentence.
    leaves_out : tuple of str
        What the model does not know, sentence by sentence.
    knobs : tuple of Knob
    axis : str
        The knob that the curve runs over at first.
    chord : float
        Of the section that is drawn [m].
    axis_place, surface_hinge : float, float or None
        Where it turns, and the hinge of its trailing surface, as parts of the chord.
    dive_speed : float or None
        Invented design dive speed [m/s].
    model : callable
        Settings become a flutter model.
    static_moment : callable
        Settings give the mass moment about the hinge line [kg m], or [kg] for one metre of span; aft positive.
    moving_mass : callable
        Settings give the mass that turns about the hinge line [kg]; 0 where the model does not say.
    movement : callable
        A motion's shape gives what the drawn section does.
    weight_arm : float
        Where the balance weight sits ahead of the hinge line, if no knob moves it [m].
    heading : str
        What stands above everything that is said of it.
    """

    name: str
    title: str
    says: str
    leaves_out: tuple[str, ...]
    knobs: tuple[Knob, ...]
    axis: str
    chord: float
    axis_place: float
    surface_hinge: float | None
    dive_speed: float | None
    model: Callable[[Settings], FlutterTask]
    static_moment: Callable[[Settings], float]
    moving_mass: Callable[[Settings], float]
    movement: Callable[[Shape], Movement]
    weight_arm: float = 0.0
    heading: str = "Teaching model. Not your aircraft."

    def knob(self, name: str) -> Knob:
        """Give a knob by its name."""
        return next(knob for knob in self.knobs if knob.name == name)

    @property
    def centre_place(self) -> float:
        """Return the hinge line's place that the centre of gravity is counted from, as a part of the chord."""
        return self.axis_place if self.surface_hinge is None else self.surface_hinge


LEAVES_OUT_ALWAYS = (
    "The air is that of thin strips in even flow: no gaps, no compressibility, no propeller stream, no finite span.",
    "Structure is a handful of motions; a real tail has more, and each may flutter at its own speed.",
    "Every number is invented for teaching. It is not your aircraft, and shows nothing about it.",
)
