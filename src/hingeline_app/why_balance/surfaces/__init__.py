"""The surfaces that can be played with: our own inventions for the Merle T2, and models that a workshop loaded."""

from __future__ import annotations

from collections import OrderedDict
from threading import Lock

from hingeline.errors import InputRefused
from hingeline_app.why_balance.surfaces.aileron import AILERON
from hingeline_app.why_balance.surfaces.bench_section import BENCH_SECTION
from hingeline_app.why_balance.surfaces.elevator_tab import ELEVATOR_TAB
from hingeline_app.why_balance.surfaces.surface import Surface
from hingeline_app.why_balance.surfaces.tailplane import TAILPLANE

__all__ = ["SURFACES", "Surface", "know", "surface_named"]

SURFACES = {surface.name: surface for surface in (TAILPLANE, AILERON, ELEVATOR_TAB, BENCH_SECTION)}

MOST_KNOWN = 64
_loaded: OrderedDict[str, Surface] = OrderedDict()
_one = Lock()


def know(surface: Surface) -> Surface:
    """Keep a loaded surface at hand under its name, the last ones only; who may see it is asked where it is loaded."""
    with _one:
        _loaded[surface.name] = surface
        _loaded.move_to_end(surface.name)
        while len(_loaded) > MOST_KNOWN:
            _loaded.popitem(last=False)
    return surface


def surface_named(name: str) -> Surface:
    """Give a surface by its name.

    Raises
    ------
    InputRefused
        There is none of ours, and none was loaded under it.
    """
    found = SURFACES.get(name) or _loaded.get(name)
    if found is None:
        raise InputRefused.of("surface", name, f"one of {', '.join(SURFACES)}", "Choose one from the page.")
    return found
