"""How people prove who they are: accounts with a password, a PIN for work. Secrets never reach the ledger."""

from __future__ import annotations

from itertools import pairwise
from uuid import UUID

from django.contrib.auth.hashers import make_password
from django.utils.translation import gettext_lazy as _

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed, acting, require, signed_in
from hingeline_app.records.actions.people import refuse_without_administrator
from hingeline_app.records.legible import legible, script_of
from hingeline_app.records.models import Account, Person
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, write_door

SHORTEST_PASSWORD, SHORTEST_PIN, LONGEST_PIN = 12, 6, 12


def add_account(
    actor: Actor, person: UUID, sign_in_name: str, password: str | None = None, command: Command | None = None
) -> Account:
    """Open a way to sign in for a person; without a password until one is set.

    Raises
    ------
    NotAllowed
        The actor is no administrator; the person is a guest or has left.
    InputRefused
        The name is taken or cannot be read; the password is too short.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "account opened", command=command) as entry:
        holder = found(signed_in(actor), Person, person)
        if holder.is_guest or holder.left_on is not None:
            raise NotAllowed(_("A guest, or whoever has left, has no account."))
        account = described_account(holder, sign_in_name, password)
        entry.keep(account)
    return account


def close_account(actor: Actor, account: UUID, reason: str) -> Account:
    """Close a way to sign in; sessions end with the next request.

    Raises
    ------
    NotAllowed
        The actor is no administrator, or the workshop would have none left who can sign in.
    """
    with acting(actor, Act.MANAGE_PEOPLE, "account closed", {"reason": legible("reason", reason)}) as entry:
        kept = found(signed_in(actor), Account, account)
        kept.is_active = False
        entry.keep(kept)
        refuse_without_administrator(actor.workshop)
    return kept


def reopen_account(actor: Actor, account: UUID, reason: str) -> Account:
    """Open a closed account again."""
    with acting(actor, Act.MANAGE_PEOPLE, "account opened again", {"reason": legible("reason", reason)}) as entry:
        kept = found(signed_in(actor), Account, account)
        if kept.person.left_on is not None:
            raise NotAllowed(_("This person has left the workshop."))
        kept.is_active = True
        entry.keep(kept)
    return kept


def set_password(actor: Actor, account: UUID, password: str) -> Account:
    """Set an own password, or as an administrator another's.

    Raises
    ------
    NotAllowed
        It is another's account and the actor is no administrator.
    InputRefused
        It is too short.
    """
    with write_door(actor, "password set") as entry:
        kept = _own_or_managed(actor, account)
        kept.password = make_password(checked_password(password))
        entry.keep(kept)
    return kept


def set_pin(actor: Actor, account: UUID, pin: str) -> Account:
    """Set an own PIN for work on an enrolled tablet, or as an administrator another's: that one is for once.

    Raises
    ------
    NotAllowed, InputRefused
        As for :func:`set_password`; it is not 6 to 12 digits, or easily guessed.
    """
    with write_door(actor, "PIN set") as entry:
        kept = _own_or_managed(actor, account)
        kept.pin = make_password(checked_pin(pin))
        kept.pin_is_for_once = actor.person is None or kept.person_id != actor.person.pk
        entry.keep(kept)
    return kept


def described_account(person: Person, sign_in_name: str, password: str | None) -> Account:
    """Make an account of what was typed; not kept yet."""
    name = legible("sign-in name", sign_in_name, longest=60).casefold()
    if len({script_of(letter) for letter in name} - {""}) > 1:
        raise InputRefused.of("sign-in name", name, "letters of one script", "Type it again.")
    if Account.objects.filter(sign_in_name__iexact=name).exists():
        raise InputRefused.of("sign-in name", name, "a name nobody else has", "Choose another.")
    return Account(
        person=person,
        sign_in_name=name,
        password=make_password(None if password is None else checked_password(password)),
    )


def checked_password(password: str) -> str:
    """Give a password that is long enough; it is never shown."""
    if len(password) < SHORTEST_PASSWORD or len(set(password)) < SHORTEST_PASSWORD // 3:
        expected = f"at least {SHORTEST_PASSWORD} characters, not the same few again and again"
        raise InputRefused.of("password", "…", expected, "Several words make a good one.")
    return password


def checked_pin(pin: str) -> str:
    """Give a PIN of plain digits that is not one of the first a stranger tries; it is never shown."""
    digits = pin.isascii() and pin.isdigit() and SHORTEST_PIN <= len(pin) <= LONGEST_PIN
    if not digits or len({(int(b) - int(a)) % 10 for a, b in pairwise(pin)}) == 1:
        expected = f"{SHORTEST_PIN} to {LONGEST_PIN} plain digits that do not count up, down or stand still"
        raise InputRefused.of("PIN", "…", expected, "Choose another.")
    return pin


def _own_or_managed(actor: Actor, account: UUID) -> Account:
    own = Account.objects.filter(pk=account, person=actor.person, is_active=True).first() if actor.person else None
    if own:
        return own
    return found(require(actor, Act.MANAGE_PEOPLE), Account, account)
