"""The two databases a workshop may keep its records in."""

from __future__ import annotations

import os
import sqlite3
from pathlib import Path
from typing import Any
from urllib.parse import unquote, urlsplit

from hingeline_app.settings.sqlite_gate import JournalMode, journal_mode, opening_commands

SQLITE_MODE: JournalMode = journal_mode(sqlite3.sqlite_version_info)
FILE_NAME = "records.sqlite3"


def sqlite_file(folder: Path, mode: JournalMode = SQLITE_MODE) -> dict[str, Any]:
    """Describe the SQLite file in a folder."""
    return {
        "ENGINE": "django.db.backends.sqlite3",
        "NAME": os.fspath(folder / FILE_NAME),
        "OPTIONS": {
            "transaction_mode": "IMMEDIATE",
            "timeout": 10,
            "init_command": opening_commands(mode),
        },
    }


def postgresql(address: str) -> dict[str, Any]:
    """Describe a PostgreSQL database by its address.

    Raises
    ------
    ValueError
        The address does not name a PostgreSQL database.
    """
    parts = urlsplit(address)
    name = parts.path.lstrip("/")
    if parts.scheme not in {"postgresql", "postgres"} or not name:
        raise ValueError(f'"{address}" is no address of a database; expected postgresql://user@host/name')
    described = {
        "NAME": name,
        "USER": parts.username,
        "PASSWORD": parts.password,
        "HOST": parts.hostname,
        "PORT": parts.port,
    }
    filled = {key: unquote(value) if isinstance(value, str) else value for key, value in described.items() if value}
    return {"ENGINE": "django.db.backends.postgresql", "CONN_MAX_AGE": 60, "CONN_HEALTH_CHECKS": True} | filled
