"""What the door asks the records: which tablet, which people, what a person may do today, what they left unfinished."""

from __future__ import annotations

import json
from dataclasses import dataclass
from datetime import date
from typing import Any
from uuid import UUID

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.models import Account, Draft, Passkey, Person, Tablet, Workshop
from hingeline_app.records.queries.people import tablet_of as tablet_of_digest
from hingeline_app.records.queries.standing import standing_of
from hingeline_app.records.roles import ADMINISTRATOR, OWNER


@dataclass(frozen=True)
class Here:
    """A signed-in person as a page greets them, and the roles that count today."""

    name: str
    initials: str
    roles: frozenset[str]

    @property
    def administers(self) -> bool:
        """Whether the workshop's people and devices are theirs to manage."""
        return ADMINISTRATOR in self.roles

    @property
    def only_owns(self) -> bool:
        """Whether they see their own aircraft alone, and nothing of the workshop's, such as its approved data."""
        return self.roles == {OWNER}


@dataclass(frozen=True)
class Tile:
    """A person as the sign-in page offers them."""

    account: str
    name: str
    initials: str
    has_pin: bool


@dataclass(frozen=True)
class PasskeyRecord:
    """A passkey as its person sees it."""

    identifier: UUID
    name: str
    server_name: str
    added_on: date
    withdrawn_on: date | None


def tablet_of(token: str) -> Tablet | None:
    """Find the enrolled tablet by its secret."""
    return tablet_of_digest(digest_of(token.encode())) if token else None


def workshop_is_set_up() -> bool:
    """Whether there is a workshop at all."""
    return Workshop.objects.exists()


def the_workshop() -> Workshop | None:
    """Give the workshop where there is but one, for pages that nobody has signed in to."""
    found = list(Workshop.objects.all()[:2])
    return found[0] if len(found) == 1 else None


def tiles(tablet: Tablet) -> list[Tile]:
    """Name the people who may sign in on a tablet."""
    accounts = Account.objects.select_related("person").filter(
        person__workshop=tablet.workshop, person__left_on=None, is_active=True
    )
    return [
        Tile(str(each.pk), each.person.name, each.person.initials, bool(each.pin))
        for each in accounts.order_by("person__name", "sign_in_name")
    ]


def account_on(tablet: Tablet, identifier: str) -> Account | None:
    """Find an account of the tablet's workshop."""
    return Account.objects.select_related("person").filter(
        pk=identifier, person__workshop=tablet.workshop, person__left_on=None, is_active=True
    ).first()  # fmt: skip


def here(person: Person) -> Here:
    """Say who is here and what they are today, read anew each time: a right that ended a minute ago has ended."""
    return Here(person.name, person.initials, standing_of(person, today(person.workshop)).roles)


def draft_of(person: Person, page: str) -> dict[str, Any] | None:
    """Give what a person left on a page; nobody else's."""
    found = Draft.objects.filter(person=person, page=page).first()
    return dict(json.loads(found.fields)) if found else None


def guest_by_licence(workshop: Workshop, licence_number: str) -> Person | None:
    """Find a guest inspector who is here today."""
    number = licence_number.strip().upper()
    guests = Person.objects.filter(workshop=workshop, is_guest=True, left_on=None)
    return guests.filter(licence_number=number).first() if number else None


def passkeys_of(account: Account) -> list[PasskeyRecord]:
    """Give an account's passkeys, the withdrawn ones last."""
    rows = Passkey.objects.filter(account=account).order_by("withdrawn_on", "added_on", "name")
    kept = [PasskeyRecord(row.pk, row.name, row.server_name, row.added_on, row.withdrawn_on) for row in rows]
    return sorted(kept, key=lambda each: each.withdrawn_on is not None)
