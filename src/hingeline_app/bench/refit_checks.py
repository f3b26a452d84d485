"""What is checked when a surface is fitted again, and what still is to be checked."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any, NamedTuple

from hingeline_app.bench.arriving.surface_kinds import RUDDER, kind_of
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord

RIGHT, NOT_RIGHT, NOT_NEEDED = "right", "not right", "not needed"
INSIDE = "inside"


class Check(NamedTuple):
    """A value that is measured: its name, its words, what is measured, an example."""

    name: str
    words: str
    dimension: str
    example: str


class Seen(NamedTuple):
    """Something that is looked at."""

    name: str
    words: str


CHECKS = (
    Check("travel_up", "Travel, trailing edge up", "angle", "25.0 deg"),
    Check("travel_down", "Travel, trailing edge down", "angle", "19.0 deg"),
    Check("free_play", "Free play at the trailing edge", "length", "1.2 mm"),
    Check("friction", "Friction at the trailing edge", "force", "4.0 N"),
    Check("clearance", "Clearance of the weight at full travel", "length", "6 mm"),
)
SEEN = (
    Seen("sense", "Moves in the right sense"),
    Seen("stops", "Stops reached, free over the full travel"),
    Seen("cables", "Cables and rods run free, their tension set"),
    Seen("locking", "Bolts, pins and the weight fastened and locked"),
)
# What goes up and down on every other surface goes left and right on a rudder.
OF_A_RUDDER = {"travel_up": "Travel, trailing edge left", "travel_down": "Travel, trailing edge right"}


def checks_of(surface: str) -> tuple[Check, ...]:
    """Give what is measured on a surface of this name, in its own words."""
    kind = kind_of(surface)
    is_upright = kind is not None and RUDDER in (kind.kind, kind.carrier)
    return (
        tuple(each._replace(words=OF_A_RUDDER.get(each.name, each.words)) for each in CHECKS) if is_upright else CHECKS
    )


def asked_of(surface: str) -> tuple[Check | Seen, ...]:
    """Give all that is measured and looked at on a surface of this name."""
    asked: list[Check | Seen] = [*checks_of(surface), *SEEN]
    return tuple(asked)


def row_of(job: JobRecord, name: str) -> Mapping[str, Any] | None:
    """Give what was entered of a check."""
    row = value_at(job.details, f"refit.values.{name}")
    return row if isinstance(row, Mapping) else None


def told_in(job: JobRecord) -> tuple[Check | Seen, ...]:
    """Give all that is asked for in a job; what was entered keeps the words that it was entered under."""
    return tuple(_as_entered(each, row_of(job, each.name) or {}) for each in asked_of(job.surface_name))


def _as_entered(asked: Check | Seen, row: Mapping[str, Any]) -> Check | Seen:
    return asked._replace(words=str(row.get("what") or asked.words))


def remarks_of(asked: Check | Seen) -> tuple[str, ...]:
    """Give the remarks that photographs of a check may carry: by its words in this job, and by those of any surface."""
    any_surface = [each.words for each in (*CHECKS, *SEEN) if each.name == asked.name]
    words = {asked.words, OF_A_RUDDER.get(asked.name, asked.words), *any_surface}
    return tuple(f"refit, {each}" for each in sorted(words))


def open_checks(job: JobRecord) -> list[str]:
    """Name in words what nobody has measured or looked at yet."""
    return [each.words for each in asked_of(job.surface_name) if row_of(job, each.name) is None]


def checks_against(job: JobRecord) -> list[str]:
    """Name what was found and speaks against a release: outside, too close to tell, without a limit, not right."""
    asked = told_in(job)
    found = {each.words: str((row_of(job, each.name) or {}).get("finding") or "") for each in asked}
    return [f"{words}: {finding}" for words, finding in found.items() if is_against(finding)]


def is_against(finding: str) -> bool:
    """Whether a finding speaks against a release; what nobody looked at yet has none, and speaks neither way."""
    return finding not in ("", INSIDE, RIGHT, NOT_NEEDED)
