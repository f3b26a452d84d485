"""A column of plain data: lists and tables in their one spelling, the same text on both databases.

Django's own column for JSON asks SQLite for a check that it refuses while the schema is
not trusted, and PostgreSQL's would write numbers anew.
"""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Any

from django.db import models

from hingeline_app.records.canonical import canonical

if TYPE_CHECKING:
    AnyField = models.Field[Any, Any]
else:
    AnyField = models.Field


class PlainField(AnyField):
    """Plain data, kept as canonical JSON."""

    def get_internal_type(self) -> str:
        """Say which kind of column it is."""
        return "TextField"

    def from_db_value(self, value: str | None, _expression: object, _connection: object) -> Any:
        """Read what the column holds."""
        return None if value is None else json.loads(value)

    def get_prep_value(self, value: Any) -> str | None:
        """Write it in its one spelling."""
        return None if value is None else canonical(value).decode()
