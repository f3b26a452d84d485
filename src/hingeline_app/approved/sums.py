"""What a row states twice, as sums written out: each against what one or two persons read."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Any

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY, read
from hingeline_app.approved.checking import Printed, checked
from hingeline_app.figures.wording import format_number
from hingeline_app.files.limits_file import OPEN

AGREES = "agrees to the printed digits"


@dataclass(frozen=True)
class Sum:
    """One sum, and what it says against each reading of the moment that it belongs to."""

    words: str
    against: tuple[str, ...]


def sums(surface: str, readings: list[Printed]) -> tuple[Sum, ...]:
    """Write out every sum of a row, from the first reading that states it, against each reading's own moment."""
    found: dict[str, Sum] = {}
    for printed in readings:
        for between, words, end, value in _stated_twice(printed):
            against = tuple(dict.fromkeys(_against(surface, other, printed, between, end, value) for other in readings))
            found.setdefault(words, Sum(words, against))
    return tuple(found.values())


def _stated_twice(printed: Printed) -> Iterator[tuple[str, str, str, float]]:
    """Give each sum: what the check calls it, its words, which end, and its value [N m]."""
    for name, dimension, factor in (("force", "force", 1.0), ("reading", "mass", STANDARD_GRAVITY)):
        arm = str(printed.get("arm") or "")
        for end, text in _ends(printed.get(name)) if arm else ():
            value = read(text, dimension) * factor * read(arm, "length")
            gravity = "" if name == "force" else f" × {STANDARD_GRAVITY} m/s²"
            words = f"{text}{gravity} × {arm} = {value:.4g} N·m"
            yield f"{name} x arm and moment, {end}", words, end, value
    for end, text in _ends(printed.get("second_unit")):
        value = float(read(text, "moment"))
        yield f"second unit and moment, {end}", f"{text} = {value:.4g} N·m", end, value


def _ends(pair: Any) -> Iterator[tuple[str, str]]:
    for end, text in zip(("lower", "upper"), pair or (), strict=False):
        if text and text != OPEN:
            yield end, text


def _against(surface: str, other: Printed, own: Printed, between: str, end: str, value: float) -> str:
    """Compare a sum with the moment that a reading states, its other columns left as they are in the sum."""
    stated = dict(_ends(other.get("moment"))).get(end)
    if stated is None:
        return ""
    mixed: Mapping[str, Any] = {**own, "moment": other["moment"], "bands": []}
    try:
        apart = any(each.between == between for each in checked(surface, mixed).found)
    except InputRefused:
        return f"Against {stated}: cannot be read"
    return f"Against {stated}: {_percent(read(stated, 'moment'), value) if apart else AGREES}"


def _percent(stated: float, value: float) -> str:
    if not stated:
        # Of nothing there is no percentage: both are said.
        return f"{abs(value):.4g} N·m apart"
    return f"{format_number(100.0 * abs(value / stated - 1.0), 1)} % apart"
