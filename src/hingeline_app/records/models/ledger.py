"""The ledger's own table: append-only, hashed to the entry before, guarded by triggers of the database."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.workshop import Workshop


class Entry(models.Model):
    """One entry of a workshop's chain. ``body`` is the truth; the other columns are read out of it."""

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="entries", db_constraint=False)
    # "records", or "security" for who came to the door and who was turned away.
    chain = models.CharField(max_length=12)
    position = models.PositiveBigIntegerField()
    previous = models.CharField(max_length=64)
    digest = models.CharField(max_length=64, unique=True)
    # Canonical JSON (RFC 8785), byte for byte as it was hashed.
    body = models.TextField()
    kind = models.CharField(max_length=60, db_index=True)
    command_key = models.CharField(max_length=64, null=True)
    command_digest = models.CharField(max_length=64, blank=True)

    class Meta:
        ordering: ClassVar = ["workshop", "chain", "position"]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "chain", "position"], name="one_entry_a_position"),
            models.UniqueConstraint(fields=["workshop", "chain", "previous"], name="no_fork"),
            models.UniqueConstraint(fields=["workshop", "command_key"], name="one_entry_a_command"),
        ]
