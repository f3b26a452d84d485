"""The page of ``hingeline weigh``: statement first, then why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.budget_table import show_budget
from hingeline_app.cli.page import Page, of_quantity, value_of
from hingeline_app.figures.axis import LimitBar
from hingeline_app.figures.limits.text import limit_bar_text
from hingeline_app.figures.window import window_text
from hingeline_app.figures.wording import (
    describe_margin,
    format_measured,
    format_moment_range,
    format_probability,
    format_quantity,
    format_scaled,
    inward_ends,
    measured_places,
    outward_ends,
    value_and_allowed,
)
from hingeline_app.report.quantities import is_between_bands, written

Document = Mapping[str, Any]


def show_weighing(document: Document) -> None:
    """Show the result of a weighing."""
    page = Page()
    page.title(document["surface"]["name"], "one weighing about the hinge line")
    _statement(page, document)
    _band(page, document)
    _numbers(page, document)
    _sum(page, document)
    show_budget(page, document["budget"], "moment", "N m")
    _planning(page, document)
    _monte_carlo(page, document.get("monte_carlo"))
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def show_plan(document: Document) -> None:
    """Show what the scale may show, before the work."""
    page = Page()
    page.title(document["surface"]["name"], "before the weighing: an estimate")
    limits = document["limits"]
    page.line(f"Approved limits: {_limits(limits['lower'], limits['upper'])}")
    page.line(f"Source of the limits: {document['limits_source'] or 'not given'}")
    expected = document["expected_expanded_uncertainty"]
    if expected:
        page.line(f"Expected uncertainty: U = {format_scaled(expected['value'], 'N m')}, without the readings' scatter")
    _window(page, document)
    show_budget(page, document["budget"], "moment", "N m")
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _statement(page: Page, document: Document) -> None:
    moment = _moment(document["static_moment"])
    statement, rule = document["statement"], document["rule"]
    if statement is None:
        page.statement(None, f"No statement. {moment}.", "The notes say what is missing.")
        return
    margin = [_margin(each, rule) for each in document["statements"]]
    other = "guarded" if rule == "simple" else "simple"
    found = document[f"statement_{other}"]
    also = f"By the {other} rule: {found or 'no statement, since no uncertainty can be given'}."
    page.statement(statement, f"{moment}: {'; '.join(margin)}.", f"By the {rule} rule, as stated. {also}")


def _moment(quantity: Document) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True)


def _margin(decision: Document, rule: str) -> str:
    value, expanded = value_of(decision["value"]), value_of(decision["expanded_uncertainty"])
    places = measured_places(value or 0.0, expanded)
    margin = describe_margin(
        value or 0.0, value_of(decision["lower"]), value_of(decision["upper"]), places, decision["unit"]
    )
    if decision["of"] == "static moment":
        return margin
    shown = format_measured(value or 0.0, expanded or None, decision["unit"])
    where = "in none of the mass bands" if is_between_bands(decision) else margin
    return f"{decision['of']} {shown} {decision[f'statement_{rule}']}, {where}"


def _band(page: Page, document: Document) -> None:
    limits, moment = document["limits"], document["static_moment"]
    bar = LimitBar(
        value=moment["value"],
        uncertainty=moment["expanded_uncertainty"],
        lower=value_of(limits["lower"]),
        upper=value_of(limits["upper"]),
        guarded_lower=value_of(limits["guarded_lower"]),
        guarded_upper=value_of(limits["guarded_upper"]),
        statement=document["statement"],
        coverage_factor=moment["coverage_factor"],
    )
    page.drawing(limit_bar_text(bar, page.columns - 4))


def _numbers(page: Page, document: Document) -> None:
    moment, limits = document["static_moment"], document["limits"]
    rows = [("static moment", _moment(moment)), ("", _meaning(moment))]
    rows.append(("approved limits", _limits(limits["lower"], limits["upper"])))
    if limits["guarded_lower"] or limits["guarded_upper"]:
        rows.append(("guarded", _limits(limits["guarded_lower"], limits["guarded_upper"], guarded=True)))
    rows.append(("source of the limits", document["limits_source"] or "not given"))
    if document["probability_within"] is not None:
        rows.append(
            ("probability within", f"{format_probability(document['probability_within'])} (normal, by value and u)")
        )
    if document["centre_of_gravity"]:
        rows.append(("centre of gravity", _centre(document["centre_of_gravity"])))
    if document["friction_moment"]:
        rows.append(("friction moment", _friction(document["friction_moment"])))
    if document["supports"]:
        tares = " · ".join(written(support["tare"]) for support in document["supports"])
        rows.append(("tare", f"{tares}, taken off what the scale shows"))
    rows.append(("local gravity", format_quantity(document["local_gravity"]["value"], "m/s^2", digits=6)))
    page.pairs(rows)
    _window(page, document)


def _meaning(moment: Document) -> str:
    if moment["expanded_uncertainty"] is None:
        return "no uncertainty can be given"
    freedom = moment["degrees_of_freedom"]
    degrees = "degrees of freedom not limited" if freedom is None else f"{int(freedom)} degrees of freedom"
    return f"± is the expanded uncertainty U, k = {moment['coverage_factor']:.2f}; {degrees}"


def _limits(lower: Document | None, upper: Document | None, *, guarded: bool = False) -> str:
    low, high = value_of(lower), value_of(upper)
    if low is None and high is None:
        return "none given"
    if guarded and low is not None and high is not None and low >= high:
        return "empty: U is as wide as the limits"
    if guarded:
        low, high = inward_ends(low, high, 3)
    return format_moment_range(low, high)


def _centre(quantity: Document) -> str:
    millimetres = quantity["value"] * 1000.0
    expanded = quantity["expanded_uncertainty"]
    side = "aft of" if millimetres > 0 else "forward of" if millimetres < 0 else "on"
    shown = format_measured(abs(millimetres), None if expanded is None else expanded * 1000.0, "mm")
    return f"{shown} {side} the hinge line"


def _friction(friction: Document) -> str:
    if friction["within"] is None:
        return f"{format_quantity(friction['value'], 'N m')}; no allowance is stated"
    word = "within" if friction["within"] else "ABOVE"
    shown, allowed = value_and_allowed(friction["value"], friction["allowed"]["value"], friction["allowed"]["unit"])
    return f"{shown}, {word} the {allowed} allowed"


def _window(page: Page, document: Document) -> None:
    shown, guarded = window_text(document), window_text(document, guarded=True)
    if shown:
        also = f"; guarded {guarded}" if guarded else ""
        page.line(f"Within the limits the scale shows {shown}{also} (tare included, rounded inward).")


def _sum(page: Page, document: Document) -> None:
    rows = [(term["name"], _term(document, index, term)) for index, term in enumerate(document["terms"])]
    if len(rows) > 1:
        rows.append(("sum", _moment({**document["static_moment"], "expanded_uncertainty": None})))
    page.pairs(rows, heading="The sum, written out")


def _term(document: Document, index: int, term: Document) -> str:
    moment = _moment({**term["moment"], "expanded_uncertainty": None})
    if index >= len(document["supports"]):
        return moment
    support = document["supports"][index]
    net, arm = of_quantity(support["net"]), format_quantity(support["arm"]["value"], "m")
    gravity = " × local gravity" if support["net"]["unit"] not in ("N", "daN", "kN", "mN", "kgf", "kp", "lbf") else ""
    pull = "pull of " if support["pushes"] == "down" else ""
    return f"{pull}{net}{gravity} × {arm} {support['side']} = {moment}"


def _planning(page: Page, document: Document) -> None:
    planning = document["planning"]
    if planning is None:
        return
    needed = format_scaled(planning["needed_expanded_uncertainty"]["value"], "N m", toward="down")
    page.sentences(
        "To reach a statement by the guarded rule", [f"U would have to fall below {needed}.", planning["advice"]]
    )


def _monte_carlo(page: Page, simulation: Document | None) -> None:
    if simulation is None:
        return
    drawn = format_moment_range(*outward_ends(simulation["low"]["value"], simulation["high"]["value"], 4))
    page.sentences(
        f"By {simulation['draws']:,} draws (seed {simulation['seed']})".replace(",", " "),
        [f"{100 * simulation['coverage']:g} % of the draws lie within {drawn}.", simulation["sentence"]],
    )
