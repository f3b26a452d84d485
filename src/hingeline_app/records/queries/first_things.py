"""What a workshop that has opened no job yet has ready for the first one."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.records.models import Aircraft, Job, LimitRow, Person, Scale, Surface
from hingeline_app.records.queries.visible import visible_to


@dataclass(frozen=True)
class FirstThings:
    """What is there already; a moment needs surface and scale, a statement limits too."""

    has_aircraft: bool
    has_surface: bool
    has_scale: bool
    has_limits: bool


def first_things(viewer: Person) -> FirstThings | None:
    """Say what is ready for the first job; nothing once a job was opened, whatever became of it."""
    if visible_to(viewer, Job).exists():
        return None
    kinds = (Aircraft, Surface, Scale, LimitRow)
    return FirstThings(*(visible_to(viewer, kind).exists() for kind in kinds))
