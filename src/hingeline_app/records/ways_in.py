"""The ways to prove who one is: password, PIN on an enrolled tablet, passkey.

Each is asked by Django's ``authenticate``, behind the counter of wrong tries. An account
that was closed, or whose person has left, gets in by none.
"""

from __future__ import annotations

from typing import Any

from django.contrib.auth.hashers import check_password, make_password
from django.http import HttpRequest

from hingeline_app.records.models import Account
from hingeline_app.records.passkeys import Answer

PASSWORD, PIN, PASSKEY = "password", "pin", "passkey"
# What certifying, release and administration ask for.
STRONG = frozenset({PASSWORD, PASSKEY})


class Way:
    """What all ways share."""

    def get_user(self, identifier: Any) -> Account | None:
        """Give the account of a session, if it may still be used."""
        return _open_account(pk=identifier)


class PasswordWay(Way):
    """Sign-in name and password."""

    def authenticate(
        self, request: HttpRequest, username: str | None = None, password: str | None = None, **_other: Any
    ) -> Account | None:
        """Give the account, or none. A name nobody has takes as long as a wrong password."""
        if not username or password is None:
            return None
        account = _open_account(sign_in_name__iexact=username)
        if account is None:
            make_password(password)
            return None
        return account if check_password(password, account.password) else None


def pin_is(account: Account, pin: str) -> bool:
    """Say whether this is the account's PIN."""
    return account.is_active and bool(account.pin) and check_password(pin, account.pin)


class PinWay(Way):
    """A PIN, on a tablet that an administrator enrolled in the same workshop."""

    def authenticate(
        self, request: HttpRequest, username: str | None = None, secret_pin: str | None = None, **_other: Any
    ) -> Account | None:
        """Give the account, or none."""
        tablet = getattr(request, "tablet", None)
        if not username or secret_pin is None or tablet is None:
            return None
        account = _open_account(sign_in_name__iexact=username, person__workshop=tablet.workshop)
        if account is None or not account.pin:
            make_password(secret_pin)
            return None
        return account if pin_is(account, secret_pin) else None


class PasskeyWay(Way):
    """A passkey's answer, judged before."""

    def authenticate(
        self, request: HttpRequest, username: str | None = None, passkey_answer: Answer | None = None, **_other: Any
    ) -> Account | None:
        """Give the account of the passkey, or none."""
        if passkey_answer is None:
            return None
        account = _open_account(pk=passkey_answer.passkey.account_id)
        if account is None or (username and account.sign_in_name.lower() != username.lower()):
            return None
        return account


def _open_account(**which: Any) -> Account | None:
    found = Account.objects.select_related("person__workshop").filter(**which).first()
    return found if found and found.is_active and found.person.left_on is None else None
