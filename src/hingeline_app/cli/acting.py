"""``--as``: whoever changes the records from a command proves who they are."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import click

from hingeline.errors import InputRefused

WORDS = "Sign-in name of whoever does it; the password is asked, or is the first line of standard input."


def acting_as(function: Callable[..., Any]) -> Callable[..., Any]:
    """Add ``--as``."""
    return click.option("--as", "sign_in_name", metavar="NAME", help=WORDS)(function)


def actor_named(sign_in_name: str | None) -> Any:
    """Ask for the password and give who acts; the records are open.

    Raises
    ------
    InputRefused
        Nobody was named, or name and password do not go together.
    """
    if not sign_in_name:
        raise InputRefused.of("--as", "missing", "the sign-in name of whoever does it", "Add --as NAME.")
    from hingeline_app.records.acting_as import actor_by_password

    return actor_by_password(sign_in_name, _password(sign_in_name))


def allowed(act: Callable[[], Any]) -> Any:
    """Do an act, and say a rule of the workshop that stands against it as a refusal.

    Raises
    ------
    InputRefused
        In the words of the rule.
    """
    from hingeline_app.records.actions.entrance import NotAllowed

    try:
        return act()
    except NotAllowed as refused:
        remedy = "Let somebody do it whose roles cover it."
        raise InputRefused.of("--as", str(refused.reason), "somebody who may", remedy) from None


def _password(name: str) -> str:
    if sys.stdin.isatty():
        return str(click.prompt(f"Password of {name}", hide_input=True, err=True))
    return sys.stdin.readline().rstrip("\r\n")
