"""The places of a weight arm that are looked at, and the trade's words for what is found there."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

NONE_SEEN = "none seen"
FOUND = (NONE_SEEN, "corrosion", "pitting", "scratch", "crack", "bent", "loose", "worn", "other")
METHODS = (
    "by eye, paint off",
    "magnifying glass",
    "dye penetrant",
    "magnetic particle",
    "eddy current",
    "ultrasonic gauge",
    "calliper",
    "by hand",
)
# What is not left as it is, whatever else was entered.
GRAVE = ("crack", "bent", "loose")


class Point(NamedTuple):
    """A place of the arm."""

    name: str
    words: str


POINTS = (
    Point("weight", "Weight: tight, its lock whole"),
    Point("wall", "Wall: paint off, on a grid, the lowest counts"),
    Point("root", "Root: crack check, all round"),
    Point("fastened", "Parts fastened and locked"),
)
BY_NAME = {each.name: each for each in POINTS}


def point_of(job: JobRecord, name: str) -> Mapping[str, Any] | None:
    """Give what was entered of a place."""
    row = value_at(job.details, f"arm.points.{name}")
    return row if isinstance(row, Mapping) else None


def open_points(job: JobRecord) -> list[str]:
    """Name in words the places that nobody has looked at."""
    return [each.words for each in POINTS if point_of(job, each.name) is None]


def points_against(job: JobRecord) -> list[str]:
    """Name what was found and speaks against a release."""
    found = []
    for each in POINTS:
        row = point_of(job, each.name) or {}
        seen, finding = str(row.get("seen") or ""), str(row.get("finding") or "")
        if seen in GRAVE:
            found.append(f"{each.words}: {seen}")
        if finding and finding != "inside":
            found.append(f"{each.words}: {finding}")
    return found
