"""Whose calendar an address is, and whether a person has one."""

from __future__ import annotations

from datetime import date

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.models import CalendarFeed, Person


def feed_since(person: Person) -> date | None:
    """Give the day on which a person's address was made; None where there is none."""
    feed = CalendarFeed.objects.filter(person=person, withdrawn_on__isnull=True).order_by("made_on").last()
    return feed.made_on if feed else None


def person_of_feed(token: str) -> Person | None:
    """Find the person whose private address this is; what that person may see is asked anew each time."""
    feeds = CalendarFeed.objects.filter(token_digest=digest_of(token.encode()), withdrawn_on__isnull=True)
    feed = feeds.select_related("person__workshop").first()
    return feed.person if feed else None
