"""The reading window in words, rounded inward: what lies in it as written lies in it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.figures.wording import format_window, shared_places

# As finely as a scale in this unit commonly shows, where no readings say it.
_COMMON_PLACES = {"kg": 3, "lb": 2, "N": 2}


def window_text(result: Mapping[str, Any], *, guarded: bool = False) -> str:
    """Write which readings lie within the limits: ``18 … 822 g``; empty where there is no window.

    Parameters
    ----------
    result : mapping
        A weighing's result, or its plan, as a document.
    guarded : bool
        The window drawn in by the uncertainty.
    """
    window = result.get("reading_window") or {}
    names = ("at_guarded_lower", "at_guarded_upper") if guarded else ("at_lower", "at_upper")
    shown = [window.get(name) for name in names]
    unit = next((end["unit"] for end in shown if end), None)
    if unit is None:
        return ""
    ends = [None if end is None else float(end["value"]) for end in shown]
    if not window["rises_with_moment"]:
        # Then the lower limit stands at the larger reading.
        ends.reverse()
    return format_window(ends[0], ends[1], unit, _places(result, unit))


def _places(result: Mapping[str, Any], unit: str) -> int:
    supports = result.get("supports") or [{}]
    readings = [each["value"] for each in supports[0].get("readings", [])]
    return shared_places(readings, most=4) if readings else _COMMON_PLACES.get(unit, 0)
