"""Tablets are enrolled and withdrawn. The secret stays on the tablet; here is its digest."""

from __future__ import annotations

import secrets
from typing import NamedTuple
from uuid import UUID

from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible
from hingeline_app.records.models import Tablet
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command


class Enrolled(NamedTuple):
    """A tablet, and the secret that it keeps: shown once."""

    tablet: Tablet
    token: str


def enrol_tablet(actor: Actor, name: str, command: Command | None = None) -> Enrolled:
    """Enrol a device.

    Raises
    ------
    NotAllowed
        The actor is no administrator.
    """
    token = secrets.token_urlsafe(32)
    with acting(actor, Act.MANAGE_PEOPLE, "tablet enrolled", command=command) as entry:
        tablet = Tablet(
            workshop=actor.workshop,
            name=legible("tablet", name, longest=60),
            token_digest=digest_of(token.encode()),
            enrolled_by=actor.person,
        )
        entry.keep(tablet)
    return Enrolled(tablet, token)


def withdraw_tablet(actor: Actor, tablet: UUID, reason: str) -> Tablet:
    """Withdraw a device, for instance one that was lost.

    Raises
    ------
    NotAllowed
        The actor is no administrator.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "tablet withdrawn", {"reason": legible("reason", reason)}) as entry:
        kept = found(signed_in(actor), Tablet, tablet)
        kept.withdrawn_on = today(actor.workshop)
        entry.keep(kept)
    return kept
