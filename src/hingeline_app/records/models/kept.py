"""What every kept row has: an identifier that means nothing, and one way to be written.

A row is saved only inside the write door, which notes its values in the ledger; a save
anywhere else is a fault of ours and raises. Nothing is ever deleted.
"""

from __future__ import annotations

import uuid
from typing import Any, ClassVar

from django.db import models


class NotThroughTheDoor(RuntimeError):
    """A row was saved or deleted without the write door: our own fault, nothing was written."""


class KeptRow(models.Model):
    """A row whose every version stands in the ledger.

    ``secret_fields`` never leave the database: in the ledger they read "set", with a check sum, or "not set".
    """

    identifier = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)

    secret_fields: ClassVar[frozenset[str]] = frozenset()

    class Meta:
        abstract = True

    def save(self, *arguments: Any, through_the_door: bool = False, **options: Any) -> None:
        """Save; only the write door may."""
        if not through_the_door:
            raise NotThroughTheDoor(f"{type(self).__name__} was to be saved without an entry")
        super().save(*arguments, **options)

    def delete(self, *_arguments: Any, **_options: Any) -> tuple[int, dict[str, int]]:
        """Refuse: nothing in the records is deleted."""
        raise NotThroughTheDoor(f"{type(self).__name__} was to be deleted; nothing in the records is")
