"""Whether the database holds what was asked of it: each setting is read back."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from django.conf import settings
from django.db.backends.base.base import BaseDatabaseWrapper

from hingeline_app.records.looking.findings import START, Finding
from hingeline_app.settings.sqlite_gate import SYNCHRONOUS_NUMBER, JournalMode, journal_mode

ON = {"foreign_keys": "1", "recursive_triggers": "1", "trusted_schema": "0", "cell_size_check": "1"}
POSTGRESQL = {"fsync": "on", "synchronous_commit": "on", "full_page_writes": "on"}
STRONGER = {"synchronous_commit": {"on", "remote_write", "remote_apply"}}


def settings_read_back(connection: BaseDatabaseWrapper) -> dict[str, str]:
    """Read every setting that durability rests on."""
    if connection.vendor == "sqlite":
        names = ("journal_mode", "synchronous", *ON)
        return {"sqlite": _sqlite_version(), **{name: _ask(connection, f"PRAGMA {name}") for name in names}}
    names = ("server_version", *POSTGRESQL, "data_checksums")
    return {name: _ask(connection, f"SHOW {name}") for name in names}


def setting_findings(vendor: str, held: Mapping[str, str]) -> Iterator[Finding]:
    """Name each setting that is not held. The program does not start on one."""
    wanted = wanted_on_sqlite() if vendor == "sqlite" else POSTGRESQL
    for name, value in wanted.items():
        if held[name] not in STRONGER.get(name, {value}):
            yield Finding(
                "setting",
                name,
                f"the database holds {held[name]}, and {value} was asked for: a power cut could lose what was kept",
                START,
                "Look at what else opens the database, or at the server's own settings.",
            )


def wanted_on_sqlite() -> dict[str, str]:
    """Give what a SQLite database must hold with this machine's library, or as the settings say."""
    import sqlite3

    mode: JournalMode = getattr(settings, "SQLITE_MODE", None) or journal_mode(sqlite3.sqlite_version_info)
    return {"journal_mode": mode.journal, "synchronous": str(SYNCHRONOUS_NUMBER[mode.synchronous]), **ON}


def _sqlite_version() -> str:
    import sqlite3

    return sqlite3.sqlite_version


def _ask(connection: BaseDatabaseWrapper, question: str) -> str:
    with connection.cursor() as cursor:
        cursor.execute(question)
        return str(cursor.fetchone()[0])
