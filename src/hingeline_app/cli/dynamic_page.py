"""The page of ``hingeline dynamic``: static and dynamic balance side by side."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.cli.picture import three_places_svg
from hingeline_app.cli.sections import Sections
from hingeline_app.figures.wording import NOT_KNOWN, format_moment, format_number, format_quantity, places_for

Document = Mapping[str, Any]


def show_dynamic(document: Document) -> None:
    """Show what a spread of mass makes of static and dynamic balance."""
    page = Page()
    fill_dynamic(page, document)
    page.show()


def fill_dynamic(page: Page | Sections, document: Document) -> None:
    """Put together what a spread of mass makes of static and dynamic balance."""
    page.title(document["name"] or "The surface", "static and dynamic balance: an estimate")
    page.pairs(_numbers(document))
    weight = document["weight"]
    if weight is not None:
        arm = format_quantity(1000.0 * weight["arm"]["value"], "mm")
        mass = format_quantity(1000.0 * weight["mass"]["value"], "g")
        page.line(f"Tried: a weight of {mass}, {arm} {weight['side']} of the hinge line.")
    head = ("", "weight at", "static moment", "I, kg m²", "K, kg m²", "K/I")
    rows = [_row("without it", None, document)]
    rows += [_row(place["name"], place["spanwise"]["value"], place) for place in document["places"]]
    page.table("Static beside dynamic balance", head, rows)
    if document["places"]:
        page.picture(three_places_svg(document), "The surface from above, with the weight at each of its places.")
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])


def _numbers(document: Document) -> list[tuple[str, str]]:
    aft, outboard = document["centre_aft"]["value"], document["centre_spanwise"]["value"]
    side = "aft of" if aft > 0.0 else "forward of" if aft < 0.0 else "on"
    along = format_quantity(outboard, "m", places=3)
    return [
        ("mass", format_quantity(document["mass"]["value"], "kg", places=3)),
        ("centre of gravity", f"{format_quantity(abs(1000.0 * aft), 'mm', places=1)} {side} the hinge line, "
                              f"{along} from the axis"),
        ("static moment", format_moment(document["static_moment"]["value"], places=3)),
    ]  # fmt: skip


def _row(name: str, spanwise: float | None, spread: Document) -> tuple[str, ...]:
    coefficient = spread["dynamic_coefficient"]
    return (
        name,
        NOT_KNOWN if spanwise is None else format_quantity(spanwise, "m", places=3),
        format_moment(spread["static_moment"]["value"], places=3),
        _four(spread["inertia"]["value"]),
        _four(spread["product_of_inertia"]["value"]),
        NOT_KNOWN if coefficient is None else format_number(coefficient, 2),
    )


def _four(value: float) -> str:
    """Write four significant digits, and no more than six decimals."""
    return format_number(value, min(6, max(0, places_for(value, 4))) if value else 0)
