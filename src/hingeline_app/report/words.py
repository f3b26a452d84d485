"""The sentences of a worksheet, made from a result document."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.units import sense_word
from hingeline_app.figures.window import window_text
from hingeline_app.figures.wording import (
    NO_BREAK_SPACE,
    describe_margin,
    format_cause,
    format_measured,
    format_moment_range,
    format_number,
    format_percent,
    format_quantity,
    format_range,
    measured_places,
    value_and_allowed,
    with_unit,
)
from hingeline_app.report.quantities import (
    as_typed,
    expanded_of,
    is_between_bands,
    nearer_side,
    signed_arm,
    unit_of,
    value_of,
    written,
)
from hingeline_app.report.record import Result

MOMENT = "static moment"
MOST_BUDGET_ROWS = 7
MOST_INLINE_TERMS = 3
MANY_DEGREES = 100.0  # from here on k is that of the normal distribution to two decimals


def has_limits(result: Result) -> bool:
    """Tell whether the static moment has any limit."""
    limits = result.get("limits") or {}
    return any(value_of(limits.get(end)) is not None for end in ("lower", "upper"))


def statement_side(result: Result) -> str:
    """Return toward which limit the leading value lies: for the glyph."""
    leading = _leading(result)
    return nearer_side(*(value_of(leading.get(name)) for name in ("value", "lower", "upper")))


def _leading(result: Result) -> Mapping[str, Any]:
    """Return what the statement rests on: the static moment, unless another limit's statement is the worse."""
    limits = result.get("limits") or {}
    moment = {
        "of": MOMENT,
        "value": result["static_moment"],
        "lower": limits.get("lower"),
        "upper": limits.get("upper"),
    }
    if moment_statement(result) == result.get("statement"):
        return moment
    return next((entry for entry in _others(result) if _by_rule(entry, result) == result.get("statement")), moment)


def moment_statement(result: Result) -> str | None:
    """Return the statement about the static moment alone: the pictures show that one."""
    own = (_by_rule(entry, result) for entry in result.get("statements") or [] if entry.get("of") == MOMENT)
    statement = next(own, result.get("statement"))
    return None if statement is None else str(statement)


def _by_rule(entry: Mapping[str, Any], result: Result) -> Any:
    return entry.get(f"statement_{result.get('rule', 'simple')}")


def statement_lines(result: Result) -> list[str]:
    """Say the moment, how far it is from its limits, what the other rule says, and the other statements.

    Where another limit leads the statement, its line comes first.
    """
    leading = _leading(result)
    others = [entry for entry in _others(result) if entry is not leading]
    lines = [] if leading.get("of") == MOMENT else [_other_statement(leading, result)]
    lines += [line for line in (_moment_line(result), _other_rule(result), _friction(result)) if line]
    return lines + [_other_statement(entry, result) for entry in others]


def _moment_line(result: Result) -> str:
    moment, limits = result["static_moment"], result.get("limits") or {}
    value, expanded = value_of(moment), expanded_of(moment)
    if value is None:
        return ""
    measured = format_measured(value, expanded, "N m", sense=True)
    without = "" if expanded is not None else " (no ± could be given)"
    lower, upper = value_of(limits.get("lower")), value_of(limits.get("upper"))
    return f"{measured}{without}, {describe_margin(value, lower, upper, measured_places(value, expanded))}."


def _other_rule(result: Result) -> str:
    rule = result.get("rule", "simple")
    other = "guarded" if rule == "simple" else "simple"
    statement = result.get(f"statement_{other}")
    return f"This is by the {rule} rule; by the {other} rule: {statement}." if statement else ""


def _friction(result: Result) -> str:
    friction = result.get("friction_moment")
    if not friction or value_of(friction) is None:
        return ""
    value, allowed = value_of(friction) or 0.0, friction.get("allowed")
    if allowed is None:
        return f"Friction moment {written(friction, 3)}."
    limit = value_of(allowed) if isinstance(allowed, Mapping) else float(allowed)
    shown, most = value_and_allowed(value, limit or 0.0, "N m", digits=3)
    return f"Friction moment {shown}, {'within' if friction.get('within') else 'beyond'} the {most} allowed."


def _others(result: Result) -> list[Mapping[str, Any]]:
    return [entry for entry in result.get("statements") or [] if entry.get("of") != MOMENT]


def _other_statement(entry: Mapping[str, Any], result: Result) -> str:
    names = ("value", "expanded_uncertainty", "lower", "upper")
    value, expanded, lower, upper = (value_of(entry.get(name)) for name in names)
    unit = unit_of(entry.get("value"))
    statement = _by_rule(entry, result) or entry.get("statement_simple") or "no statement"
    name = str(entry.get("of", "")).capitalize()
    # What was stated without a ± counts as exact and is written as it was stated: "± 0.0" would be a claim.
    measured = format_measured(value or 0.0, expanded, unit) if expanded else written(entry.get("value"))
    if is_between_bands(entry):
        return f"{name} {measured}, in none of the mass bands: {statement}."
    return f"{name} {measured}, limits {format_range(lower, upper, unit)}: {statement}."


