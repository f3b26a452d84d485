"""People come, change and leave. Who is to sign is known by licence number, which a human being checks."""

from __future__ import annotations

from datetime import date
from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark, skeleton
from hingeline_app.records.models import Person, Workshop
from hingeline_app.records.queries.standing import administrators
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

LAST_ADMINISTRATOR = _("The last administrator cannot go: give the role to another person first.")


def add_person(
    actor: Actor,
    name: str,
    initials: str,
    *,
    licence_number: str = "",
    licence_expires: date | None = None,
    is_guest: bool = False,
    although_alike: bool = False,
    command: Command | None = None,
) -> Person:
    """Enter a person, or a guest who inspects by licence number.

    Raises
    ------
    NotAllowed
        The actor is no administrator.
    InputRefused
        A text cannot be read; the licence number is another person's; the name looks like another's and
        ``although_alike`` is not said; a guest has no licence number.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "guest added" if is_guest else "person added", command=command) as entry:
        person = described_person(actor.workshop, name, initials, licence_number, licence_expires, is_guest)
        refuse_second_of(person, although_alike=although_alike)
        entry.keep(person)
    return person


def correct_person(
    actor: Actor,
    person: UUID,
    reason: str,
    *,
    name: str,
    initials: str,
    licence_number: str,
    licence_expires: date | None,
) -> Person:
    """Enter a person's details anew, for instance a licence that was renewed. What stood there stays in the ledger.

    Raises
    ------
    NotAllowed, InputRefused, Nowhere
        As for :func:`add_person`; the reason is missing; there is no such person.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "person corrected", {"reason": legible("reason", reason)}) as entry:
        kept = found(signed_in(actor), Person, person)
        new = described_person(actor.workshop, name, initials, licence_number, licence_expires, kept.is_guest)
        new.pk, new.left_on, new._state.adding = kept.pk, kept.left_on, False
        refuse_second_of(new, although_alike=True)
        entry.keep(new)
    return new


def person_leaves(actor: Actor, person: UUID, on: date | None = None, reason: str = "") -> None:
    """Let a person leave: rights end, accounts close, what was signed stays. A reason stands in the ledger.

    Raises
    ------
    NotAllowed, InputRefused
        The actor is no administrator, or this is the last one; the reason cannot be read.
    """
    says = {"reason": legible("reason", reason)} if reason else {}
    with acting(actor, Act.MANAGE_PEOPLE, "person left", says) as entry:
        leaver = found(signed_in(actor), Person, person)
        day = on or today(actor.workshop)
        leaver.left_on = day
        entry.keep(leaver)
        for right in leaver.rights.filter(until__isnull=True):
            right.until = max(day, right.since)
            entry.keep(right)
        for account in leaver.accounts.filter(is_active=True):
            account.is_active = False
            entry.keep(account)
        refuse_without_administrator(actor.workshop)


def refuse_without_administrator(workshop: Workshop) -> None:
    """Refuse what would leave the workshop without an administrator who can sign in."""
    if not administrators(workshop, today(workshop)).exists():
        raise NotAllowed(LAST_ADMINISTRATOR)


def described_person(
    workshop: Workshop, name: str, initials: str, licence_number: str, licence_expires: date | None, is_guest: bool
) -> Person:
    """Make a person of what was typed; not kept yet."""
    if is_guest and not licence_number.strip():
        raise InputRefused.of("licence number", "", "the guest's licence number", "A guest inspects by it: enter it.")
    return Person(
        workshop=workshop,
        name=legible("name", name),
        initials=legible("initials", initials, longest=6),
        licence_number=mark("licence number", licence_number, needed=False),
        licence_expires=licence_expires,
        is_guest=is_guest,
    )


def refuse_second_of(person: Person, *, although_alike: bool) -> None:
    """Refuse one human being entered twice: persons are unique by licence number, and alike names are asked about."""
    others = Person.objects.filter(workshop=person.workshop).exclude(pk=person.pk)
    holder = others.filter(licence_number=person.licence_number).first() if person.licence_number else None
    if holder:
        remedy = f"{holder.name} has it: a person is entered once, and may have several accounts."
        raise InputRefused.of("licence number", person.licence_number, "a number nobody else here has", remedy)
    alike = next((each for each in others if skeleton(each.name) == skeleton(person.name)), None)
    if alike and not although_alike:
        remedy = f'It looks like "{alike.name}", who is here already: say that they are two people, or leave it.'
        raise InputRefused.of("name", person.name, "a name that can be told from the others", remedy)
