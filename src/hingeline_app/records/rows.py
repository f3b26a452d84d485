"""A row's values as they stand in an entry, and back."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db import models

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.models.kept import KeptRow

Note = dict[str, Any]
SET, NOT_SET, SIGNS = "set", "not set", 16
LOST = "lost "
"""How a secret begins that was lost: records made again from their journal have none, and nobody comes in by it."""


def note_of(row: KeptRow) -> Note:
    """Note every value of a row; of a secret only whether it is set, and a check sum of what is kept of it."""
    values = {field.attname: _value(row, field) for field in row._meta.concrete_fields if not field.primary_key}
    return {"table": row._meta.model_name, "identifier": str(row.pk), "values": values}


def _value(row: KeptRow, field: models.Field[Any, Any]) -> Any:
    value = getattr(row, field.attname)
    return secret_as_noted(value) if field.attname in row.secret_fields else plain(value)


def secret_as_noted(value: Any) -> str:
    """Say of a secret whether it is set, with a check sum: one that was swapped in the database is found by it.

    Secrets are kept as digests of something long or salted: nothing can be tried against a check sum of one.
    """
    if not value or str(value).startswith(LOST):
        return SET if value else NOT_SET
    return f"{SET}, check sum {digest_of(str(value).encode())[:SIGNS]}"


def is_same_secret(one: Any, other: Any) -> bool:
    """Compare two notes of a secret; those of before, and of one that was lost with the database, have no check sum."""
    return one == other or (SET in (one, other) and is_noted_as_set(one) and is_noted_as_set(other))


def is_noted_as_set(noted: Any) -> bool:
    """Say whether a note tells of a secret that was set."""
    return str(noted).startswith(SET)


def plain(value: Any) -> Any:
    """Give a value as JSON has it. Decimals are text, so that no digit is lost."""
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    return value