def sum_written_out(result: Result) -> str:
    """Write the sum that gives the moment, as far as it goes on one line."""
    moment = value_of(result["static_moment"])
    if moment is None:
        return ""
    places = measured_places(moment, expanded_of(result["static_moment"]))
    total = f"{with_unit(format_number(abs(moment), places), 'N m')}{NO_BREAK_SPACE}{sense_word(moment)}"
    supports, terms = result.get("supports") or [], result.get("terms") or []
    if len(supports) == 1 and len(terms) <= 1:
        return f"{_single_product(supports[0], result)} = {total}"
    if len(terms) <= MOST_INLINE_TERMS:
        written_terms = [_signed(value_of(term["moment"]) or 0.0, places) for term in terms]
        return f"{' '.join(written_terms).removeprefix('+ ')} = {total}"
    return f"sum of {len(terms)} moments = {total}"


def _signed(value: float, places: int) -> str:
    return f"{'−' if value < 0 else '+'} {format_number(abs(value), places)}"


def _single_product(support: Mapping[str, Any], result: Result) -> str:
    net, arm = support.get("net"), abs(signed_arm(support))
    lever = format_quantity(arm, "m", digits=5)
    value, unit = value_of(net), unit_of(net)
    gravity = value_of(result.get("local_gravity"))
    if value is None or gravity is None or unit not in ("g", "kg"):
        force = value_of(support.get("force")) or 0.0
        return f"{format_quantity(abs(force), 'N', digits=5)} × {lever}"
    kilograms = value / 1e3 if unit == "g" else value
    return f"{format_quantity(kilograms, 'kg', digits=5)} × {format_quantity(gravity, 'm/s^2', digits=7)} × {lever}"


def term_rows(result: Result) -> list[list[str]]:
    """List the terms of the sum where they did not go on one line."""
    terms = result.get("terms") or []
    if len(terms) < 2:
        return []
    moment = value_of(result["static_moment"]) or 0.0
    places = measured_places(moment, expanded_of(result["static_moment"]))
    return [[str(term["name"]), format_number(value_of(term["moment"]) or 0.0, places)] for term in terms]


def budget_rows(result: Result, most: int = MOST_BUDGET_ROWS) -> list[list[str]]:
    """List what the ± is made of, largest first; the small ones together."""
    rows = list(result.get("budget") or [])
    shown = rows if len(rows) <= most else rows[: most - 1]
    lines = [_budget_row(row) for row in shown]
    rest = rows[len(shown) :]
    if rest:
        share = sum(float(row.get("share") or 0.0) for row in rest)
        lines.append([f"{len(rest)} more, listed in the attached result", "", format_percent(share)])
    return lines


def _budget_row(row: Mapping[str, Any]) -> list[str]:
    standard = row.get("standard_uncertainty")
    unit = str(row.get("unit") or unit_of(standard if isinstance(standard, Mapping) else None))
    value = value_of(standard) if isinstance(standard, Mapping) else standard
    text = "" if value is None else format_cause(float(value), unit)
    return [str(row.get("source", "")), text, format_percent(float(row.get("share") or 0.0))]


def uncertainty_words(result: Result) -> str:
    """Say what the ± is."""
    moment = result["static_moment"]
    factor, freedom = moment.get("coverage_factor"), moment.get("degrees_of_freedom")
    if expanded_of(moment) is None or factor is None:
        return "no ± could be given"
    words = f"± is the expanded uncertainty, k = {format_quantity(factor, '', digits=3)}"
    if freedom is None or freedom > MANY_DEGREES:
        return words
    return f"{words}, {format_number(freedom, 0)} degrees of freedom"


def window_words(result: Result) -> str:
    """Say which readings the scale may show inside the limits."""
    simple, guarded = window_text(result), window_text(result, guarded=True)
    if not simple:
        return ""
    return f"Inside the limits the scale shows {simple}" + (f" (guarded {guarded})." if guarded else ".")


def limits_words(result: Result) -> str:
    """Write the approved limits with their sense."""
    limits = result.get("limits")
    if not limits:
        return "none given"
    lower, upper = limits.get("lower"), limits.get("upper")
    words = format_moment_range(value_of(lower), value_of(upper))
    typed = [str(end["typed"]) for end in (lower, upper) if end and end.get("typed")]
    if all(text.endswith("N m") for text in typed):
        return words
    return f"{words} ({' … '.join(as_typed(text) for text in typed)} as typed)"
