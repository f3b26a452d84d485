"""Which entries of the ledger tell of which job: read out of the entries, so that a history need not read them all."""

from __future__ import annotations

from typing import ClassVar

from django.db import models

from hingeline_app.records.models.workshop import Workshop


class JobEntry(models.Model):
    """One entry that tells of a job; without a job it only says that entries were read up to here.

    It holds nothing of its own: lost, it is read out of the ledger again.
    """

    workshop = models.ForeignKey(Workshop, models.PROTECT, related_name="+", db_constraint=False)
    job = models.UUIDField(null=True)
    position = models.PositiveBigIntegerField()

    class Meta:
        indexes: ClassVar = [models.Index(fields=["job", "position"], name="entries_of_a_job")]
        constraints: ClassVar = [
            models.UniqueConstraint(fields=["workshop", "position", "job"], name="one_mark_an_entry_and_job")
        ]
