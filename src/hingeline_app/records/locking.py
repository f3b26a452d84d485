"""One writer at a time, waited for in order, on both databases.

SQLite waits by sleeping and asking again, and may give up; a file lock taken before the
transaction does not. PostgreSQL has advisory locks, held until the journal line is down.
"""

from __future__ import annotations

import fcntl
import os
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from django.conf import settings
from django.db import connection

LOCK_FILE = "write.lock"
ADVISORY_KEY = 0x48494E47
PAUSE = 0.001

_in_this_process = threading.Lock()


class Busy(RuntimeError):
    """Another writer did not let go in time: nothing was written, try again."""


@contextmanager
def one_writer() -> Iterator[None]:
    """Hold the right to write.

    Raises
    ------
    Busy
        It could not be had within the time that the settings allow.
    """
    deadline = time.monotonic() + float(settings.WRITE_LOCK_SECONDS)
    if not _in_this_process.acquire(timeout=float(settings.WRITE_LOCK_SECONDS)):
        raise Busy("another save is still being written")
    try:
        with _advisory_lock(deadline) if connection.vendor == "postgresql" else _file_lock(deadline):
            yield
    finally:
        _in_this_process.release()


@contextmanager
def _file_lock(deadline: float) -> Iterator[None]:
    folder = Path(settings.DATA_FOLDER)
    file = os.open(folder / LOCK_FILE, os.O_RDWR | os.O_CREAT | os.O_CLOEXEC, 0o600)
    try:
        while not _taken(file):
            _wait(deadline)
        yield
    finally:
        os.close(file)


def _taken(file: int) -> bool:
    try:
        fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
    except BlockingIOError:
        return False
    return True


@contextmanager
def _advisory_lock(deadline: float) -> Iterator[None]:
    with connection.cursor() as cursor:
        while not _advised(cursor):
            _wait(deadline)
    try:
        yield
    finally:
        with connection.cursor() as cursor:
            cursor.execute("SELECT pg_advisory_unlock(%s)", [ADVISORY_KEY])


def _advised(cursor: object) -> bool:
    cursor.execute("SELECT pg_try_advisory_lock(%s)", [ADVISORY_KEY])  # type: ignore[attr-defined]
    return bool(cursor.fetchone()[0])  # type: ignore[attr-defined]


def _wait(deadline: float) -> None:
    if time.monotonic() > deadline:
        raise Busy("another save is still being written")
    time.sleep(PAUSE)
