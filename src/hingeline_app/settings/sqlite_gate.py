"""Which journal this machine's SQLite may be trusted with.

A write-ahead log is used only with a library that does not have the fault of the
versions 3.7.0 to 3.51.2 (two connections that write or take a checkpoint at once
can damage the database). It was mended in 3.51.3 and 3.53.0, and in 3.44.6 and
3.50.7 of the older lines; 3.52.0 was withdrawn. Older libraries keep a rollback
journal. Source: SQLite's change log and release notes.

Both modes write to the disk before a save is acknowledged. ``NORMAL`` with a log, and
``FULL`` with a rollback journal, lost acknowledged saves in simulated power cuts and
are never used.
"""

from __future__ import annotations

from typing import NamedTuple

Version = tuple[int, int, int]


class JournalMode(NamedTuple):
    """A journal and how it is brought to the disk."""

    journal: str
    synchronous: str


WRITE_AHEAD = JournalMode("wal", "FULL")
ROLLBACK = JournalMode("delete", "EXTRA")

MENDED_LINES = {(3, 44): 6, (3, 50): 7, (3, 51): 3}
MENDED_SINCE = (3, 53, 0)
# How PRAGMA synchronous answers.
SYNCHRONOUS_NUMBER = {"FULL": 2, "EXTRA": 3}


def journal_mode(version: Version) -> JournalMode:
    """Choose the journal for a version of the library."""
    line = version[:2]
    mended = version >= MENDED_SINCE or version[2] >= MENDED_LINES.get(line, version[2] + 1)
    return WRITE_AHEAD if mended else ROLLBACK


def opening_commands(mode: JournalMode) -> str:
    """Give what each connection says first."""
    pragmas = {
        "journal_mode": mode.journal,
        "synchronous": mode.synchronous,
        "foreign_keys": "ON",
        # Without it a REPLACE walks around the triggers that refuse a deletion.
        "recursive_triggers": "ON",
        "trusted_schema": "OFF",
        "cell_size_check": "ON",
    }
    return "".join(f"PRAGMA {name}={value};" for name, value in pragmas.items())
