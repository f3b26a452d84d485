"""Everything that belongs to one aircraft: its rows, what they name, and which entries tell of nothing else."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from typing import Any

from django.db import models

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.chain import Blank, Link
from hingeline_app.records.models import (
    Account,
    Aircraft,
    Attachment,
    DailyCheck,
    Deferral,
    Job,
    LimitRow,
    Part,
    Passkey,
    Person,
    RowReading,
    Scale,
    SignOff,
    Tablet,
    Task,
    Workshop,
)
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.queries.visible import BELONGS
from hingeline_app.records.rows import Note

Key = tuple[str, str]
# What a row may name and an aircraft does not take with it.
LEFT_BEHIND = (Workshop, Account, Passkey, Tablet)


# What goes with a row beside what it names.
BESIDE: Mapping[type[KeptRow], tuple[type[KeptRow], ...]] = {
    Job: (Person,),
    LimitRow: (RowReading,),
    Scale: (DailyCheck,),
    Part: (Task,),
    Task: (SignOff, Deferral),
}


def carried_tables() -> frozenset[type[KeptRow]]:
    """Give the tables whose rows an aircraft may take with it: no account, no right, no tablet."""
    found: set[type[KeptRow]] = set()
    waiting: list[Any] = [table for table, belongs in BELONGS.items() if belongs.owner is not None]
    while waiting:
        table = waiting.pop()
        if table not in found and table not in LEFT_BEHIND:
            found.add(table)
            waiting += [field.remote_field.model for field in foreign_keys(table)]
            waiting += BESIDE.get(table, ())
    return frozenset(found)


def rows_of_aircraft(aircraft: Aircraft) -> dict[Key, KeptRow]:
    """Give the rows of an aircraft with all that they name: people, limits with their readings, scales, parts."""
    found: dict[Key, KeptRow] = {}
    waiting: list[KeptRow] = [row for rows in _own(aircraft) for row in rows]
    while waiting:
        row = waiting.pop()
        if key_of(row) not in found:
            found[key_of(row)] = row
            waiting.extend(_named_by(row))
    return found


def key_of(row: KeptRow) -> Key:
    """Give the name of a row as the ledger notes it."""
    return str(row._meta.model_name), str(row.pk)


def _own(aircraft: Aircraft) -> Iterator[Iterable[KeptRow]]:
    for table, belongs in BELONGS.items():
        if belongs.owner is not None:
            path = belongs.owner.removesuffix("owner").removesuffix("__") or "pk"
            yield table._default_manager.filter(**{path: aircraft.pk})


def _named_by(row: KeptRow) -> Iterator[KeptRow]:
    for field in foreign_keys(type(row)):
        target = getattr(row, field.name)
        if target is not None and not isinstance(target, LEFT_BEHIND):
            yield target
    if isinstance(row, Job):
        yield from Person.objects.filter(pk__in=row.worked_on_by)
    if isinstance(row, LimitRow):
        yield from RowReading.objects.filter(row=row)
    if isinstance(row, Scale):
        yield from DailyCheck.objects.filter(scale=row)
    if isinstance(row, Part):
        yield from Task.objects.filter(part=row)
    if isinstance(row, Task):
        yield from SignOff.objects.filter(task=row)
        yield from Deferral.objects.filter(task=row)


def foreign_keys(table: type[KeptRow]) -> list[models.ForeignKey[Any, Any]]:
    """Give the columns of a table that name rows of others."""
    return [field for field in table._meta.concrete_fields if isinstance(field, models.ForeignKey)]


def parted(links: Iterable[Link], kept: Mapping[Key, KeptRow]) -> tuple[list[Link | Blank], list[Note]]:
    """Leave out the text of every entry that tells of anything else; what it told of the aircraft stands apart."""
    chain: list[Link | Blank] = []
    apart: list[Note] = []
    for link in links:
        notes = json.loads(link.body)["rows"]
        ours = [note for note in notes if (note["table"], note["identifier"]) in kept]
        if ours and len(ours) == len(notes):
            chain.append(link)
        else:
            apart.extend(ours)
            chain.append(Blank(link.position, link.previous, link.digest, digest_of(link.body)))
    return chain, apart


def attached(kept: Mapping[Key, KeptRow]) -> tuple[str, ...]:
    """Name the files of the rows, each once."""
    files = [row for _key, row in sorted(kept.items(), key=lambda item: item[0]) if isinstance(row, Attachment)]
    digests = [digest for row in files for digest in (row.digest, row.preview_digest) if digest]
    return tuple(dict.fromkeys(digests))
