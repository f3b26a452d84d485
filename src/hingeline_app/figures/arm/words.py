"""What an arm's document says, in words: page, sheet and picture have the same. Never a good one."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.wording import Toward, format_measured, format_number, places_for, with_unit

Document = Mapping[str, Any]

NO_CRACK = "No crack is assumed, so nothing is said of an interval. An estimate never makes the approved one longer."
NO_INTERVAL = (
    "No approved interval is given, so none is shown: this program makes none. An estimate never makes one longer."
)


def figures(value: float, unit: str, digits: int = 4, toward: Toward | None = None) -> str:
    """Write a number to so many significant digits, with its unit."""
    places = places_for(value, digits) if abs(value) >= 10**digits else _places(value, digits)
    return with_unit(format_number(value, places, toward), unit)


def _places(value: float, digits: int) -> int:
    return max(0, places_for(value, digits))


def measured(quantity: Document, factor: float, unit: str) -> str:
    """Write a measured quantity in another unit; without uncertainty, to four digits."""
    value, expanded = factor * quantity["value"], quantity["expanded_uncertainty"]
    if expanded is None:
        return figures(value, unit)
    return format_measured(value, factor * expanded, unit)


def margin_text(margin: float | None, expanded: float | None = None) -> str:
    """Write a margin with its sign, so that less than nothing is seen."""
    if margin is None:
        return "—"
    sign = "+" if margin > 0.0 else ""
    if expanded is None:
        return f"{sign}{format_number(margin, 2)}"
    return f"{sign}{format_measured(margin, expanded, '')}".rstrip()


def hours(time: Document, toward: Toward | None = None) -> str:
    """Write a time in hours; an interval that was worked out is never written longer than it is: "down"."""
    return figures(time["value"] / 3600.0, "h", toward=toward)


def size_words(size_is: str) -> str:
    """Say which size of the crack is meant."""
    return "size" if size_is == "size" else size_is


def interval_sentence(crack: Document | None) -> str:
    """Say first what the interval is: the approved one, or less."""
    if crack is None:
        return NO_CRACK
    if crack["approved_interval"] is None:
        return NO_INTERVAL
    approved = hours(crack["approved_interval"])
    if crack["shorter_than_approved"]:
        shown = hours(crack["interval_shown"], "down")
        return (
            f"By this estimate growth takes {shown}, less than the approved {approved}: ask "
            "the design holder before flight. An estimate never makes the approved interval longer."
        )
    return f"The interval is the approved one, {approved}. An estimate never makes the approved interval longer."
