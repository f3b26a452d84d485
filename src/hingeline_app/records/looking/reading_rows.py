"""Every row of a table, also of one into which somebody wrote by hand what its columns do not take."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import closing
from itertools import islice
from typing import Any
from uuid import UUID

from django.core.exceptions import ValidationError
from django.db import DataError, OperationalError, connections

from hingeline_app.records.looking.findings import Finding
from hingeline_app.records.models.kept import KeptRow

# Raised while a value is read: no number, no day, no plain data, no UTF-8.
NO_VALUE = (
    ValueError,
    TypeError,
    ArithmeticError,
    RecursionError,
    AttributeError,
    ValidationError,
    DataError,
    OperationalError,
)
MEND = "Compare with the journal and the last backup."
HEX = set("0123456789ABCDEF")
Read = tuple[str, KeptRow | None]


def rows_of(model: type[KeptRow], using: str) -> Iterator[Read]:
    """Give each row by its identifier; None for one that cannot be read.

    They are read by the hundreds. Where that fails, what was not given yet is read one by one.
    """
    given = 0
    try:
        for row in model._base_manager.using(using).order_by("pk").iterator(chunk_size=500):
            yield str(row.pk), row
            given += 1
    except NO_VALUE:
        yield from islice(_one_by_one(model, using), given, None)


def identifiers_in(table: str, column: str, using: str) -> set[UUID]:
    """Give the identifiers in a column; what is none is left out, and named where its row is looked at."""
    with closing(connections[using].cursor()) as cursor:
        cursor.execute(f"SELECT DISTINCT {_spelled(column, using)} FROM {table}")
        found = [_identifier(text) for (text,) in cursor.fetchall()]
    return {each for each in found if each is not None}


def as_far_as_read(what: str, findings: Iterator[Finding]) -> Iterator[Finding]:
    """Give what was found, and say so where a row that cannot be read ended the look before its end."""
    try:
        yield from findings
    except NO_VALUE:
        yield Finding(what, "all", "a row among them cannot be read, and the others were not looked at", remedy=MEND)


def _one_by_one(model: type[KeptRow], using: str) -> Iterator[Read]:
    connection = connections[using]
    table, key = (connection.ops.quote_name(each) for each in (model._meta.db_table, model._meta.pk.column))
    # The file's own number of a row is whole whatever was written into it.
    place = "rowid" if connection.vendor == "sqlite" else key
    with closing(connection.cursor()) as cursor:
        cursor.execute(f"SELECT {place}, {_spelled(key, using)} FROM {table} ORDER BY {key}")
        places = cursor.fetchall()
    for where, text in places:
        identifier = _identifier(text) or f"at place {where}"
        yield _one(model, using, f"SELECT * FROM {table} WHERE {place} = %s", where, str(identifier))


def _one(model: type[KeptRow], using: str, question: str, where: Any, identifier: str) -> Read:
    try:
        (row,) = model._base_manager.using(using).raw(question, [where])
    except NO_VALUE:
        return identifier, None
    return str(row.pk), row


def _spelled(column: str, using: str) -> str:
    """Ask for an identifier in signs that are always read, whatever lies there."""
    return f"hex({column})" if connections[using].vendor == "sqlite" else f"CAST({column} AS text)"


def _identifier(spelled: str) -> UUID | None:
    for text in (spelled, bytes.fromhex(spelled).decode(errors="replace") if set(spelled) <= HEX else ""):
        try:
            return UUID(text)
        except ValueError:
            continue
    return None
