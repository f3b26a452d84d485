"""What a power cut did to the records: opened as after a restart, and compared with what was acknowledged."""

from __future__ import annotations

import json
import shutil
import sqlite3
from collections.abc import Mapping
from contextlib import closing
from dataclasses import dataclass
from pathlib import Path

from hingeline_app.records.chain import Link, breaks
from hingeline_app.records.journal import JournalDamaged, read_lines
from hingeline_app.settings.databases import FILE_NAME
from tests.faults.power_cuts.saving import ACKNOWLEDGED

ENTRIES = "SELECT position, previous, digest, body FROM records_entry WHERE chain = 'records' ORDER BY position"


@dataclass(frozen=True)
class Verdict:
    """What was found after one cut."""

    acknowledged: int
    lost: int
    lost_in_journal: int
    broken: str
    half_written: bool
    journal_ahead: bool


def judge(files: Mapping[str, bytes], acknowledged: Mapping[int, str], folder: Path) -> Verdict:
    """Write the files into a folder and look."""
    shutil.rmtree(folder, ignore_errors=True)
    for name, content in files.items():
        if name != ACKNOWLEDGED:
            (folder / name).parent.mkdir(parents=True, exist_ok=True)
            (folder / name).write_bytes(content)
    entries, initials, broken = _database(folder / FILE_NAME)
    journal, damaged = _journal(folder)
    kept = {link.position: link.digest for link in entries}
    lines = {link.position: link.digest for link in journal}
    return Verdict(
        acknowledged=len(acknowledged),
        lost=_lost(acknowledged, kept),
        lost_in_journal=_lost(acknowledged, lines),
        broken=broken or damaged,
        half_written=not broken and bool(entries) and _noted(entries) not in ("", initials),
        journal_ahead=max(lines, default=0) > max(kept, default=0),
    )


def _lost(acknowledged: Mapping[int, str], kept: Mapping[int, str]) -> int:
    return sum(kept.get(position) != digest for position, digest in acknowledged.items())


def _database(path: Path) -> tuple[list[Link], str, str]:
    try:
        with closing(sqlite3.connect(path)) as connection:
            said = connection.execute("PRAGMA integrity_check").fetchone()[0]
            entries = [Link(*row[:3], row[3].encode()) for row in connection.execute(ENTRIES)]
            initials = connection.execute("SELECT initials FROM records_person WHERE name = 'Bo Lind'").fetchone()
    except sqlite3.DatabaseError as fault:
        return [], "", str(fault)
    chain = next(breaks(entries), None)
    return entries, initials[0] if initials else "", "" if said == "ok" and chain is None else f"{said}; {chain}"


def _journal(folder: Path) -> tuple[list[Link], str]:
    try:
        (path,) = (folder / "journal").glob("*.records.jsonl")
        return list(read_lines(path)), ""
    except (JournalDamaged, ValueError) as fault:
        return [], str(fault)


def _noted(entries: list[Link]) -> str:
    """Give the initials that the last entry about the person noted."""
    notes = (row["values"] for link in reversed(entries) for row in json.loads(link.body)["rows"])
    return next((note["initials"] for note in notes if note.get("name") == "Bo Lind"), "")
