"""Passkeys: what a person's own device proves with. Only the public half is kept."""

from __future__ import annotations

from django.db import models

from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.models.people import Account


class Passkey(KeptRow):
    """A key pair whose private half never leaves the person's device (WebAuthn, level 2)."""

    account = models.ForeignKey(Account, models.PROTECT, related_name="passkeys")
    name = models.CharField(max_length=60)
    # base64url, as browsers write it
    credential = models.CharField(max_length=1400, unique=True)
    # COSE key in base64url
    public_key = models.TextField()
    # The name of the server that it is good for.
    server_name = models.CharField(max_length=255)
    count = models.PositiveBigIntegerField(default=0)
    added_on = models.DateField()
    withdrawn_on = models.DateField(null=True, blank=True)
