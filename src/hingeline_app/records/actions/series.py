"""What several recordings show together is kept: which, at which speed or weight, and what came of it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any
from uuid import UUID

import hingeline
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.actions.hands import hand_on
from hingeline_app.records.actions.measuring import spelled
from hingeline_app.records.canonical import canonical
from hingeline_app.records.dates import today
from hingeline_app.records.legible import remark
from hingeline_app.records.models import Aircraft, Job, ShakeSeries, Surface
from hingeline_app.records.numbering import next_number
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


def keep_series(
    actor: Actor,
    aircraft: UUID,
    surface: UUID | None,
    document: Mapping[str, Any],
    asked: Mapping[str, Any],
    *,
    said: str = "",
    command: Command | None = None,
) -> ShakeSeries:
    """Keep what a series of recordings was found to show, with what was asked; an earlier one stays as it was.

    Raises
    ------
    NotAllowed, Nowhere
        The table of roles has no yes; there is no such aircraft or surface.
    """
    with acting(actor, Act.WORK, "series of recordings judged", command=command) as entry:
        person = signed_in(actor)
        row = ShakeSeries(
            workshop=actor.workshop,
            number=next_number(ShakeSeries, workshop=actor.workshop),
            aircraft=found(person, Aircraft, aircraft),
            surface=found(person, Surface, surface) if surface else None,
            against=str(document["against"]),
            asked=canonical(plain_data("asked", dict(asked))).decode(),
            document_format=str(document["format"]),
            **spelled(document),
            remark=remark("remark", said),
            software=hingeline.__version__,
            made_by=person,
            made_on=today(actor.workshop),
        )
        entry.says |= {"number": row.number}
        entry.keep(row)
        hand_on(entry, person, _jobs_of(actor, asked))
    return row


def _jobs_of(actor: Actor, asked: Mapping[str, Any]) -> list[Job]:
    """Give the jobs whose recordings stand in a series."""
    numbers = [each.get("recording") for each in asked.get("members") or ()]
    return list(Job.objects.filter(recordings__workshop=actor.workshop, recordings__number__in=numbers).distinct())
