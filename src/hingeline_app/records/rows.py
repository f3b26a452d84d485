"""A row's values as they stand in an entry, and back."""

from __future__ import annotations

from datetime import date, datetime
from decimal import Decimal
from typing import Any
from uuid import UUID

from django.db import models

from hingeline_app.records.models.kept import KeptRow

Note = dict[str, Any]


def note_of(row: KeptRow) -> Note:
    """Note every value of a row; of a secret only whether it is set."""
    values = {field.attname: _value(row, field) for field in row._meta.concrete_fields if not field.primary_key}
    return {"table": row._meta.model_name, "identifier": str(row.pk), "values": values}


def _value(row: KeptRow, field: models.Field[Any, Any]) -> Any:
    value = getattr(row, field.attname)
    if field.attname in row.secret_fields:
        return "set" if value else "not set"
    return plain(value)


def plain(value: Any) -> Any:
    """Give a value as JSON has it. Decimals are text, so that no digit is lost."""
    if isinstance(value, datetime | date):
        return value.isoformat()
    if isinstance(value, Decimal | UUID):
        return str(value)
    return value
