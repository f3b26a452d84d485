"""Somebody who acts from the command line proves who they are, as at the door."""

from __future__ import annotations

from hingeline.errors import InputRefused
from hingeline_app.records.ways_in import PasswordWay
from hingeline_app.records.write_door import SECURITY, Actor, write_door


def actor_by_password(name: str, password: str) -> Actor:
    """Give who acts, by sign-in name and password; it is noted in the security chain.

    Raises
    ------
    InputRefused
        The two do not go together, or the account may not be used.
    """
    account = PasswordWay().authenticate(None, username=name, password=password)  # type: ignore[arg-type]
    if account is None:
        remedy = "Check both; a forgotten password is set anew by an administrator."
        raise InputRefused.of("--as", name, "a sign-in name and its password", remedy)
    actor = Actor(account.person.workshop, account.person, account)
    with write_door(actor, "acted from the command line", chain=SECURITY):
        pass
    return actor
