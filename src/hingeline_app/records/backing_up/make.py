"""Make a backup while others write: copied, synced, opened, checked, compared; only then named a backup."""

from __future__ import annotations

import os
import shutil
import sqlite3
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings
from django.db import DatabaseError, connections

import hingeline
from hingeline.errors import HingelineError
from hingeline_app.records.attachments import attachment_holds, attachment_path, attachments_there
from hingeline_app.records.backing_up.manifest import Manifest, digests_in, name_of, write_manifest
from hingeline_app.records.copying import copy_records
from hingeline_app.records.journal import sync_folder
from hingeline_app.records.looking.findings import NOTHING, ChainState, Findings
from hingeline_app.records.looking.look import Places, look_at_the_records
from hingeline_app.records.models import Entry
from hingeline_app.records.other_database import other_database
from hingeline_app.records.steps import steps_to_take
from hingeline_app.settings.databases import FILE_NAME, sqlite_file

KEYS, HEADS = "keys", "heads"


class NotABackup(HingelineError, RuntimeError):
    """What was copied cannot be counted as a backup; earlier ones are as they were."""


@dataclass(frozen=True)
class Backup:
    """A finished backup; ``not_tried`` says why it was not restored as a trial, where it was not."""

    folder: Path
    at: datetime
    entries: int
    findings: Findings
    not_tried: str = ""


def back_up(to: Path, now: datetime | None = None) -> Backup:
    """Make a backup of the records in use.

    Raises
    ------
    NotABackup
        The copy does not hold what it should, or could not be written.
    """
    at = now or datetime.now(UTC)
    part = to / f"{name_of(at)}.part"
    try:
        return _made(to, part, at)
    except (OSError, sqlite3.Error, DatabaseError) as fault:
        # The medium may give out while the database writes its copy there: then the database says so, in its words.
        said = getattr(fault, "strerror", None) or fault
        raise NotABackup(f"No backup was made: {said}. Earlier ones are as they were.") from fault
    finally:
        shutil.rmtree(part, ignore_errors=True)


def _made(to: Path, part: Path, at: datetime) -> Backup:
    to.mkdir(mode=0o700, parents=True, exist_ok=True)
    shutil.rmtree(part, ignore_errors=True)
    part.mkdir(mode=0o700)
    # Heads before entries: a head that is given meanwhile would be of an entry that the copy has not, and the
    # restored records would say that their tail was cut off. Keys after heads: the first head makes the first key.
    _copy_heads(part)
    _copy_database(part)
    _copy_folder(Path(settings.DATA_FOLDER) / KEYS, part / KEYS)
    attachments = _copy_attachments(to)
    findings = checked_copy(part)
    manifest = Manifest(
        at.isoformat(), hingeline.__version__, digests_in(part), tuple(map(_chain, findings.chains)), attachments
    )
    write_manifest(part, manifest)
    _sync_all(part)
    finished = to / name_of(at)
    part.rename(finished)
    sync_folder(to)
    return Backup(finished, at, sum(state.entries for state in findings.chains), findings)


def _copy_database(part: Path) -> None:
    """Copy through the database's own backup, or, from a server, row by row into a file of the same tables."""
    connection = connections["default"]
    if connection.vendor == "sqlite":
        connection.ensure_connection()
        with sqlite3.connect(part / FILE_NAME) as copy:
            connection.connection.backup(copy)
        copy.close()
    else:
        with other_database(sqlite_file(part)) as alias:
            copy_records("default", alias)


def checked_copy(folder: Path, data: Path | None = None) -> Findings:
    """Open a copied database, and look at it as at the records in use.

    Tables of an earlier program are looked at as far as their chains.

    Raises
    ------
    NotABackup
        It is damaged, its chain does not hold, or it is not a copy of the records in use.
    """
    with other_database(sqlite_file(folder)) as alias:
        _refuse_a_damaged_file(alias)
        earlier = bool(steps_to_take(alias))
        findings = look_at_the_records(Places(alias, None, data, data is not None, chains_only=earlier))
    stopping = [each for each in findings.findings if each.stops != NOTHING and each.what != "clock"]
    if stopping:
        first = stopping[0]
        raise NotABackup(f"No backup: in the copy, {first.what} {first.where}: {first.says}.")
    if data is None:
        _compare_heads(findings)
    return findings


def _refuse_a_damaged_file(alias: str) -> None:
    with connections[alias].cursor() as cursor:
        cursor.execute("PRAGMA integrity_check")
        said = cursor.fetchone()[0]
    if said != "ok":
        raise NotABackup(f"No backup: the copied database is damaged ({said}).")


def _compare_heads(findings: Findings) -> None:
    """Each head of the copy must be an entry of the records in use, which may have gone on since."""
    for state in findings.chains:
        if not Entry.objects.filter(workshop=UUID(state.workshop), chain=state.chain, digest=state.head).exists():
            raise NotABackup(f"No backup: entry {state.entries} of the copy is not in the records in use.")


def _chain(state: ChainState) -> Mapping[str, Any]:
    return {"workshop": state.workshop, "chain": state.chain, "entries": state.entries, "head": state.head}


def _copy_folder(source: Path, to: Path) -> None:
    if source.is_dir():
        shutil.copytree(source, to)


def _copy_heads(part: Path) -> None:
    (part / HEADS).mkdir()
    for path in Path(settings.JOURNAL_FOLDER).glob("*.heads"):
        shutil.copy2(path, part / HEADS / path.name)


def _copy_attachments(to: Path) -> tuple[str, ...]:
    """Copy the files that are not there yet, and give the digests of all."""
    data = Path(settings.DATA_FOLDER)
    digests = tuple(attachments_there(data))
    for digest in digests:
        if not attachment_path(to, digest).is_file():
            copy_attachment(data, to, digest)
    return digests


def copy_attachment(source: Path, to: Path, digest: str) -> None:
    """Copy one attached file beside its place, read it again, and move it there."""
    path = attachment_path(to, digest)
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    part = path.with_name(f"{digest}.part")
    shutil.copyfile(attachment_path(source, digest), part)
    _sync_file(part)
    part.replace(path)
    sync_folder(path.parent)
    if not attachment_holds(to, digest):
        path.unlink()
        raise NotABackup(f"No backup: the attached file {digest[:16]}… was changed, here or on the way.")


def _sync_all(folder: Path) -> None:
    for path in folder.rglob("*"):
        if path.is_file():
            _sync_file(path)
    for path in (folder, *(each for each in folder.rglob("*") if each.is_dir())):
        sync_folder(path)


def _sync_file(path: Path) -> None:
    file = os.open(path, os.O_RDONLY)
    try:
        os.fsync(file)
    finally:
        os.close(file)
