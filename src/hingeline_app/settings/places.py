"""Where a workshop's records lie on this machine: one folder, named by one setting.

HINGELINE_DATA      the folder; without it, ``hingeline`` under the user's data folder
HINGELINE_DATABASE  ``postgresql://user@host/name``; without it, one SQLite file in the folder
HINGELINE_JOURNAL   a second place for the journal, best on another device; without it, the same folder
"""

from __future__ import annotations

import os
from pathlib import Path

DATA, DATABASE, JOURNAL = "HINGELINE_DATA", "HINGELINE_DATABASE", "HINGELINE_JOURNAL"


def data_folder() -> Path:
    """Give the folder of the records; it need not exist yet."""
    named = os.environ.get(DATA)
    if named:
        return Path(named).expanduser().absolute()
    home = os.environ.get("XDG_DATA_HOME") or os.fspath(Path.home() / ".local" / "share")
    return Path(home) / "hingeline"


def journal_folder() -> Path:
    """Give the folder where the journal is written."""
    named = os.environ.get(JOURNAL)
    return Path(named).expanduser().absolute() if named else data_folder() / "journal"


def database_address() -> str | None:
    """Give the address of a PostgreSQL database, or none for the SQLite file."""
    return os.environ.get(DATABASE) or None
