"""What a disk that refuses, and a database that is held, mean for the person who saves."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from django.db import OperationalError

from hingeline_app.records.locking import Busy

HELD = ("locked", "lock timeout")
REFUSED = ("full", "disk i/o", "readonly", "read-only", "unable to open", "no space", "could not write")


class NotAcknowledged(RuntimeError):
    """The disk did not take a save: it may not be counted as saved. The same command may be sent again."""


@contextmanager
def in_plain_words() -> Iterator[None]:
    """Tell a held database and a disk that refuses from other faults.

    Raises
    ------
    Busy
        Another program held the database for too long.
    NotAcknowledged
        The database, or the journal after it, could not be written.
    """
    try:
        yield
    except OperationalError as fault:
        said = str(fault).lower()
        if any(word in said for word in HELD):
            raise Busy("another program holds the database; nothing was written, try again") from fault
        if any(word in said for word in REFUSED):
            raise NotAcknowledged(f"not saved: {fault}") from fault
        raise
    except OSError as fault:
        raise NotAcknowledged(f"not saved in both places: {fault.strerror or fault}") from fault
