"""The job engine's tables lie where its rows are: beside the pages' own records, never in a copy of them."""

from __future__ import annotations

from typing import Any

ENGINE = "django_tasks_database"


class QueueStaysHere:
    """Makes the engine's tables in the database in use alone."""

    def allow_migrate(self, db: str, app_label: str, **_hints: Any) -> bool | None:
        """Leave the engine's steps out of backups and of moved records; of others say nothing."""
        return db == "default" if app_label == ENGINE else None
