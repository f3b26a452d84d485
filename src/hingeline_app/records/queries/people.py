"""People, their rights and their tablets, as pages show them."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from uuid import UUID

from django.db.models import Prefetch

from hingeline_app.records.dates import today
from hingeline_app.records.models import Account, Person, Right, Tablet
from hingeline_app.records.queries.standing import rights_in_force
from hingeline_app.records.queries.visible import visible_to
from hingeline_app.records.roles import BY_TWO_ADMINISTRATORS, OWNER


@dataclass(frozen=True)
class RightRecord:
    """A role, since when, until when, whether it counts today, and whether it waits for a second administrator."""

    identifier: UUID
    role: str
    since: date
    until: date | None
    counts: bool
    waits: bool


@dataclass(frozen=True)
class AccountRecord:
    """A way to sign in."""

    identifier: UUID
    sign_in_name: str
    is_active: bool
    has_pin: bool
    has_password: bool


@dataclass(frozen=True)
class PersonRecord:
    """A person as the workshop's page shows one."""

    identifier: UUID
    name: str
    initials: str
    licence_number: str
    licence_expires: date | None
    is_guest: bool
    left_on: date | None
    rights: tuple[RightRecord, ...]
    accounts: tuple[AccountRecord, ...]

    @property
    def roles(self) -> tuple[str, ...]:
        """Give the roles that count today."""
        return tuple(each.role for each in self.rights if each.counts)


@dataclass(frozen=True)
class TabletRecord:
    """An enrolled device."""

    identifier: UUID
    name: str
    withdrawn_on: date | None


def people(viewer: Person) -> list[PersonRecord]:
    """Give the people of the viewer's workshop, by name; three queries however many they are."""
    counting = set(rights_in_force(today(viewer.workshop)).values_list("pk", flat=True))
    rows = visible_to(viewer, Person).prefetch_related(
        Prefetch("rights", Right.objects.order_by("since", "role")),
        Prefetch("accounts", Account.objects.order_by("sign_in_name")),
    )
    return [_record(row, counting) for row in rows.order_by("name", "pk")]


def who_may_take_over(viewer: Person) -> list[PersonRecord]:
    """Give those whom a job can be handed to: no guest, nobody who left, nobody who only owns an aircraft."""
    return [each for each in people(viewer) if each.left_on is None and not each.is_guest and {*each.roles} - {OWNER}]


def tablets(viewer: Person) -> list[TabletRecord]:
    """Give the workshop's tablets."""
    rows = visible_to(viewer, Tablet).order_by("name", "pk")
    return [TabletRecord(row.pk, row.name, row.withdrawn_on) for row in rows]


def tablet_of(token_digest: str) -> Tablet | None:
    """Find the enrolled tablet that showed a token, by the token's digest; one that was withdrawn is none."""
    return Tablet.objects.filter(token_digest=token_digest, withdrawn_on__isnull=True).first()


def _record(row: Person, counting: set[UUID]) -> PersonRecord:
    rights = tuple(
        RightRecord(each.pk, each.role, each.since, each.until, each.pk in counting, _waits(each))
        for each in row.rights.all()
    )
    return PersonRecord(
        row.pk,
        row.name,
        row.initials,
        row.licence_number,
        row.licence_expires,
        row.is_guest,
        row.left_on,
        rights,
        tuple(_account(each) for each in row.accounts.all()),
    )


def _waits(right: Right) -> bool:
    return right.until is None and right.role in BY_TWO_ADMINISTRATORS and right.confirmed_by_id is None


def _account(row: Account) -> AccountRecord:
    has_password = bool(row.password) and row.has_usable_password()
    return AccountRecord(row.pk, row.sign_in_name, row.is_active, bool(row.pin), has_password)
