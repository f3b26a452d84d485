"""The page of ``hingeline flutter``: the finding first, then what it rests on. No word here is a good one."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.figures.wording import format_number, format_quantity, places_for

Document = Mapping[str, Any]
KNOT = 1852.0 / 3600.0


def show_flutter(document: Document) -> None:
    """Show what a model says."""
    page = Page()
    page.title(document["name"] or "The model", "an estimate from a model, true airspeed")
    page.line(_finding(document))
    page.pairs(_facts(document))
    _crossings(page, document["crossings"])
    _shape(page, document["flutter"])
    _roots(page, document["roots"])
    _sensitivities(page, document["sensitivities"])
    page.sentences("What the model assumes", document["assumptions"])
    page.sentences("Notes", document["notes"])
    page.cautions(document["cautions"])
    page.show()


def _finding(document: Document) -> str:
    low, high = (_speed(speed) for speed in document["speeds"])
    if document["growing_at_lowest_speed"]:
        return f"A motion grows already at {low}, the lowest speed searched: there is no onset to find."
    onset = document["flutter"]
    if onset is None:
        return f"The model finds no growth from {low} up to {high}: not proof."
    return f"Growth starts at {_speed(onset['speed'])}, at {_hertz(onset['frequency'])}: {onset['mode']['words']}."


def _facts(document: Document) -> list[tuple[str, str]]:
    rows = [("searched", " … ".join(_speed(speed) for speed in document["speeds"]))]
    if document["flutter"]:
        rows.append(("reduced frequency", format_number(document["flutter"]["reduced_frequency"], 3)))
    for field, words in (("divergence", "divergence"), ("reversal", "control reversal")):
        found = document[field]
        rows.append((words, _speed(found["speed"]) if found else "none found in the range"))
    modes = ", ".join(_hertz(frequency) for frequency in document["natural_frequencies"])
    rows.append(("modes in vacuo", modes))
    rows.append(("air density", format_quantity(document["density"]["value"], "kg/m^3")))
    rows.append(("wake", document["wake"]))
    return rows


def _speed(quantity: Document) -> str:
    value = quantity["value"]
    return f"{format_quantity(value, 'm/s', places=1)} ({format_quantity(value / KNOT, 'kn', places=0)})"


def _hertz(quantity: Document) -> str:
    return format_quantity(quantity["value"], "Hz", places=2)


def _crossings(page: Page, crossings: list[Document]) -> None:
    rows = [(_speed(each["speed"]), _hertz(each["frequency"]), f"{each['direction']} growth") for each in crossings]
    if rows:
        page.table("Every neutral point found", ("speed", "frequency", "a mode goes, with rising speed"), rows)


def _shape(page: Page, onset: Document | None) -> None:
    if onset is None:
        return
    rows = [
        (part["freedom"], format_number(part["magnitude"], 3), _degrees(part["phase"]["value"]))
        for part in onset["mode"]["shape"]
    ]
    page.table("The motion at onset", ("freedom", "size over the largest", "phase"), rows)


def _degrees(radians: float) -> str:
    return format_quantity(math.degrees(radians), "°", places=0)


def _roots(page: Page, speeds: list[Document] | None) -> None:
    rows = [
        (_speed(each["speed"]), str(root["mode"]), _hertz(root["frequency"]), format_number(root["damping_ratio"], 4))
        for each in speeds or []
        for root in each["roots"]
    ]
    if rows:
        page.table("Modes over speed", ("speed", "mode", "frequency", "damping ratio, below 0 it grows"), rows)


def _sensitivities(page: Page, sensitivities: list[Document] | None) -> None:
    rows = [
        (each["field"], _four(each["derivative"]), format_number(each["elasticity"], 3))
        for each in sensitivities or []
        if each["derivative"]
    ]
    if rows:
        head = ("number of the model", "m/s of onset for one SI unit", "per cent for one per cent")
        page.table("How the onset moves", head, rows)


def _four(value: float) -> str:
    return format_number(value, min(8, max(0, places_for(value, 4)))) if value else "0"
