"""Make the records again from their entries alone: from a journal, or from an export.

Every row comes back as the ledger last noted it. Secrets are not in the ledger: whoever had a
password or a PIN has to be given a new one.
"""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from uuid import UUID

from django.core.management import call_command
from django.db import models, transaction

from hingeline.errors import InputRefused
from hingeline_app.records.attachments import attachments_there
from hingeline_app.records.backing_up.make import copy_attachment
from hingeline_app.records.backing_up.restore import write_journals
from hingeline_app.records.chain import Link, breaks
from hingeline_app.records.heads import CHAINS
from hingeline_app.records.journal import JournalDamaged, read_lines, sync_folder
from hingeline_app.records.looking.findings import Findings
from hingeline_app.records.looking.look import Places, look_at_the_records
from hingeline_app.records.looking.rows_as_noted import kept_tables
from hingeline_app.records.looking.walking import Step, in_order, last_notes, step_of
from hingeline_app.records.models import Entry
from hingeline_app.records.models.kept import KeptRow
from hingeline_app.records.other_database import other_database
from hingeline_app.records.rows import LOST, Note, is_noted_as_set
from hingeline_app.settings.databases import sqlite_file

Chains = Mapping[str, list[Link]]
BRING = Callable[[Path], None]


@dataclass(frozen=True)
class Rebuilt:
    """What was made again."""

    entries: int
    rows: int
    secrets_lost: int
    findings: Findings


def chains_of_journal(folder: Path) -> dict[UUID, Chains]:
    """Read the journals of a folder, workshop by workshop.

    Raises
    ------
    InputRefused
        There is none, one does not hold, or a file of another name ends as they do.
    """
    read: dict[UUID, dict[str, list[Link]]] = {}
    for path in sorted(folder.glob("*.jsonl")) if folder.is_dir() else []:
        workshop, _, chain = path.name.removesuffix(".jsonl").partition(".")
        read.setdefault(_identifier(workshop, path), {})[chain] = _journal(path)
    if not read:
        remedy = "Name the folder that HINGELINE_JOURNAL names, or the folder journal of the records."
        raise InputRefused.of("--from", str(folder), "a folder with journals (*.records.jsonl)", remedy)
    return dict(read)


def rebuild_from_journal(journal: Path, to: Path, attachments: Path | None = None) -> Rebuilt:
    """Make a data folder from a folder of journals, with the lists of heads and the attachments that are at hand."""

    def bring(part: Path) -> None:
        for heads in journal.glob("*.heads"):
            shutil.copyfile(heads, part / "journal" / heads.name)
        for digest in attachments_there(attachments) if attachments else []:
            copy_attachment(attachments or part, part, digest)

    return rebuild(chains_of_journal(journal), to, bring)


def _identifier(workshop: str, path: Path) -> UUID:
    try:
        return UUID(workshop)
    except ValueError:
        remedy = "Take what is no journal out of the folder."
        raise InputRefused.of("--from", path.name, "journals alone (*.records.jsonl)", remedy) from None


def _journal(path: Path) -> list[Link]:
    try:
        links = list(read_lines(path))
    except JournalDamaged as damaged:
        remedy = "Take the journal of a backup, or cut it before that line and say so in the records."
        raise InputRefused.of("--from", str(damaged), "a journal whose every line holds", remedy) from None
    return links


def rebuild(workshops: Mapping[UUID, Chains], to: Path, bring: BRING | None = None) -> Rebuilt:
    """Make a data folder from entries; ``bring`` puts in what lies beside them (attachments, heads).

    Raises
    ------
    InputRefused
        The folder is not empty, or a chain does not hold.
    """
    if to.exists() and (not to.is_dir() or any(to.iterdir())):
        raise InputRefused.of("--to", str(to), "a folder that is empty, or does not exist yet", "Name a new folder.")
    for chains in workshops.values():
        _refuse_broken(chains)
    part = to.with_name(f"{to.name}.part")
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir(mode=0o700, parents=True)
    try:
        rebuilt = _rebuilt(workshops, part, bring)
        if to.exists():
            to.rmdir()
        part.rename(to)
    finally:
        shutil.rmtree(part, ignore_errors=True)
    sync_folder(to.absolute().parent)
    return rebuilt


