"""Keep what a compiled library prints by itself off the standard output: there stands one document."""

from __future__ import annotations

import ctypes
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress

STANDARD_OUTPUT = 1


@contextmanager
def quiet_solver() -> Iterator[None]:
    """Send the process's own standard output nowhere for a while; the solver's remarks go there."""
    with suppress(OSError, ValueError):
        sys.stdout.flush()
    try:
        kept = os.dup(STANDARD_OUTPUT)
    except OSError:  # closed: then nothing can be printed there
        yield
        return
    _empty_compiled_buffers()
    nowhere = os.open(os.devnull, os.O_WRONLY)
    os.dup2(nowhere, STANDARD_OUTPUT)
    try:
        yield
    finally:
        _empty_compiled_buffers()
        os.dup2(kept, STANDARD_OUTPUT)
        os.close(kept)
        os.close(nowhere)


def _empty_compiled_buffers() -> None:
    """Write out what compiled code printed and C's library still holds.

    Into a pipe or a file it is held until the process ends, and would come out then, after the document.
    """
    with suppress(OSError, AttributeError):
        ctypes.CDLL(None).fflush(None)
