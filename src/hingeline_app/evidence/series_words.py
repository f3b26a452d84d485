"""What a series of recordings says, in sentences: page and command line have the same. Never one number."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.wording import Toward, format_quantity

Document = Mapping[str, Any]
KNOT = 1852.0 / 3600.0
NOT_SHOWN = "These data do not show safety at any higher speed."
FELL = "Warning: at the last point the least damping has fallen below its largest."


def onset_headline(document: Document) -> str:
    """Say the finding in one line: the lower end first, never one number."""
    onset, stops = document["onset_speed"], document["stops_between"]
    if onset is not None:
        low = _speed(onset["low"], "down")
        if onset["high"] is None:
            return f"Onset cannot be excluded from {low} on"
        high = _speed(onset["high"], "up")
        return f"Onset cannot be excluded from {low} on; it may lie up to {high}"
    if stops is not None:
        low = format_quantity(stops["low"]["value"], "kg", digits=3, toward="down")
        high = format_quantity(stops["high"]["value"], "kg", digits=3, toward="up")
        return f"It stops feeding itself between {low} and {high}"
    return "No onset speed is given" if document["against"] == "airspeed" else "No weight is found at which it stops"


def under_the_headline(document: Document) -> list[str]:
    """Give what stands under it: why there is none, what it does not show, a warning."""
    sentences = [document["refused"]] if document["refused"] else []
    if document["onset_speed"] is not None:
        sentences.append(NOT_SHOWN)
    if document["damping_fell"]:
        sentences.append(FELL)
    return sentences


def _speed(quantity: Document, toward: Toward) -> str:
    """Write an end of what may be in metres a second and in knots, rounded outward."""
    speed: float = quantity["value"]
    metres = format_quantity(speed, "m/s", digits=3, toward=toward)
    return f"{metres} ({format_quantity(speed / KNOT, 'kn', digits=3, toward=toward)})"
