"""A copy to read from: for a disk that may not be written any more, and for somebody who is only to look.

A database can refuse even to be read where it cannot write beside itself. So database, journal, keys and heads are
copied to a folder that can be written; attached files, which may be gigabytes, are reached where they lie. What the
pages note of who came in goes into the copy, and goes with it.
"""

from __future__ import annotations

import os
import shutil
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from hingeline.errors import InputRefused
from hingeline_app.settings import places
from hingeline_app.settings.databases import FILE_NAME

BESIDE = ("", "-journal", "-wal")
"""What belongs to a database file: a journal that was left behind is needed to read it."""
COPIED = ("keys",)
REACHED = ("attachments", "following", "studies")


@contextmanager
def copied_to_read(data: Path) -> Iterator[Path]:
    """Give a folder with a copy of the records, for as long as the block lasts, and name it to the settings.

    Raises
    ------
    InputRefused
        There are no records in the folder, or a server keeps them.
    """
    _refuse_a_server()
    if not (data / FILE_NAME).is_file():
        remedy = "Name the folder with --data DIR."
        raise InputRefused.of("--data", str(data), "a folder that holds a workshop's records", remedy)
    journal = places.journal_folder() if os.environ.get(places.JOURNAL) else data / "journal"
    with tempfile.TemporaryDirectory(prefix="hingeline-reading-", ignore_cleanup_errors=True) as folder:
        copy = Path(folder) / "records"
        _fill(copy, data, journal)
        os.environ[places.JOURNAL] = os.fspath(copy / "journal")
        os.environ[places.READ_ONLY] = "1"
        yield copy


def _fill(copy: Path, data: Path, journal: Path) -> None:
    copy.mkdir(mode=0o700)
    try:
        for ending in BESIDE:
            if (data / f"{FILE_NAME}{ending}").is_file():
                _copied(data / f"{FILE_NAME}{ending}", copy)
        for folder in (*(data / name for name in COPIED), journal):
            if folder.is_dir():
                shutil.copytree(folder, copy / folder.name if folder != journal else copy / "journal")
    except OSError as fault:
        remedy = f"Make room in the system's temporary folder, or mend the disk ({fault.strerror or fault})."
        raise InputRefused.of("--read-only", str(data), "records that can be copied to be read", remedy) from fault
    for name in REACHED:
        if (data / name).is_dir():
            (copy / name).symlink_to(data / name, target_is_directory=True)


def _copied(file: Path, to: Path) -> None:
    """Copy a file; what may not be written there may be written here."""
    shutil.copyfile(file, to / file.name)
    (to / file.name).chmod(0o600)


def _refuse_a_server() -> None:
    if places.database_address():
        remedy = "Restore the last backup into a folder, and read that; or let the server itself refuse to write."
        raise InputRefused.of("--read-only", places.DATABASE, "records in a file", remedy)
