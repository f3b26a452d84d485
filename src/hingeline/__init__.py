"""Hingeline, the library: numbers in, frozen records out.

It weighs a movable control surface about its hinge line and says whether its static moment
is inside the approved limits, with honest uncertainty. Nothing here reads a file, a clock or
a network. Inside, everything is in SI units; a moment is positive when it makes the surface
tail-heavy (trailing edge down), and ``x`` is positive aft of the hinge line.
"""

from __future__ import annotations

__version__ = "0.1.0"
