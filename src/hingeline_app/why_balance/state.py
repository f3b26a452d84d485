"""One state of the page: a surface and where its knobs stand. It is all in the address."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from urllib.parse import urlencode

from hingeline.errors import InputRefused
from hingeline.units import number_text
from hingeline_app.why_balance.knobs import Settings
from hingeline_app.why_balance.surfaces import SURFACES, Surface, surface_named

SURFACE, AXIS = "surface", "over"


@dataclass(frozen=True)
class State:
    """A surface, its settings, and the knob that the curve runs over.

    Parameters
    ----------
    surface : Surface
    shown : Mapping
        Values by knob, in the units that are shown.
    axis : str
        Name of a knob.
    """

    surface: Surface
    shown: Mapping[str, float]
    axis: str

    @property
    def settings(self) -> Settings:
        """Return the settings in SI."""
        return {knob.name: self.shown[knob.name] * knob.to_si for knob in self.surface.knobs}

    def moved(self, **shown: float) -> State:
        """Give the state with some knobs moved, held to their ranges."""
        held = {name: self.surface.knob(name).held(value) for name, value in shown.items()}
        return replace(self, shown={**self.shown, **held})

    def over(self, axis: str) -> State:
        """Give the state with the curve over another knob."""
        return replace(self, axis=axis)

    @property
    def query(self) -> str:
        """Return the state as it stands in the address: only what differs from the start."""
        start = start_of(self.surface)
        moved = {name: f"{value:g}" for name, value in self.shown.items() if value != start.shown[name]}
        axis = {} if self.axis == start.axis else {AXIS: self.axis}
        return urlencode({SURFACE: self.surface.name, **axis, **moved})


def start_of(surface: Surface) -> State:
    """Give the state in which a surface is shown first."""
    return State(surface, {knob.name: knob.start for knob in surface.knobs}, surface.axis)


def read_state(query: Mapping[str, str]) -> State:
    """Read a state from an address.

    Raises
    ------
    InputRefused
        It names no surface or knob of ours, or a number that is none or lies outside a knob's range.
    """
    state = start_of(surface_named(query.get(SURFACE, next(iter(SURFACES)))))
    knobs = {knob.name for knob in state.surface.knobs}
    for key, text in query.items():
        if key in knobs:
            state = replace(state, shown={**state.shown, key: _value(state, key, text)})
        elif key not in (SURFACE, AXIS):
            raise InputRefused.of(key, text, f"one of {', '.join(sorted(knobs))}", "Take it out of the address.")
    axis = query.get(AXIS, state.axis)
    if axis not in knobs or axis in NOT_AN_AXIS:
        allowed = sorted(knobs - NOT_AN_AXIS)
        raise InputRefused.of(AXIS, axis, f"one of {', '.join(allowed)}", "Choose one from the page.")
    return state.over(axis)


# The speed is the other axis of the picture, and slack does not move the linear onset.
NOT_AN_AXIS = frozenset({"speed", "play"})


def _value(state: State, name: str, text: str) -> float:
    knob = state.surface.knob(name)
    value = float(number_text(text, field=name))
    if not knob.low <= value <= knob.high:
        expected = f"{knob.words}: from {knob.low:g} to {knob.high:g} {knob.unit}".strip()
        raise InputRefused.of(name, text, expected, "Move it with the page's own buttons.")
    return knob.held(value)
