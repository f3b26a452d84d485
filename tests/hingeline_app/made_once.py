"""A workshop that many tests begin with: made through the acts once in a process, and put before each test as a copy.

The acts would be most of what a test takes; what they leave is the same rows and the same files.
"""

from __future__ import annotations

import pickle
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any, Generic, TypeVar

from django.db import connection
from django.test import TestCase

from hingeline_app.records import door_notes
from hingeline_app.records.queries import checks_ahead, clock_ahead

T = TypeVar("T")
# What the program remembers of a workshop while it runs: of the copy of the test before nothing may be left.
REMEMBERED: tuple[dict[Any, Any], ...] = (checks_ahead._kept, clock_ahead._read, door_notes._counted)
# Of each table its rows, each as the database itself writes it: no value goes through a converter.
Rows = dict[str, list[str]]


@dataclass(frozen=True)
class Made(Generic[T]):
    """What the acts added: rows, files, and what their maker gave."""

    rows: Rows
    files: dict[str, bytes]
    given: bytes

    def put_into(self, folder: Path) -> T:
        """Put it before a test, into its database and its folder."""
        with connection.cursor() as cursor:
            for table, rows in self.rows.items():
                _put_rows(cursor, connection.ops.quote_name(table), rows)
        for name, data in self.files.items():
            path = folder / name
            path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
            path.write_bytes(data)
        for memory in REMEMBERED:
            memory.clear()
        given: T = pickle.loads(self.given)
        return given


def made_once(make: Callable[..., T], folder: Path, *, onto: Made[Any] | None = None) -> Made[T]:
    """Make it in a folder of its own and take the rows away again.

    ``onto`` is what has to be there first, and what its maker gave is given to ``make``; only what is added is
    remembered, and of the rows that were there none may change. The caller's settings name the folder.
    """

    class Making(TestCase):
        """One transaction that is rolled back, in which the write door may open."""

    Making.setUpClass()
    try:
        base = [onto.put_into(folder)] if onto else []
        before = _rows()
        given = make(*base)
        added = _added(before, _rows())
        return Made(added, _files(folder), pickle.dumps(given))
    finally:
        Making.tearDownClass()


def _rows() -> Rows:
    with connection.cursor() as cursor:
        return {table: _rows_of(cursor, table) for table in connection.introspection.table_names(cursor)}


def _rows_of(cursor: Any, table: str) -> list[str]:
    name = connection.ops.quote_name
    if connection.vendor == "postgresql":
        cursor.execute(f"SELECT each::text FROM {name(table)} AS each")
    else:
        columns = [each.name for each in connection.introspection.get_table_description(cursor, table)]
        quoted = " || ',' || ".join(f"quote({name(column)})" for column in columns)
        cursor.execute(f"SELECT '(' || {quoted} || ')' FROM {name(table)} ORDER BY rowid")
    return [row for (row,) in cursor.fetchall()]


def _put_rows(cursor: Any, table: str, rows: list[str]) -> None:
    if connection.vendor == "postgresql":
        # Numbers that the database counts went on when these rows were made: none is given twice.
        cursor.execute(f"INSERT INTO {table} SELECT * FROM unnest(%s::text[]::{table}[])", [rows])
    else:
        cursor.execute(f"INSERT INTO {table} VALUES {', '.join(rows)}")


def _added(before: Rows, after: Rows) -> Rows:
    for table, rows in before.items():
        gone = set(rows) - set(after[table])
        assert not gone, f"{table}: {len(gone)} rows that were there were changed; make it whole, not onto another"
    added = {table: [row for row in rows if row not in set(before[table])] for table, rows in after.items()}
    return {table: rows for table, rows in added.items() if rows}


def _files(folder: Path) -> dict[str, bytes]:
    return {
        path.relative_to(folder).as_posix(): path.read_bytes() for path in sorted(folder.rglob("*")) if path.is_file()
    }
