"""Copy every row of the records from one database to another, whichever two kinds they are.

Passwords and PINs go along as they are stored. Sessions do not: people sign in again.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from itertools import islice

from django.apps import apps
from django.core.management import call_command
from django.core.management.color import no_style
from django.db import connections, models, transaction

from hingeline.errors import InputRefused

BATCH = 500


def copy_records(source: str, target: str) -> int:
    """Make the tables of the target, copy every row in one transaction, and say how many they were.

    Raises
    ------
    InputRefused
        The target already holds records.
    """
    call_command("migrate", database=target, verbosity=0, interactive=False)
    tables = tables_of_the_records()
    _refuse_one_that_is_not_empty(tables, target)
    with _one_moment(source), transaction.atomic(using=target):
        copied = sum(_copy_table(table, source, target) for table in tables)
        _count_on_from_here(tables, target)
    return copied


def tables_of_the_records() -> list[type[models.Model]]:
    """Give every table of the records, the ledger included."""
    return [model for model in apps.get_app_config("records").get_models() if model._meta.managed]


def _refuse_one_that_is_not_empty(tables: list[type[models.Model]], target: str) -> None:
    held = [table._meta.db_table for table in tables if table._base_manager.using(target).exists()]
    if held:
        raise InputRefused.of("--to", held[0], "a database without records", "Name one that is empty.")


@contextmanager
def _one_moment(source: str) -> Iterator[None]:
    """See the source as it is at one moment, while others write on."""
    connection = connections[source]
    if connection.in_atomic_block or connection.vendor != "postgresql":
        with transaction.atomic(using=source):
            yield
        return
    with transaction.atomic(using=source), connection.cursor() as cursor:
        cursor.execute("SET TRANSACTION ISOLATION LEVEL REPEATABLE READ, READ ONLY")
        yield


def _copy_table(table: type[models.Model], source: str, target: str) -> int:
    rows = table._base_manager.using(source).order_by("pk").iterator(chunk_size=BATCH)
    copied = 0
    while batch := list(islice(rows, BATCH)):
        table._base_manager.using(target).bulk_create(batch)
        copied += len(batch)
    return copied


def _count_on_from_here(tables: list[type[models.Model]], target: str) -> None:
    """Let numbers that a database gives by itself follow the highest one copied."""
    connection = connections[target]
    with connection.cursor() as cursor:
        for command in connection.ops.sequence_reset_sql(no_style(), tables):
            cursor.execute(command)
