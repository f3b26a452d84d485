"""Computes the cases of balance.toml, each through the reader of its file and the library's door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

from hingeline.balance import LimitsResult, WeighingResult, check_rows, plan_weighing, weigh
from hingeline.uncertainty import whole_degrees
from hingeline.units import express, sense_word
from hingeline_app.files.limits_file import read_limits
from hingeline_app.files.weighing_file import read_weighing

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

# Our short names of the causes, and the budget's.
CAUSES = {
    "scale's step": "resolution",
    "scale calibration": "calibration",
    "friction in the bearings": "friction",
    "air currents": "air",
    "readings": "repeatability",
    "arm": "arm",
    "level": "level",
}


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def weighed(inputs: Inputs) -> WeighingResult:
    """Weigh the file of a case."""
    return weigh(read_weighing(inputs["file"].encode()).weighing)


def checked(inputs: Inputs) -> LimitsResult:
    """Check the rows of a case."""
    text = inputs["file"].encode() if "file" in inputs else Path(__file__).with_name(inputs["rows_from"]).read_bytes()
    return check_rows(read_limits(text))


def moment(value: float | None, inputs: Inputs) -> float | None:
    """Give a moment in the unit of the case."""
    return None if value is None else express(value, inputs["unit"], dimension="moment")


def net_reading(inputs: Inputs) -> Outcome:
    """What is left of the reading without the tare."""
    (support,) = weighed(inputs).supports
    return {"net": support.net.value}


def static_moment(inputs: Inputs) -> Outcome:
    """Moment and sense."""
    found = weighed(inputs).static_moment.value
    return {"static_moment": moment(found, inputs), "sense": sense_word(found)}


def decision(inputs: Inputs) -> Outcome:
    """Moment, limits and statements."""
    result = weighed(inputs)
    return {
        **static_moment(inputs),
        "statement_simple": result.statement_simple,
        "statement_guarded": result.statement_guarded or "",
        "margin": moment(result.margin, inputs),
        "lower_Nm": result.limits.lower,
        "upper_Nm": result.limits.upper,
    }


def reading_limits(inputs: Inputs) -> Outcome:
    """Statement and margin of the reading at the document's own point, in the reading's unit."""
    (of_reading,) = weighed(inputs).statements
    assert of_reading.of == "reading"
    return {"statement_simple": of_reading.statement_simple, "margin": of_reading.margin}


def contributions(inputs: Inputs) -> Outcome:
    """What each cause brings to the moment."""
    return {CAUSES[row.source]: moment(row.contribution, inputs) for row in weighed(inputs).budget}


def full_budget(inputs: Inputs) -> Outcome:
    """Everything that a weighing with a budget says."""
    result = weighed(inputs)
    of_moment = result.static_moment
    return {
        **decision(inputs),
        **contributions(inputs),
        "standard_uncertainty": moment(of_moment.standard_uncertainty, inputs),
        "whole_degrees_of_freedom": whole_degrees(of_moment.degrees_of_freedom),
        "expanded_uncertainty": moment(of_moment.expanded_uncertainty, inputs),
        "guarded_upper": moment(result.limits.guarded_upper, inputs),
        "probability_within": result.probability_within,
    }


def reading_window(inputs: Inputs) -> Outcome:
    """What the scale may show, before the surface is touched."""
    window = plan_weighing(read_weighing(inputs["file"].encode()).weighing).reading_window
    assert window.at_lower is not None
    assert window.at_upper is not None
    assert window.at_lower.unit == window.at_upper.unit == "g"
    return {"window": [window.at_lower.value, window.at_upper.value]}


def printed_row(inputs: Inputs) -> Outcome:
    """What is found in one row: where, computed to what, how far off."""
    (row,) = checked(inputs).rows
    outcome: Outcome = {"doubts": len(row.doubts)}
    for kind in ("contradictions", "small_differences"):
        found = getattr(row, kind)
        outcome[kind] = [each.between for each in found]
        outcome[f"{kind}_percent"] = [each.difference_percent for each in found]
        if "unit" in inputs:
            outcome[f"{kind}_computed"] = [moment(each.computed, inputs) for each in found if each.unit == "N m"]
    outcome["centre_of_gravity_mm"] = [1000 * end for doubt in row.doubts for end in (doubt.least, doubt.most)]
    return outcome


def upper_limits(inputs: Inputs) -> Outcome:
    """The upper end of every row."""
    return {"upper": [moment(row.upper, inputs) for row in checked(inputs).rows]}


def makers_rows(inputs: Inputs) -> Outcome:
    """Which rows of a whole file contradict themselves."""
    rows = checked(inputs).rows
    return {
        "rows": len(rows),
        "with_contradictions": [row.surface for row in rows if row.contradictions],
        "with_small_differences": [row.surface for row in rows if row.small_differences],
    }


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "net reading": net_reading,
    "static moment": static_moment,
    "decision": decision,
    "reading limits": reading_limits,
    "contributions": contributions,
    "full budget": full_budget,
    "reading window": reading_window,
    "printed row": printed_row,
    "upper limits": upper_limits,
    "makers' rows": makers_rows,
}
