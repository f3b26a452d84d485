"""Reading the quantities of a result document: ``{"value": 0.4461, "unit": "N m"}``."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline_app.figures.wording import (
    MINUS,
    NOT_KNOWN,
    format_number,
    format_quantity,
    shared_places,
    unit_text,
    with_unit,
)

Quantity = Mapping[str, Any] | None


def value_of(quantity: Quantity) -> float | None:
    """Return the number of a quantity, or None where there is none."""
    if quantity is None or quantity.get("value") is None:
        return None
    return float(quantity["value"])


def unit_of(quantity: Quantity) -> str:
    """Return the unit of a quantity, or nothing."""
    return "" if quantity is None else str(quantity.get("unit", ""))


def expanded_of(quantity: Quantity) -> float | None:
    """Return the expanded uncertainty of a measured quantity, or None."""
    if quantity is None or quantity.get("expanded_uncertainty") is None:
        return None
    return float(quantity["expanded_uncertainty"])


def written(quantity: Quantity, digits: int = 6) -> str:
    """Write a quantity as it was typed, where that is kept, else from its value; a dash where there is none."""
    value = value_of(quantity)
    if quantity is None or value is None:
        return NOT_KNOWN
    typed = quantity.get("typed")
    return as_typed(str(typed)) if typed else format_quantity(value, unit_of(quantity), digits=digits)


def as_typed(text: str) -> str:
    """Write a typed quantity with a true minus, its unit's signs and a no-break space."""
    number, _, unit = text.strip().partition(" ")
    return with_unit(number.replace("-", MINUS), unit.strip())


def signed_arm(entry: Mapping[str, Any]) -> float:
    """Return an arm in metres, aft positive."""
    arm = entry["arm"]
    factor = {"m": 1.0, "mm": 1e-3, "cm": 1e-2, "in": 0.0254, "ft": 0.3048}.get(unit_of(arm), 1.0)
    magnitude = (value_of(arm) or 0.0) * factor
    return magnitude if entry.get("side", "aft") == "aft" else -magnitude


def arm_text(entry: Mapping[str, Any]) -> str:
    """Write an arm without its side: metres as millimetres, other units as typed."""
    value, unit = value_of(entry["arm"]), unit_of(entry["arm"])
    if value is not None and unit == "m" and not entry["arm"].get("typed"):
        return format_quantity(value * 1e3, "mm", digits=5)
    return written(entry["arm"])


def is_between_bands(decision: Mapping[str, Any]) -> bool:
    """Whether a mass is outside within the outer edges of its bands, which are the limits that stand beside it."""
    value, lower, upper = (value_of(decision.get(name)) for name in ("value", "lower", "upper"))
    is_outside = decision.get("of") == "mass" and decision.get("statement_simple") == "outside" and value is not None
    return is_outside and (lower is None or (value or 0.0) >= lower) and (upper is None or (value or 0.0) <= upper)


def nearer_side(value: float | None, lower: float | None, upper: float | None) -> str:
    """Say at which of its limits a value lies nearer, "left" or "right" as the bar is drawn: for the glyph."""
    if upper is None:
        return "left"
    return "left" if lower is not None and (value or 0.0) - lower < upper - (value or 0.0) else "right"


def one_unit(quantities: Sequence[Quantity]) -> str | None:
    """Return the unit that all quantities share, or None."""
    units = {unit_of(quantity) for quantity in quantities}
    return units.pop() if len(units) == 1 else None


def listed(quantities: Sequence[Quantity]) -> list[str]:
    """Write readings one under another: to the same place, without the unit they share."""
    unit = one_unit(quantities)
    if unit is None:
        return [written(quantity) for quantity in quantities]
    values = [value for quantity in quantities if (value := value_of(quantity)) is not None]
    places = shared_places(values)
    return [NOT_KNOWN if (v := value_of(q)) is None else format_number(v, places) for q in quantities]


def heading(words: str, quantities: Sequence[Quantity]) -> str:
    """Write a heading with the unit that all quantities share."""
    unit = one_unit(quantities) if quantities else None
    return f"{words}, {unit_text(unit)}" if unit else words
