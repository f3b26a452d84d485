"""What happens at the door: signed in, turned away, locked out; and drafts, which are no record."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils import timezone

from hingeline_app.records.attempts import device_of
from hingeline_app.records.door_notes import notes_left
from hingeline_app.records.locking import one_writer
from hingeline_app.records.models import Draft
from hingeline_app.records.queries.at_the_door import the_workshop
from hingeline_app.records.write_door import SECURITY, Actor, write_door


def note_at_the_door(request: HttpRequest, kind: str, says: Mapping[str, Any]) -> None:
    """Note in the security chain what happened to a request; without a workshop there is no chain.

    Of a device at which nobody came in, no more than some in a while.
    """
    actor, device = actor_of(request), device_of(request)
    left = 2 if actor is None or actor.person else notes_left(f"{actor.workshop.pk} {device}")
    if actor is None or not left:
        return
    more = {"further ones": "are not noted for a while"} if left == 1 else {}
    with write_door(actor, kind, {**says, **more, "device": device}, chain=SECURITY):
        pass


def actor_of(request: HttpRequest) -> Actor | None:
    """Give who acts in a request: a person, a tablet, or the workshop's own door."""
    visit, tablet = getattr(request, "visit", None), getattr(request, "tablet", None)
    if visit is not None:
        found: Actor = visit.actor
        return found
    workshop = tablet.workshop if tablet else the_workshop()
    return Actor(workshop, tablet=tablet) if workshop else None


def leave_draft(actor: Actor, page: str, fields: Mapping[str, Any]) -> None:
    """Keep what stands on a person's screen until they come back to it."""
    with one_writer():
        left = {"fields": json.dumps(dict(fields)), "left_at": timezone.now()}
        Draft.objects.update_or_create(person=actor.person, page=page[:300], defaults=left)


def drop_draft(actor: Actor, page: str) -> None:
    """Forget a draft: its form was kept, or its person does not want it."""
    if Draft.objects.filter(person=actor.person, page=page).exists():
        with one_writer():
            Draft.objects.filter(person=actor.person, page=page).delete()


def drop_all_drafts(actor: Actor) -> None:
    """Forget all of a person's drafts, on a clean sign-out."""
    with one_writer():
        Draft.objects.filter(person=actor.person).delete()