def _refuse_broken(chains: Chains) -> None:
    for name, links in chains.items():
        broken = next(breaks(links), None)
        if broken:
            where = f"{name} {broken.position}: {broken.finding}"
            raise InputRefused.of("FILE", where, "entries that follow one another", "Take another copy.")


def _rebuilt(workshops: Mapping[UUID, Chains], part: Path, bring: BRING | None) -> Rebuilt:
    with other_database(sqlite_file(part)) as alias:
        call_command("migrate", database=alias, verbosity=0, interactive=False)
        with transaction.atomic(using=alias):
            counts = [_workshop(workshop, chains, alias) for workshop, chains in workshops.items()]
    write_journals(part)
    if bring:
        bring(part)
    with other_database(sqlite_file(part)) as alias:
        findings = look_at_the_records(Places(alias, part / "journal", part, read_attachments=True))
    entries, rows, lost = (sum(each) for each in zip(*counts, strict=True))
    return Rebuilt(entries, rows, lost, findings)


def _workshop(workshop: UUID, chains: Chains, using: str) -> tuple[int, int, int]:
    both = {name: [_entry(workshop, name, link) for link in chains.get(name, [])] for name in CHAINS}
    steps = {name: list(map(_step, entries)) for name, entries in both.items()}
    records, security = (steps[name] for name in CHAINS)
    by_digest = {entry.digest: entry for entries in both.values() for entry in entries}
    ordered = [by_digest[step.digest] for step in in_order(records, security)]
    Entry.objects.using(using).bulk_create(ordered, batch_size=500)
    notes = last_notes(in_order(records, security))
    return len(ordered), len(notes), _write_rows(notes, using)


def _step(entry: Entry) -> Step:
    return step_of(entry.position, entry.digest, json.loads(entry.body))


def _entry(workshop: UUID, chain: str, link: Link) -> Entry:
    body = json.loads(link.body)
    command = body.get("command") or {"key": None, "digest": ""}
    return Entry(
        workshop_id=workshop,
        chain=chain,
        position=link.position,
        previous=link.previous,
        digest=link.digest,
        body=link.body.decode(),
        kind=body["kind"],
        command_key=command["key"],
        command_digest=command["digest"],
    )


def _write_rows(notes: Mapping[tuple[str, str], Note], using: str) -> int:
    """Write every row, and say how many secrets were lost."""
    tables = {str(model._meta.model_name): model for model in kept_tables()}
    for name, model in tables.items():
        rows = [row_of(model, note) for (table, _), note in notes.items() if table == name]
        model._base_manager.using(using).bulk_create(rows, batch_size=500)
    return sum(_secrets(tables[table], note) for (table, _), note in notes.items() if table in tables)


def _secrets(model: type[KeptRow], note: Note) -> int:
    return sum(is_noted_as_set(note["values"].get(name)) for name in model.secret_fields)


def row_of(model: type[KeptRow], note: Note) -> KeptRow:
    """Make a row as the ledger noted it."""
    return model(**dict(_values(model, note)))


def _values(model: type[KeptRow], note: Note) -> Iterator[tuple[str, Any]]:
    noted = note["values"]
    for field in model._meta.concrete_fields:
        assert isinstance(field, models.Field)
        if field.primary_key:
            yield field.attname, field.to_python(note["identifier"])
        elif field.attname in model.secret_fields:
            yield (
                field.attname,
                _lost(field, note) if is_noted_as_set(noted.get(field.attname)) else field.get_default(),
            )
        elif field.attname in noted:
            target = field.target_field if isinstance(field, models.ForeignKey) else field
            yield field.attname, target.to_python(noted[field.attname])


def _lost(field: models.Field[Any, Any], note: Note) -> str:
    """Give a value that is set, is nobody's secret, and differs from row to row."""
    return f"{LOST}{note['identifier']}"[: field.max_length]
