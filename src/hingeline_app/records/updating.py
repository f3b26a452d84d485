"""Bring a database to this program's tables: a checked backup first, then all steps or none.

SQLite: the steps are taken on a copy, which then takes the file's place in one rename. A
server: all steps in one transaction. A kill at any moment leaves the old or the new.
"""

from __future__ import annotations

import os
import sqlite3
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from django.conf import settings
from django.core.management import call_command
from django.db import connections, transaction

import hingeline
from hingeline.errors import HingelineError
from hingeline_app.records.backing_up.make import back_up
from hingeline_app.records.journal import sync_folder
from hingeline_app.records.locking import one_writer
from hingeline_app.records.looking.findings import NOTHING
from hingeline_app.records.looking.look import Places, last_version, look_at_the_records
from hingeline_app.records.looking.schema import newer_data
from hingeline_app.records.models import Entry, Workshop
from hingeline_app.records.other_database import other_database
from hingeline_app.records.steps import is_new, steps_to_take
from hingeline_app.records.write_door import Actor, write_door
from hingeline_app.settings.databases import FILE_NAME, sqlite_file

BACKUPS = "before-updates"
NEXT = "next"


class ProgramTooOld(HingelineError, RuntimeError):
    """A newer program has written here: this one changes nothing."""


class NotUpdated(HingelineError, RuntimeError):
    """The new tables do not hold what the old ones did: the old ones are in use."""


@dataclass(frozen=True)
class Update:
    """What was done to the tables; no backup where they were made for the first time, or nothing was to do."""

    steps: tuple[str, ...] = ()
    backup: Path | None = None


def bring_up_to_date(now: datetime) -> Update:
    """Take the steps that are missing.

    Raises
    ------
    ProgramTooOld
        The database was written by a newer program.
    NotABackup
        The backup before it could not be made: nothing was changed.
    NotUpdated
        What came out does not hold: nothing was changed.
    """
    if _holds_nothing():
        steps = tuple(steps_to_take("default"))
        call_command("migrate", verbosity=0, interactive=False)
        return Update(steps)
    _refuse_newer_data()
    steps = tuple(steps_to_take("default"))
    if not steps:
        return Update()
    backup = back_up(Path(settings.DATA_FOLDER) / BACKUPS, now)
    with one_writer():
        _on_a_copy() if connections["default"].vendor == "sqlite" else _in_one_transaction()
    _note(steps, backup.folder.name)
    return Update(steps, backup.folder)


def _holds_nothing() -> bool:
    """Whether there is no entry yet: a new database, or one whose first making was cut off."""
    there = connections["default"].introspection.table_names()
    return is_new("default") or Entry._meta.db_table not in there or not Entry.objects.exists()


def _refuse_newer_data() -> None:
    for finding in newer_data(connections["default"], last_version("default")):
        raise ProgramTooOld(f"{finding.says[0].upper()}{finding.says[1:]}. {finding.remedy}")


def _on_a_copy() -> None:
    """Take the steps on a copy beside the file, look at it, and let it take the file's place."""
    file = Path(str(connections["default"].settings_dict["NAME"]))
    folder = file.parent / NEXT
    folder.mkdir(mode=0o700, exist_ok=True)
    for left in folder.iterdir():
        left.unlink()
    _let_go_of_the_log(file)
    with closing(sqlite3.connect(file)) as old, closing(sqlite3.connect(folder / FILE_NAME)) as new:
        old.backup(new)
    with other_database(sqlite_file(folder)) as alias:
        call_command("migrate", database=alias, verbosity=0, interactive=False)
        _refuse_what_does_not_hold(alias)
    _let_go_of_the_log(folder / FILE_NAME)
    _sync(folder / FILE_NAME)
    os.replace(folder / FILE_NAME, file)
    sync_folder(folder)
    sync_folder(file.parent)
    folder.rmdir()


def _let_go_of_the_log(file: Path) -> None:
    """Bring a write-ahead log into its file, so that the file alone is the database."""
    connections["default"].close()
    with closing(sqlite3.connect(file)) as connection:
        connection.execute("PRAGMA wal_checkpoint(TRUNCATE)")


def _in_one_transaction() -> None:
    with transaction.atomic():
        with connections["default"].cursor() as cursor:
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
        call_command("migrate", verbosity=0, interactive=False)
        _refuse_what_does_not_hold("default")


def _refuse_what_does_not_hold(using: str) -> None:
    findings = look_at_the_records(Places(using))
    for each in findings.findings:
        if each.stops != NOTHING and each.what != "clock":
            raise NotUpdated(f"The update was not taken: {each.what} {each.where}: {each.says}.")


def _sync(path: Path) -> None:
    handle = os.open(path, os.O_RDONLY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)


def _note(steps: tuple[str, ...], backup: str) -> None:
    """Say in every workshop's ledger that the program was updated, and to which version."""
    says = {"to": hingeline.__version__, "steps": list(steps), "backup": backup}
    for workshop in Workshop.objects.all():
        with write_door(Actor(workshop), "program updated", says):
            pass
