"""The page of ``hingeline swing``: the inertia first, then why."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.budget_table import show_budget
from hingeline_app.cli.page import Page
from hingeline_app.cli.sections import Sections
from hingeline_app.figures.wording import (
    format_measured,
    format_number,
    format_quantity,
    places_for,
)

Document = Mapping[str, Any]


def show_swing(document: Document) -> None:
    """Show the inertia that a swing gives."""
    page = Page()
    fill_swing(page, document)
    page.show()


def fill_swing(page: Page | Sections, document: Document) -> None:
    """Put together the inertia that a swing gives."""
    page.title(document["name"] or "The surface", f"inertia about the hinge line, by {document['method']}")
    page.pairs(_numbers(document))
    show_budget(page, document["budget"], "inertia", "kg m^2")
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])


def _numbers(document: Document) -> list[tuple[str, str]]:
    rows = [("inertia, I", _measured(document["inertia"], "kg m^2")), ("", _meaning(document["inertia"]))]
    for field, words in (
        ("inertia_with_added_mass", "with the added mass"),
        ("inertia_about_centre", "about the centre of gravity"),
    ):
        if document[field]:
            value = document[field]["value"]
            rows.append((words, format_quantity(value, "kg m^2", places=places_for(value, 4))))
    if document["radius_of_gyration"]:
        rows.append(("radius of gyration", _millimetres(document["radius_of_gyration"])))
    rows.append(("one swing there and back", _measured(document["period"], "s")))
    at_zero = document["period_at_zero"]["value"]
    corrected = f"{format_quantity(at_zero, 's', places=places_for(at_zero, 5))}, divided by "
    rows.append(("at zero amplitude", corrected + format_number(document["amplitude_factor"], 5)))
    return rows


def _measured(quantity: Document, unit: str) -> str:
    return format_measured(quantity["value"], quantity["expanded_uncertainty"], unit)


def _meaning(inertia: Document) -> str:
    if inertia["expanded_uncertainty"] is None:
        return "no uncertainty can be given"
    return f"± is the expanded uncertainty U, k = {inertia['coverage_factor']:.2f}"


def _millimetres(quantity: Document) -> str:
    expanded = quantity["expanded_uncertainty"]
    return format_measured(1000.0 * quantity["value"], None if expanded is None else 1000.0 * expanded, "mm")
