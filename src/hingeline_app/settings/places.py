"""Where a workshop's records lie on this machine: one folder, named by one setting.

HINGELINE_DATA      the folder; without it, ``hingeline`` under the user's data folder
HINGELINE_DATABASE  ``postgresql://user@host/name``; without it, one SQLite file in the folder
HINGELINE_JOURNAL   a second place for the journal, best on another device; without it, the same folder
HINGELINE_BACKUPS   where backups go, best on another device; without it, ``backups`` in the folder
HINGELINE_HOSTS     names and addresses that the pages answer to, a comma between two
HINGELINE_LOOPBACK  set: plain pages for this machine alone, without certificates
HINGELINE_READ_ONLY set by the server itself: the folder is a copy, to read from
"""

from __future__ import annotations

import os
from contextlib import suppress
from pathlib import Path

DATA, DATABASE, JOURNAL = "HINGELINE_DATA", "HINGELINE_DATABASE", "HINGELINE_JOURNAL"
BACKUPS = "HINGELINE_BACKUPS"
HOSTS, LOOPBACK = "HINGELINE_HOSTS", "HINGELINE_LOOPBACK"
READ_ONLY = "HINGELINE_READ_ONLY"
# The secret of the invented bench's tablet; set by the demonstration alone.
DEMO_TABLET = "HINGELINE_DEMO_TABLET"
# What the demonstration leaves in its folder: whoever serves that later still says that all of it is invented. It lies
# with the keys, which a backup and a copy to read from take along.
INVENTED = Path("keys") / "all-invented"
THIS_MACHINE = ["localhost", "127.0.0.1", "[::1]"]


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


def backup_folder() -> Path:
    """Give the folder where backups go."""
    named = os.environ.get(BACKUPS)
    return Path(named).expanduser().absolute() if named else data_folder() / "backups"


def database_address() -> str | None:
    """Give the address of a PostgreSQL database, or none for the SQLite file."""
    return os.environ.get(DATABASE) or None


def allowed_hosts() -> list[str]:
    """Give the names that the pages answer to; without a list, this machine's own."""
    named = [each.strip() for each in os.environ.get(HOSTS, "").split(",") if each.strip()]
    return named or list(THIS_MACHINE)


def on_loopback() -> bool:
    """Say whether the pages are plain ones for this machine alone."""
    return bool(os.environ.get(LOOPBACK))


def read_only() -> bool:
    """Say whether the records are a copy to read from."""
    return bool(os.environ.get(READ_ONLY))


def demo_tablet() -> str:
    """Give the secret of the demonstration's tablet; nothing in a real workshop."""
    return os.environ.get(DEMO_TABLET, "")


def is_invented() -> bool:
    """Say whether a demonstration filled the folder, whichever command serves it now."""
    with suppress(OSError):  # a folder that cannot be looked into is refused in words elsewhere
        return bool(demo_tablet()) or (data_folder() / INVENTED).exists()
    return False
