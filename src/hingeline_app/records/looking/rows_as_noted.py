"""Whether every row of the tables is as the ledger last noted it."""

from __future__ import annotations

import json
from collections.abc import Iterator, Mapping
from operator import eq
from typing import Any

from django.apps import apps
from django.db import models

from hingeline_app.records.canonical import canonical
from hingeline_app.records.looking.findings import Finding
from hingeline_app.records.looking.reading_rows import NO_VALUE, rows_of
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.rows import NOT_SET, Note, is_same_secret, note_of

Notes = Mapping[tuple[str, str], Note]
UNREADABLE = "it holds what no row has, and cannot be read: it was changed beside the ledger"


def kept_tables() -> list[type[KeptRow]]:
    """Give every table whose rows stand in the ledger."""
    return [model for model in apps.get_app_config("records").get_models() if issubclass(model, KeptRow)]


def row_findings(notes: Notes, using: str) -> Iterator[Finding]:
    """Name each row that was changed, put in, or taken out beside the ledger."""
    for model in kept_tables():
        yield from _table(model, notes, using)


def _table(model: type[KeptRow], notes: Notes, using: str) -> Iterator[Finding]:
    name, seen = str(model._meta.model_name), set()
    for identifier, row in rows_of(model, using):
        key = (name, identifier)
        seen.add(key)
        if row is None:
            yield _finding(key, UNREADABLE)
        elif key not in notes:
            yield _finding(key, "it stands in no entry: it was put in beside the ledger")
        else:
            yield from _looked_at(model, row, notes[key])
    for key in sorted(key for key in notes if key[0] == name and key not in seen):
        yield _finding(key, "the ledger knows it and the table does not: it was taken out")


def _looked_at(model: type[KeptRow], row: KeptRow, note: Note) -> list[Finding]:
    """Compare a row with its note; bytes and numbers without end were read, and are no values all the same."""
    try:
        return list(_differences(model, row, note))
    except NO_VALUE:
        return [_finding((note["table"], note["identifier"]), UNREADABLE)]


def _differences(model: type[KeptRow], row: KeptRow, note: Note) -> Iterator[Finding]:
    is_now = note_of(row)["values"]
    if _same_text(is_now, note["values"]):
        return
    there, noted = _plain(is_now), _plain(note["values"])
    for field in there:
        wanted = noted[field] if field in noted else _plain({field: _unset(model, field)})[field]
        is_same = is_same_secret if field in model.secret_fields else eq
        if not is_same(there[field], wanted):
            yield _finding(
                (note["table"], note["identifier"]),
                f"{field} is {_shown(there[field])}, and the ledger last noted {_shown(wanted)}",
            )


def _unset(model: type[KeptRow], attname: str) -> Any:
    """Give what a column holds in rows older than itself."""
    field = next(each for each in model._meta.concrete_fields if each.attname == attname)
    if attname in model.secret_fields:
        return NOT_SET
    assert isinstance(field, models.Field)
    return field.get_default()


def _same_text(one: Mapping[str, Any], other: Mapping[str, Any]) -> bool:
    """Whether two notes are spelled alike as they are: most rows are, and the one spelling costs ten times as much.

    By their text, not by equality: true is no 1.
    """
    return json.dumps(one, sort_keys=True) == json.dumps(other, sort_keys=True)


def _plain(values: Mapping[str, Any]) -> dict[str, Any]:
    """Bring values through the one spelling, so that they compare as they were hashed."""
    read: dict[str, Any] = json.loads(canonical(values))
    return read


def _shown(value: Any) -> str:
    text = json.dumps(value, ensure_ascii=False)
    return text if len(text) <= 80 else text[:79] + "…"


def _finding(key: tuple[str, str], says: str) -> Finding:
    return Finding("row", f"{key[0]} {key[1]}", says, remedy="Compare with the journal and the last backup.")
