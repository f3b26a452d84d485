"""Passkeys come, are used and are withdrawn, each in the ledger."""

from __future__ import annotations

from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible
from hingeline_app.records.models import Passkey
from hingeline_app.records.passkeys import Answer, NewKey
from hingeline_app.records.write_door import SECURITY, Actor, write_door


def add_passkey(actor: Actor, name: str, server_name: str, key: NewKey) -> Passkey:
    """Keep the public half of a new passkey of the person who acts.

    Raises
    ------
    NotAllowed
        Nobody is signed in, or the passkey is known already.
    """
    signed_in(actor)
    assert actor.account is not None, "who is signed in has an account"
    with write_door(actor, "passkey added") as entry:
        if Passkey.objects.filter(credential=key.credential).exists():
            raise NotAllowed(_("This passkey is known already."))
        passkey = Passkey(
            account=actor.account,
            name=legible("passkey", name, longest=60),
            credential=key.credential,
            public_key=key.public_key,
            server_name=server_name,
            count=key.count,
            added_on=today(actor.workshop),
        )
        entry.keep(passkey)
    return passkey


def withdraw_passkey(actor: Actor, passkey: UUID) -> None:
    """Withdraw an own passkey, for instance of a lost device.

    Raises
    ------
    NotAllowed
        It is not the actor's own.
    """
    person = signed_in(actor)
    with write_door(actor, "passkey withdrawn") as entry:
        kept = Passkey.objects.filter(pk=passkey, account__person=person, withdrawn_on=None).first()
        if kept is None:
            raise NotAllowed(_("This is not a passkey of yours."))
        kept.withdrawn_on = today(actor.workshop)
        entry.keep(kept)


def note_passkey_use(answer: Answer) -> None:
    """Keep a device's count, so that a copy of it is seen; many devices never count."""
    if answer.count <= answer.passkey.count:
        return
    account = answer.passkey.account
    actor = Actor(account.person.workshop, account.person, account)
    with write_door(actor, "passkey used", chain=SECURITY) as entry:
        answer.passkey.count = answer.count
        entry.keep(answer.passkey)
