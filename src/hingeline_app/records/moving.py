"""Move a workshop's records from one kind of database to the other, and prove that they arrived."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.db import connections

from hingeline.errors import HingelineError, InputRefused
from hingeline_app.records.copying import copy_records
from hingeline_app.records.locking import one_writer
from hingeline_app.records.looking.findings import NOTHING, ChainState, Findings
from hingeline_app.records.looking.look import Places, look_at_the_records
from hingeline_app.records.other_database import other_database
from hingeline_app.settings.databases import FILE_NAME, postgresql, sqlite_file

MOVED = "records.moved.sqlite3"


class NotMoved(HingelineError, RuntimeError):
    """The copy is not what it was made from; the records in use are as they were."""


def move_records(to: str) -> Findings:
    """Copy everything to an empty database, compare the two, and put the old file aside.

    Parameters
    ----------
    to : str
        ``postgresql://user@host/name``, or the data folder that is to hold a SQLite file.

    Raises
    ------
    InputRefused
        The place is no database, or is not empty.
    NotMoved
        What arrived is not what was sent.
    """
    described = _described(to)
    with one_writer():
        before = _looked_at(Places.of_the_settings())
        with other_database(described) as alias:
            copy_records("default", alias)
            after = _looked_at(Places(alias, Path(settings.JOURNAL_FOLDER), Path(settings.DATA_FOLDER)))
        if _heads(before) != _heads(after):
            raise NotMoved("Nothing was moved: the heads of the chains differ. The records in use are as they were.")
        _put_aside()
    return after


def _described(to: str) -> dict[str, Any]:
    if "://" in to:
        try:
            return postgresql(to)
        except ValueError:
            expected = "postgresql://user@host/name, or a folder"
            raise InputRefused.of("--to", to, expected, "Name an empty database.") from None
    if connections["default"].vendor == "sqlite":
        remedy = "Move to postgresql://user@host/name; a copy in another folder is a backup and its restore."
        raise InputRefused.of("--to", to, "a database of the other kind", remedy)
    if (Path(to) / FILE_NAME).exists():
        raise InputRefused.of("--to", to, f"a folder without {FILE_NAME}", "Put that file aside first.")
    Path(to).mkdir(mode=0o700, parents=True, exist_ok=True)
    return sqlite_file(Path(to).absolute())


def _looked_at(places: Places) -> Findings:
    findings = look_at_the_records(places)
    stopping = [each for each in findings.findings if each.stops != NOTHING]
    if stopping:
        first = stopping[0]
        raise NotMoved(f"Nothing was moved: {first.what} {first.where}: {first.says}. {first.remedy}".rstrip())
    return findings


def _heads(findings: Findings) -> list[tuple[str, str, int, str]]:
    return [_head(state) for state in findings.chains]


def _head(state: ChainState) -> tuple[str, str, int, str]:
    return (state.workshop, state.chain, state.entries, state.head)


def _put_aside() -> None:
    """Rename the file that was moved, so that nobody goes on writing into it."""
    connection = connections["default"]
    if connection.vendor == "sqlite":
        file = Path(str(connection.settings_dict["NAME"]))
        connection.close()
        file.rename(file.with_name(MOVED))
