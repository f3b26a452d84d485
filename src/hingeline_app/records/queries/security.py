"""The security chain, the newest first: who came to the door, who was turned away, what was refused."""

from __future__ import annotations

import json
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline_app.records.models import Entry, Person
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import SECURITY

A_PAGE = 60


@dataclass(frozen=True)
class SecurityEntry:
    """One entry of the security chain."""

    position: int
    kind: str
    by: str
    tablet: bool
    at: str
    says: tuple[tuple[str, str], ...]


def security_log(viewer: Person, before: int | None = None, kind: str = "") -> list[SecurityEntry]:
    """Give a page of the security chain; nothing to whoever may not read it. One query beside the viewer's own."""
    if not may(viewer, Act.READ_SECURITY).allowed:
        return []
    entries = Entry.objects.filter(workshop=viewer.workshop_id, chain=SECURITY).order_by("-position")
    if before is not None:
        entries = entries.filter(position__lt=before)
    if kind:
        entries = entries.filter(kind=kind)
    return [_entry(each.position, json.loads(each.body)) for each in entries[:A_PAGE]]


def kinds_of_security(viewer: Person) -> list[str]:
    """Name the kinds of entries that there are."""
    kinds = Entry.objects.filter(workshop=viewer.workshop_id, chain=SECURITY).order_by("kind")
    return list(kinds.values_list("kind", flat=True).distinct())


def _entry(position: int, body: Mapping[str, Any]) -> SecurityEntry:
    says = tuple((name, str(value)) for name, value in body["says"].items() if value not in (None, ""))
    by = (body["by"] or {}).get("name", "")
    return SecurityEntry(position, body["kind"], by, body["tablet"] is not None, body["at"], says)
