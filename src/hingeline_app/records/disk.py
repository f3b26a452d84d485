"""What a disk that refuses, and a database that is held, mean for the person who saves."""

from __future__ import annotations

import errno
from collections.abc import Iterator
from contextlib import contextmanager

from django.db import OperationalError

from hingeline_app.records.locking import Busy

HELD = ("locked", "lock timeout")
REFUSED = ("full", "disk i/o", "readonly", "read-only", "unable to open", "no space", "could not write")

REFUSING = (errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EIO)
"""What the operating system says of a disk that is full, used up by quota, not to be written, or failing."""


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
        known = of_the_disk(fault)
        if known is None:
            raise
        raise known from fault
    except OSError as fault:
        raise NotAcknowledged(f"not saved in both places: {fault.strerror or fault}") from fault


def of_the_disk(fault: BaseException) -> Busy | NotAcknowledged | None:
    """Give what a fault is where it is a held database or a disk that refuses, wherever it was met; else None.

    A file of an entry is written before the door opens, and a session beside it.
    """
    if isinstance(fault, OperationalError):
        said = str(fault).lower()
        if any(word in said for word in HELD):
            return Busy("another program holds the database; nothing was written, try again")
        if any(word in said for word in REFUSED):
            return NotAcknowledged(f"not saved: {fault}")
    if isinstance(fault, OSError) and fault.errno in REFUSING:
        return NotAcknowledged(f"not saved: {fault.strerror}")
    return None
