"""Numbers once more in the unit that the approved document prints, or that the bench typed: nobody converts by hand."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.errors import InputRefused
from hingeline.units import express, read
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.figures.wording import format_measured, format_quantity
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.report.quantities import expanded_of, value_of

OURS = {"moment": ("N m",), "mass": ("g", "kg")}


def moment_as_printed(job: JobRecord, document: Mapping[str, Any] | None) -> str:
    """Say a weighed moment in the unit of the limits; empty without one, and where the limits are in newton metres."""
    unit = _printed_unit(job)
    moment = (document or {}).get("static_moment") or {}
    value, expanded = value_of(moment), expanded_of(moment)
    if not unit or value is None:
        return ""
    gravity = read(job.local_gravity, "acceleration")
    turned = [express(each, unit, gravity, dimension="moment") for each in (value, expanded or 0.0)]
    return format_measured(turned[0], None if expanded is None else turned[1], unit, sense=True)


def mass_as_typed(mass: float, *typed: object) -> str:
    """Say a mass in the first unit that somebody typed; empty where that is the gram or the kilogram."""
    for text in typed:
        if text:
            unit = _unit(str(text), "mass")
            return format_quantity(express(mass, unit), unit, digits=3) if unit else ""
    return ""


def _printed_unit(job: JobRecord) -> str:
    try:
        table = limits_table(job.limit_row)
    except InputRefused:
        return ""
    ends = [table.get(name) for name in ("upper", "lower")]
    return next((_unit(str(end), "moment") for end in ends if end), "")


def _unit(text: str, dimension: str) -> str:
    """Give the unit of a typed quantity; empty where a page writes it anyway, and where it cannot be read."""
    try:
        unit = read(text, dimension, page=True).unit
    except InputRefused:
        return ""
    return "" if unit in OURS[dimension] else unit
