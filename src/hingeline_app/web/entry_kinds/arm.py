"""Entries of the step Arm: a place looked at, walls measured, a treatment with its mass."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.arm.arm_points import BY_NAME, FOUND, METHODS
from hingeline_app.bench.arm.arm_walls import smallest_wall
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.web.entry_kinds.rows import set_row, short
from hingeline_app.web.entry_kinds.told import Told

OF_A_WALL = ("walls", "uncertainty", "limit", "source", "nominal")


def point(told: Told) -> Any:
    """Say what was found at a place, and how it was looked for; at the wall the readings too."""
    place = BY_NAME.get(told.text("point"))
    if place is None:
        raise InputRefused.of("point", told.text("point"), "one of the page's places", "Load the page again.")
    row = {
        "name": place.words,
        "seen": _one_of(told, "seen", FOUND),
        "method": _one_of(told, "method", METHODS),
        "note": short(told, "note", 400),
        **(_wall(told) if told.text("walls") else {}),
    }
    return set_row(told, f"arm.points.{place.name}", row)


def treatment(told: Told) -> Any:
    """Enter a treatment; its mass changes the balance, so that the surface is weighed again."""
    what, mass = short(told, "what"), short(told, "mass", 40)
    if not what:
        raise InputRefused.of("what", "", "what was put on or taken off", "For instance: primer, two coats.")
    if mass:
        read(mass, "mass", field="mass", page=True)
    last = job_of(told.actor.person, told.number).weighing  # type: ignore[arg-type]
    row = {"what": what, "mass": mass, "where": short(told, "where"), "after_weighing": last.number if last else 0}
    return set_row(told, "arm.treatment", row)


def _wall(told: Told) -> dict[str, Any]:
    typed = {name: short(told, name, 3000) for name in OF_A_WALL}
    if typed["limit"] and not typed["source"]:
        raise InputRefused.of(
            "source", "", "document, issue and page of the limit", "Copy them from the approved data."
        )
    wall = smallest_wall(told.text("walls"), typed["uncertainty"], typed["limit"], typed["nominal"])
    against = f"{wall.words}, at least {typed['limit']}: {wall.finding}" if typed["limit"] else wall.words
    places = [[each.position, each.wall, each.lost] for each in wall.places]
    return {
        **typed,
        "walls": "; ".join(wall.readings),
        "places": places,
        "measured": against,
        "finding": wall.finding,
    }


def _one_of(told: Told, name: str, choices: tuple[str, ...]) -> str:
    if told.text(name) not in choices:
        raise InputRefused.of(name, told.text(name), ", ".join(choices), "Choose one of them.")
    return told.text(name)


KINDS = {"arm-point": point, "arm-treatment": treatment}
