"""How the onset moves with one number of the file, or with two, as tables of the page."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from hingeline_app.cli.flutter_words import figures, knots_text, speed_text
from hingeline_app.cli.page import Page
from hingeline_app.figures.wording import format_number, shared_places, unit_text

Document = Mapping[str, Any]

MOST_ABREAST = 9
"""Columns of a map; a wider one stands in the document alone."""
NONE, GROWS = "none", "grows"
MEANINGS = "none: no growth found in the range, which is no proof. grows: a motion grows already at the lowest speed."


def show_variation(page: Page, found: Document | None) -> None:
    """Show a table over one number, or a map over two."""
    if found is None or not found["points"]:
        return
    (_over_two if len(found["fields"]) == 2 else _over_one)(page, found)
    page.line(MEANINGS)


def named(found: Document, index: int) -> str:
    """Name a number that was varied: its unit, and of a static moment which side counts as positive."""
    field, unit = found["fields"][index], unit_text(found["units"][index])
    words = field if unit in ("", "1") else f"{field}, {unit}"
    return f"{words}, tail-heavy positive" if field.endswith("static_moment") else words


def values_text(values: Sequence[float]) -> list[str]:
    """Write values with as many places as tell them apart."""
    places = shared_places(list(values), most=6)
    return [format_number(value, places) for value in values]


def _over_one(page: Page, found: Document) -> None:
    points = found["points"]
    names = values_text([point["values"][0] for point in points])
    rows = [(name, *_told(point)) for name, point in zip(names, points, strict=True)]
    heading = f"How the onset moves with {named(found, 0)} (an estimate)"
    page.table(heading, ("value", "growth starts at", "true airspeed"), rows)


def _told(point: Document) -> tuple[str, str]:
    if point["growing_at_lowest_speed"]:
        return GROWS, ""
    if point["speed"] is None:
        return NONE, ""
    return speed_text(point["speed"]["value"]), knots_text(point["speed"]["value"])


def _over_two(page: Page, found: Document) -> None:
    first, second = ends_of(found)
    if len(second) > MOST_ABREAST:
        page.line(f"The map has {len(second)} columns, more than a page holds: --picture draws it, --json lists it.")
        return
    cells = cells_of(found)
    rows = [
        (name, *(cell_text(cells[one, other]) if (one, other) in cells else "" for other in second))
        for name, one in zip(values_text(first), first, strict=True)
    ]
    page.table(
        f"Where growth starts, m/s true airspeed (an estimate). Down: {named(found, 0)}; across: {named(found, 1)}",
        ("", *values_text(second)),
        rows,
    )


def ends_of(found: Document) -> tuple[list[float], list[float]]:
    """Give the values of each of two numbers, in order."""
    first, second = (list(dict.fromkeys(point["values"][index] for point in found["points"])) for index in (0, 1))
    return first, second


def cells_of(found: Document) -> dict[tuple[float, float], Document]:
    """Give the points of a map by both values."""
    return {(point["values"][0], point["values"][1]): point for point in found["points"]}


def cell_text(point: Document) -> str:
    """Write one cell of a map."""
    if point["growing_at_lowest_speed"]:
        return GROWS
    return NONE if point["speed"] is None else figures(point["speed"]["value"], "", 3).strip()
