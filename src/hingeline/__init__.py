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

__version__ = "1.2.0"

ROOMS = ("arm", "balance", "document", "due", "errors", "flutter", "motion", "uncertainty", "units")


def __getattr__(name: str) -> ModuleType:
    """Load a room when it is first named; written out, so that the import contracts see each."""
    if name == "arm":
        import hingeline.arm as arm

        return arm
    if name == "balance":
        import hingeline.balance as balance

        return balance
    if name == "document":
        import hingeline.document as document

        return document
    if name == "due":
        import hingeline.due as due

        return due
    if name == "errors":
        import hingeline.errors as errors

        return errors
    if name == "flutter":
        import hingeline.flutter as flutter

        return flutter
    if name == "motion":
        import hingeline.motion as motion

        return motion
    if name == "uncertainty":
        import hingeline.uncertainty as uncertainty

        return uncertainty
    if name == "units":
        import hingeline.units as units

        return units
    raise AttributeError(f"module 'hingeline' has no attribute '{name}'")


def __dir__() -> list[str]:
    """Name the rooms too."""
    return sorted([*ROOMS, "__version__"])
