"""Hingeline, the library: numbers in, frozen records out.

It weighs a movable control surface about its hinge line and says whether its static moment
is inside the approved limits, with honest uncertainty. Nothing here reads a file, a clock or
a network. Inside, everything is in SI units; a moment is positive when it makes the surface
tail-heavy (trailing edge down), and ``x`` is positive aft of the hinge line.

Rooms are loaded when they are named, so that a weighing does not wait for the others:

>>> import hingeline
>>> hingeline.balance.Surface("rudder").name
'rudder'
"""

from __future__ import annotations

from types import ModuleType

__version__ = "0.1.0"

ROOMS = ("balance", "document", "errors", "uncertainty", "units")


def __getattr__(name: str) -> ModuleType:
    """Load a room when it is first named; written out, so that the import contracts see each."""
    if name == "balance":
        import hingeline.balance as room
    elif name == "document":
        import hingeline.document as room
    elif name == "errors":
        import hingeline.errors as room
    elif name == "uncertainty":
        import hingeline.uncertainty as room
    elif name == "units":
        import hingeline.units as room
    else:
        raise AttributeError(f"module 'hingeline' has no attribute '{name}'")
    return room


def __dir__() -> list[str]:
    """Name the rooms too."""
    return sorted([*ROOMS, "__version__"])
