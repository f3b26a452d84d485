"""A data folder as somebody with full rights damages it, and what a look at it finds."""

from __future__ import annotations

import sqlite3
from collections.abc import Iterator
from contextlib import closing, contextmanager
from dataclasses import dataclass
from pathlib import Path

from hingeline_app.records.chain import Link
from hingeline_app.records.looking import Finding, Findings, look_at_the_records
from hingeline_app.records.looking.look import OutsideHead, Places
from hingeline_app.records.other_database import other_database
from hingeline_app.records.triggers import SQLITE
from hingeline_app.settings.databases import FILE_NAME, sqlite_file


@dataclass
class Damage:
    """A data folder as somebody with full rights sees it."""

    folder: Path

    @contextmanager
    def database(self) -> Iterator[sqlite3.Connection]:
        with closing(sqlite3.connect(self.folder / FILE_NAME)) as connection, connection:
            yield connection

    def without_triggers(self, *commands: str) -> None:
        """Take the triggers away, do it, and put them back as they were."""
        with self.database() as connection:
            for name in SQLITE:
                connection.execute(f"DROP TRIGGER {name}")
            for command in commands:
                connection.execute(command)
            for name, text in SQLITE.items():
                connection.execute(f"CREATE TRIGGER {name} {text}")

    def links(self) -> list[Link]:
        with self.database() as connection:
            rows = connection.execute(
                "SELECT position, previous, digest, body FROM records_entry WHERE chain = 'records' ORDER BY position"
            )
            return [Link(position, previous, digest, body.encode()) for position, previous, digest, body in rows]

    @property
    def journal(self) -> Path:
        (path,) = (self.folder / "journal").glob("*.records.jsonl")
        return path


def look(folder: Path, *heads: OutsideHead) -> Findings:
    with other_database(sqlite_file(folder)) as alias:
        places = Places(alias, folder / "journal", folder, read_attachments=True)
        return look_at_the_records(places, heads)


def found(folder: Path, *heads: OutsideHead) -> list[Finding]:
    return list(look(folder, *heads).findings)


def kinds(findings: list[Finding]) -> set[str]:
    return {each.what for each in findings}
