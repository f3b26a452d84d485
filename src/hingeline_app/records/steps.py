"""Which steps (migrations) a database has taken, has still to take, or has taken beyond this program."""

from __future__ import annotations

from django.db import connections
from django.db.migrations.executor import MigrationExecutor
from django.db.migrations.loader import MigrationLoader
from django.db.migrations.recorder import MigrationRecorder

APP = "records"


def steps_to_take(using: str) -> list[str]:
    """Name the steps between the database and this program."""
    executor = MigrationExecutor(connections[using])
    plan = executor.migration_plan(executor.loader.graph.leaf_nodes())
    return [f"{step.app_label}.{step.name}" for step, _ in plan]


def unknown_steps(using: str) -> list[str]:
    """Name the steps that the database has taken and this program does not know: it is too old for the data."""
    known = set(MigrationLoader(None).disk_migrations or {})
    taken = MigrationRecorder(connections[using]).applied_migrations()
    return sorted(f"{app}.{name}" for app, name in set(taken) - known if app == APP)


def is_new(using: str) -> bool:
    """Whether the database has taken no step at all."""
    return not MigrationRecorder(connections[using]).applied_migrations()
