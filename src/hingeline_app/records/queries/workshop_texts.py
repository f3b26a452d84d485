"""Texts of the workshop's own, as they are set."""

from __future__ import annotations

from hingeline_app.records.models import Person, WorkshopText
from hingeline_app.records.queries.visible import visible_to

RELEASE_WORDING = "release_wording"


def workshop_text(viewer: Person, name: str) -> str:
    """Give a text; empty where none was set, or where this person may not see the workshop's settings."""
    found = visible_to(viewer, WorkshopText).filter(name=name).values_list("text", flat=True).first()
    return found or ""
