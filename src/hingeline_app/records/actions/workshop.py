"""A workshop is set up by its first administrator; its settings change through the ledger."""

from __future__ import annotations

from typing import NamedTuple
from zoneinfo import available_timezones

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.actions.accounts import described_account
from hingeline_app.records.actions.entrance import acting
from hingeline_app.records.actions.people import described_person
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible
from hingeline_app.records.models import Account, Person, Right, Workshop
from hingeline_app.records.roles import ADMINISTRATOR, Act
from hingeline_app.records.write_door import Actor, write_door


class Founded(NamedTuple):
    """A new workshop with the person who set it up."""

    workshop: Workshop
    person: Person
    account: Account


def set_up_workshop(
    name: str,
    *,
    person: str,
    initials: str,
    sign_in_name: str,
    password: str,
    approval_number: str = "",
    authority: str = "",
    local_gravity: str = "9.80665 m/s^2",
    zone: str = "UTC",
    language: str = "en",
) -> Founded:
    """Set a workshop up, with its first administrator.

    Raises
    ------
    InputRefused
        A text cannot be read, or there is a workshop already.
    """
    workshop = described_workshop(Workshop(), name, approval_number, authority, local_gravity, zone, language)
    with write_door(Actor(workshop), "workshop set up") as entry:
        if Workshop.objects.exists():
            raise InputRefused.of("workshop", name, "no workshop in this folder yet", "It was set up before: sign in.")
        first = described_person(workshop, person, initials, "", None, False)
        account = described_account(first, sign_in_name, password)
        for row in (workshop, first, Right(person=first, role=ADMINISTRATOR, since=today(workshop)), account):
            entry.keep(row)
    return Founded(workshop, first, account)


def change_workshop(
    actor: Actor,
    *,
    name: str,
    approval_number: str,
    authority: str,
    local_gravity: str,
    zone: str,
    language: str,
) -> Workshop:
    """Change the workshop's settings; each weighing keeps the gravity it was worked out with.

    Raises
    ------
    NotAllowed, InputRefused
        The actor is no administrator; a text cannot be read.
    """
    with acting(actor, Act.MANAGE_WORKSHOP, "workshop changed") as entry:
        kept = Workshop.objects.get(pk=actor.workshop.pk)
        described_workshop(kept, name, approval_number, authority, local_gravity, zone, language)
        entry.keep(kept)
    return kept


def described_workshop(
    workshop: Workshop, name: str, approval_number: str, authority: str, local_gravity: str, zone: str, language: str
) -> Workshop:
    """Fill a workshop with what was typed; not kept yet."""
    workshop.name = legible("workshop", name)
    workshop.approval_number = legible("approval number", approval_number, longest=60, needed=False)
    workshop.authority = legible("authority", authority, needed=False)
    workshop.local_gravity = _gravity(local_gravity)
    workshop.language = legible("language", language, longest=10)
    if zone not in available_timezones():
        raise InputRefused.of("zone", zone, "a zone such as Europe/Berlin", "Choose it from the list.")
    workshop.zone = zone
    return workshop


def _gravity(text: str) -> str:
    try:
        value = read(text, ("acceleration",))
    except InputRefused as refused:
        raise refused.at("local gravity") from refused
    # On the ground everywhere: 9.76 to 9.84 m/s^2 (from memory; normal gravity, GRS 80, is 9.780 to 9.832).
    if not 9.76 <= value <= 9.84:
        raise InputRefused.of("local gravity", text, "9.76 to 9.84 m/s²", "Give the gravity of the workshop's place.")
    return text.strip()
