"""A private calendar address: made for oneself, shown once, ended at will. Here is only its digest."""

from __future__ import annotations

import secrets

from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.models import CalendarFeed
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry


def make_feed(actor: Actor, command: Command | None = None) -> str:
    """Make a new address for oneself and end the one before; give its secret, this once.

    Raises
    ------
    NotAllowed
        The actor may see no aircraft.
    """
    token = secrets.token_urlsafe(32)
    with acting(actor, Act.SEE_CHECKS, "calendar address made", command=command) as entry:
        _end_all(entry)
        feed = CalendarFeed(
            person=signed_in(actor), token_digest=digest_of(token.encode()), made_on=today(actor.workshop)
        )
        entry.keep(feed)
    return token


def end_feed(actor: Actor) -> None:
    """End one's own address: whoever has it gets nothing any more."""
    with acting(actor, Act.SEE_CHECKS, "calendar address ended") as entry:
        _end_all(entry)


def _end_all(entry: OpenEntry) -> None:
    for feed in CalendarFeed.objects.filter(person=signed_in(entry.actor), withdrawn_on__isnull=True):
        feed.withdrawn_on = today(entry.actor.workshop)
        entry.keep(feed)
