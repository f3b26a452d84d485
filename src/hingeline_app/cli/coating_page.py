"""The page of ``hingeline coating``: what is predicted first, then why, then what is left."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from hingeline_app.cli.budget_table import show_budget
from hingeline_app.cli.page import Page, value_of
from hingeline_app.cli.picture import limit_change_svg
from hingeline_app.cli.sections import Sections
from hingeline_app.figures.correction.coating import coating_bars, further_coats
from hingeline_app.figures.limits.change import change_finding
from hingeline_app.figures.limits.change_text import limit_change_text
from hingeline_app.figures.wording import (
    NOT_KNOWN,
    describe_margin,
    format_measured,
    format_moment,
    format_moment_range,
    format_quantity,
    format_scaled,
    inward_ends,
    measured_places,
    places_for,
)

Document = Mapping[str, Any]


def show_coating(document: Document) -> None:
    """Show what painting and stripping will do."""
    page = Page()
    fill_coating(page, document)
    page.show()


def fill_coating(page: Page | Sections, document: Document) -> None:
    """Put together what painting and stripping will do."""
    for surface in document["surfaces"]:
        _surface(page, surface)
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])


def _surface(page: Page | Sections, surface: Document) -> None:
    page.title(surface["name"] or "The surface", "after painting and stripping: predicted, not weighed")
    if surface["moment_after"] is not None:
        _statement(page, surface)
        page.drawing(limit_change_text(*coating_bars(surface), page.columns - 4))
        page.picture(limit_change_svg(surface), change_finding(*coating_bars(surface)))
    page.pairs(_numbers(surface))
    _layers(page, surface["layers"])
    _still(page, surface["layers"])
    show_budget(page, surface["budget"], "moment", "N m")
    page.sentences("Notes on this surface", surface["notes"])


def _statement(page: Page | Sections, surface: Document) -> None:
    after = surface["moment_after"]
    word, rule = surface["predicted_statement"], surface["rule"]
    limits = value_of(surface["limits"]["lower"]), value_of(surface["limits"]["upper"])
    margin = describe_margin(after["value"], *limits, measured_places(after["value"], after["expanded_uncertainty"]))
    if word is None:
        page.statement(None, f"{_moment(after)} predicted: {margin}.", "The notes say what is missing.")
        return
    other = "guarded" if rule == "simple" else "simple"
    found = surface[f"predicted_statement_{other}"]
    also = f"By the {other} rule: {found or 'no statement, since no uncertainty can be given'}."
    page.statement(word, f"{_moment(after)}: {margin}.", f"By the {rule} rule. {also} A new weighing decides.",
                   predicted=True)  # fmt: skip


def _moment(quantity: Document) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], "N m", sense=True)


def _numbers(surface: Document) -> list[tuple[str, str]]:
    rows = []
    if surface["moment_before"]:
        rows.append(("moment as weighed", _weighed(surface["moment_before"])))
    rows.append(("change of moment", _moment(surface["moment_change"])))
    if surface["moment_after"]:
        rows.append(("moment predicted", _moment(surface["moment_after"])))
        limits = surface["limits"]
        rows.append(("approved limits", format_moment_range(value_of(limits["lower"]), value_of(limits["upper"]))))
        if limits["guarded_lower"] or limits["guarded_upper"]:
            rows.append(("guarded", _guarded(limits["guarded_lower"], limits["guarded_upper"])))
        rows.append(("source of the limits", surface["limits_source"] or "not given"))
    rows.append(("change of mass", _mass(surface["mass_change"])))
    if surface["mass_after"]:
        rows.append(("mass predicted", _mass(surface["mass_after"])))
    return rows


def _weighed(quantity: Document) -> str:
    """Write the moment before the work; where only u was given, as u: the k of that weighing is not known."""
    standard = quantity["standard_uncertainty"]
    if not standard or quantity["expanded_uncertainty"] is not None:
        return _moment(quantity)
    places = measured_places(quantity["value"], standard)
    return f"{format_moment(quantity['value'], places=places)}, u = {format_scaled(standard, 'N m')}"


def _band(lower: Document | None, upper: Document | None) -> str:
    return format_moment_range(*inward_ends(value_of(lower), value_of(upper), 3))


def _guarded(lower: Document | None, upper: Document | None) -> str:
    low, high = value_of(lower), value_of(upper)
    empty = low is not None and high is not None and low >= high
    return "empty: U is as wide as the limits" if empty else _band(lower, upper)


def _mass(quantity: Document) -> str:
    """Write a mass in grams below one kilogram, else in kilograms."""
    value, expanded = quantity["value"], quantity["expanded_uncertainty"]
    if abs(value) < 1.0:
        return format_measured(1000.0 * value, None if expanded is None else 1000.0 * expanded, "g")
    return format_measured(value, expanded, "kg")


def _layers(page: Page | Sections, layers: Iterable[Document]) -> None:
    rows = [
        (layer["name"], format_quantity(layer["count"], ""), _per_area(layer["mass_per_area"]),
         f"{format_quantity(1000.0 * layer['arm']['value'], 'mm')} {layer['side']}", _mass(layer["mass"]),
         _moment(layer["moment"]))
        for layer in layers
    ]  # fmt: skip
    page.table("The layers", ("layer", "count", "a coat, one face", "centroid", "mass", "moment"), rows)


def _per_area(quantity: Document | None) -> str:
    if quantity is None:
        return NOT_KNOWN
    grams = 1000.0 * quantity["value"]
    return format_quantity(grams, "g/m^2", places=max(0, places_for(grams, 3)))


def _still(page: Page | Sections, layers: Iterable[Document]) -> None:
    rows = [
        (layer["name"], words, *_allowance(layer[field]))
        for layer in layers
        for field, words in (("can_still_take", "the limit"), ("can_still_take_guarded", "the guarded limit"))
        if layer[field] is not None
    ]
    if rows:
        head = ("layer", "until", "further coats, one face", "over its area", "mass", "meets")
        page.table("What each layer could still take", head, rows)


def _allowance(allowance: Document) -> tuple[str, str, str, str]:
    """Round what is left down, so that what is written is allowed."""
    area, mass = allowance["mass_per_area"], _whole_grams(allowance["mass"], "g")
    per_area = NOT_KNOWN if area is None else _whole_grams(area, "g/m^2")
    return further_coats(allowance), per_area, mass, allowance["stops_at"]


def _whole_grams(quantity: Document, unit: str) -> str:
    return format_quantity(1000.0 * quantity["value"], unit, places=0, toward="down")
