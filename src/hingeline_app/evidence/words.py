"""What a motion document says, in sentences: the page and the picture have the same words. Never a good one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.wording import (
    NO_BREAK_SPACE,
    NOT_KNOWN,
    format_number,
    interval_places,
    places_for,
    with_unit,
)

Document = Mapping[str, Any]

HEADLINES = {
    "growing": "Growing: it feeds itself, as flutter does",
    "sustained": "Sustained: treat it as self-excited",
    "irregular": "Irregular: self-excitation is not excluded",
    "dying out": "Dying out: at this airspeed and amplitude only",
    "cannot tell": "Cannot tell: self-excitation is not excluded",
}
LOOKS = {
    "growing": ("[ ! ]", "bold red"),
    "sustained": ("[ ! ]", "bold red"),
    "irregular": ("[ ? ]", "bold yellow"),
    "dying out": ("[ \\ ]", "bold"),
    "cannot tell": ("[ ? ]", "bold"),
}
"""Shape and colour; no statement has a colour that says go."""


def interval_text(interval: Document | None, digits: int = 4) -> str:
    """Write a number with the ends of its interval, to the digits that the interval supports."""
    if interval is None:
        return NOT_KNOWN
    value, low, high = interval["value"], interval["low"], interval["high"]
    unit = "" if interval["unit"] == "1" else interval["unit"]
    if low is None:
        return f"{_plain(value, unit, places_for(value, digits))}, no interval"
    places = interval_places(low, high)
    ends = f"{format_number(low, places, 'down')} … {format_number(high, places, 'up')}"
    return f"{_plain(value, unit, places)} ({ends}, 95{NO_BREAK_SPACE}%)"


def _plain(value: float, unit: str, places: int) -> str:
    text = format_number(value, max(0, places))
    return with_unit(text, unit) if unit else text


def number_text(value: float | None, unit: str) -> str:
    """Write a measured value of the evidence."""
    if value is None:
        return NOT_KNOWN
    return _plain(value, "" if unit == "1" else unit, max(0, min(4, places_for(value, 3))))


def frequency_text(document: Document) -> str:
    """Write the frequency, or what there is where the time scale is not known."""
    per_file = document["frequency_per_file_second"]
    if per_file is not None:
        return f"{format_number(per_file, max(0, places_for(per_file, 4)))} cycles in a second of the file"
    return interval_text(document["frequency"])


def phase_text(document: Document) -> str:
    """Write the phase in words."""
    phase = document["phase"]
    if phase is None:
        return NOT_KNOWN
    value = phase["value"]
    side = "behind" if value > 0.0 else "ahead of"
    return f"pitch {abs(value):.0f} deg {side} plunge"
