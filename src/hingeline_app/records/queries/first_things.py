"""What a workshop that has opened no job yet has ready for the first one."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.records.models import Aircraft, Job, LimitRow, Person, Surface
from hingeline_app.records.queries.equipment import scales
from hingeline_app.records.queries.visible import visible_to


@dataclass(frozen=True)
class FirstThings:
    """What is there already; a moment needs surface and scale, a statement limits too."""

    has_aircraft: bool
    has_surface: bool
    # One in use whose certificate has not ended.
    has_scale: bool
    has_limits: bool


def first_things(viewer: Person) -> FirstThings | None:
    """Say what is ready for the first job; nothing once a job was opened, whatever became of it."""
    if visible_to(viewer, Job).exists():
        return None
    aircraft, surface, limits = (visible_to(viewer, kind).exists() for kind in (Aircraft, Surface, LimitRow))
    return FirstThings(
        aircraft, surface, any(not each.withdrawn_on and not each.is_expired for each in scales(viewer)), limits
    )
