"""People, what they may do, how they prove who they are, and the tablets they do it on.

A person is one human being; an account is one way to sign in. Two accounts of one
person are still one person: the rules compare persons.
"""

from __future__ import annotations

from typing import ClassVar

from django.contrib.auth.base_user import AbstractBaseUser, BaseUserManager
from django.db import models

from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.workshop import Workshop


class Person(KeptRow):
    """A human being in a workshop, known to the authority by a licence number where there is one."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="people")
    name = models.CharField(max_length=120)
    initials = models.CharField(max_length=6)
    licence_number = models.CharField(max_length=60, blank=True)
    licence_expires = models.DateField(null=True, blank=True)
    # A guest inspects by licence number and has no account.
    is_guest = models.BooleanField(default=False)
    left_on = models.DateField(null=True, blank=True)

    class Meta:
        constraints: ClassVar = [
            models.UniqueConstraint(
                fields=["workshop", "licence_number"],
                condition=~models.Q(licence_number=""),
                name="one_person_a_licence_number",
            )
        ]

    def __str__(self) -> str:
        return self.name


class Right(KeptRow):
    """A role that a person holds from a day on, until it ends."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="rights")
    role = models.CharField(max_length=24)
    since = models.DateField()
    until = models.DateField(null=True, blank=True)
    given_by = models.ForeignKey(Person, models.PROTECT, related_name="rights_given", null=True, blank=True)
    # A certifying right counts once a second administrator has confirmed it.
    confirmed_by = models.ForeignKey(Person, models.PROTECT, related_name="rights_confirmed", null=True, blank=True)


class AccountManager(BaseUserManager["Account"]):
    """Finds accounts by the name typed at the door."""

    def get_by_natural_key(self, username: str | None) -> Account:
        """Give the account of a sign-in name, capitals or not."""
        return self.get(sign_in_name__iexact=username)


class Account(KeptRow, AbstractBaseUser):
    """One way of a person to sign in: a name with a password, a PIN for work on an enrolled tablet, passkeys."""

    person = models.ForeignKey(Person, models.PROTECT, related_name="accounts")
    sign_in_name = models.CharField(max_length=60, unique=True)
    pin = models.CharField(max_length=128, blank=True)
    # An administrator set it for somebody who forgot theirs: it opens the door once, to choose one's own.
    pin_is_for_once = models.BooleanField(default=False)
    # Who signed in when stands in the security chain, not in a row that changes beside the ledger.
    last_login = None
    is_active = models.BooleanField(default=True)

    USERNAME_FIELD = "sign_in_name"
    REQUIRED_FIELDS: ClassVar[list[str]] = []
    secret_fields: ClassVar[frozenset[str]] = frozenset({"password", "pin"})
    objects = AccountManager()


class Tablet(KeptRow):
    """A device that an administrator enrolled; known by a secret of which only the digest is kept."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="tablets")
    name = models.CharField(max_length=60)
    token_digest = models.CharField(max_length=64, unique=True)
    enrolled_by = models.ForeignKey(Person, models.PROTECT, related_name="tablets_enrolled", null=True, blank=True)
    withdrawn_on = models.DateField(null=True, blank=True)

    secret_fields: ClassVar[frozenset[str]] = frozenset({"token_digest"})

    def __str__(self) -> str:
        return self.name
