"""Whether the tables, their rules and their triggers are the ones this program makes."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache

from django.core.management import call_command
from django.db import connections
from django.db.backends.base.base import BaseDatabaseWrapper

from hingeline_app.records.looking.findings import START, Finding
from hingeline_app.records.other_database import other_database
from hingeline_app.records.steps import unknown_steps
from hingeline_app.records.triggers import TABLE, missing_triggers

IN_MEMORY = {"ENGINE": "django.db.backends.sqlite3", "NAME": ":memory:"}
RULES = ("one_entry_a_position", "no_fork", "one_entry_a_command")


def schema_findings(connection: BaseDatabaseWrapper) -> Iterator[Finding]:
    """Name what differs from a database that was made anew just now."""
    for name in missing_triggers(connection):
        yield Finding("trigger", name, "the trigger that keeps the ledger append-only is gone or changed")
    yield from _sqlite(connection) if connection.vendor == "sqlite" else _postgresql(connection)


def newer_data(connection: BaseDatabaseWrapper, version: str) -> Iterator[Finding]:
    """Refuse to start on data that a newer program has written."""
    steps = unknown_steps(connection.alias)
    if steps:
        yield Finding(
            "program",
            steps[-1],
            f"the records were last written by Hingeline {version}, which is newer than this program",
            START,
            f"Install Hingeline {version} or a later one; this program changes nothing here.",
        )


def _sqlite(connection: BaseDatabaseWrapper) -> Iterator[Finding]:
    there, wanted = sqlite_schema(connection), _made_anew()
    for name in sorted(there.keys() | wanted.keys()):
        if there.get(name) != wanted.get(name):
            yield Finding("schema", name, _differs(name in there, name in wanted))


def _differs(is_there: bool, is_wanted: bool) -> str:
    if not is_wanted:
        return "this program makes nothing of that name: somebody put it into the database"
    return "it is not as this program makes it" if is_there else "it is missing"


def sqlite_schema(connection: BaseDatabaseWrapper) -> dict[str, str]:
    """Give what the database says of its tables, indexes and triggers, without its own."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT name, sql FROM sqlite_master WHERE name NOT LIKE 'sqlite\\_%%' ESCAPE '\\'", [])
        return {name: re.sub(r"\s+", " ", text or "").strip() for name, text in cursor.fetchall()}


@cache
def _made_anew() -> dict[str, str]:
    with other_database(IN_MEMORY) as alias:
        call_command("migrate", database=alias, verbosity=0, interactive=False)
        return sqlite_schema(connections[alias])


def _postgresql(connection: BaseDatabaseWrapper) -> Iterator[Finding]:
    """PostgreSQL writes the text of its tables anew: there the ledger's rules are looked for by name."""
    with connection.cursor() as cursor:
        cursor.execute("SELECT conname FROM pg_constraint WHERE conrelid = %s::regclass AND contype = 'u'", [TABLE])
        there = {name for (name,) in cursor.fetchall()}
    for name in RULES:
        if name not in there:
            yield Finding("schema", name, "it is missing")
