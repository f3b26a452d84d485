"""The page of ``hingeline stick``: each manoeuvre, then what changes when the weight is gone. Signs are words."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hingeline_app.cli.page import Page
from hingeline_app.figures.wording import format_number, places_for, unit_text, with_unit

Document = Mapping[str, Any]

DIGITS = 3
EDGE, HAND = ("down", "up"), ("pull", "push")


def show_stick(document: Document) -> None:
    """Show what an unbalanced surface does at the stick."""
    page = Page()
    page.title(document["name"] or "Surface", "what its own mass does at the stick, flutter aside")
    head = ("manoeuvre", "load factor", "moves the trailing edge", "at the stick", "for one g more")
    page.table("In each manoeuvre", head, [_row(each) for each in document["loads"]])
    page.pairs(_numbers(document))
    _trimmed(page, document["trimmed"])
    page.sentences("Notes", document["notes"])
    page.sentences("Assumed", document["assumptions"])
    page.cautions(document["cautions"])
    page.show()


def _row(load: Document) -> tuple[str, ...]:
    return (
        load["name"],
        format_number(load["load_factor"], 2),
        _with_sense(load["hinge_moment"]["value"], "N m", EDGE),
        _with_sense(load["stick_force"]["value"], "N", HAND),
        _with_sense(load["stick_force_per_g"]["value"], "N", HAND),
    )


def _numbers(document: Document) -> Iterator[tuple[str, str]]:
    gearing = math.degrees(document["gearing"]["value"]) / 100.0
    yield "gearing", f"{format_number(gearing, places_for(gearing, DIGITS))}° of surface for 1 cm of stick"
    lost = document["lost"]
    if lost is not None:
        moment = _with_sense(lost["hinge_moment"]["value"], "N m", EDGE)
        yield "weight gone, level flight", f"{moment} at the trailing edge, beside what is there"
        yield "", f"{_with_sense(lost['stick_force']['value'], 'N', HAND)} at the stick, beside what is there"


def _trimmed(page: Page, trimmed: Sequence[Document]) -> None:
    rows = [(_speed(each), _turned(each["tab_angle"]), _turned(each["floating_angle"])) for each in trimmed]
    if rows:
        head = ("true airspeed", "the tab trims it out", "let go, the surface moves")
        page.table("When the weight is gone, in level flight: trailing edges", head, rows)


def _with_sense(value: float, unit: str, senses: tuple[str, str]) -> str:
    """Write a size with its sense in words, so that no sign has to be remembered."""
    if value == 0.0:
        return with_unit("0", unit)
    size = format_number(abs(value), max(0, places_for(abs(value), DIGITS)))
    sense = senses[0] if value > 0.0 else senses[1]
    return f"{size}° {sense}" if unit == "°" else f"{with_unit(size, unit_text(unit))} {sense}"


def _turned(angle: Document) -> str:
    return _with_sense(math.degrees(angle["value"]), "°", EDGE)


def _speed(each: Document) -> str:
    speed = each["speed"]["value"]
    return with_unit(format_number(speed, max(0, places_for(speed, DIGITS))), "m/s")
