"""What the door asks the records: which tablet, which people, what a person may do today, what they left unfinished."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from typing import Any

from django.utils import timezone

from hingeline_app.records.models import Account, Draft, Person, Right, Tablet, Workshop
from hingeline_app.records.roles import ADMINISTRATOR


@dataclass(frozen=True)
class Standing:
    """A person as a page greets them, and the roles they hold today."""

    name: str
    initials: str
    roles: frozenset[str]
    licence_number: str
    licence_expired: bool

    @property
    def administers(self) -> bool:
        """Whether the workshop's people and devices are theirs to manage."""
        return ADMINISTRATOR in self.roles


@dataclass(frozen=True)
class Tile:
    """A person as the sign-in page offers them."""

    account: str
    name: str
    initials: str
    has_pin: bool


def digest_of_token(token: str) -> str:
    """Give what is kept of a tablet's secret."""
    return hashlib.sha256(token.encode()).hexdigest()


def tablet_of(token: str) -> Tablet | None:
    """Find the enrolled tablet by its secret."""
    if not token:
        return None
    digest = digest_of_token(token)
    return Tablet.objects.select_related("workshop").filter(token_digest=digest, withdrawn_on=None).first()


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


def standing_of(person: Person) -> Standing:
    """Say what a person is today."""
    today = timezone.now().date()
    rights = Right.objects.filter(person=person, since__lte=today)
    roles = frozenset(each.role for each in rights if each.until is None or each.until > today)
    expired = person.licence_expires is not None and person.licence_expires < today
    return Standing(person.name, person.initials, roles, person.licence_number, expired)


def draft_of(person: Person, page: str) -> dict[str, Any] | None:
    """Give what a person left on a page; nobody else's."""
    found = Draft.objects.filter(person=person, page=page).first()
    return dict(found.fields) if found else None


def guest_by_licence(workshop: Workshop, licence_number: str) -> Person | None:
    """Find a guest inspector who is here today."""
    number = licence_number.strip().upper()
    guests = Person.objects.filter(workshop=workshop, is_guest=True, left_on=None)
    return guests.filter(licence_number=number).first() if number else None
