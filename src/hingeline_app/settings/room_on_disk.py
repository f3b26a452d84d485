"""How much room the disks of the records have: files wait before entries would, and pages say so before that."""

from __future__ import annotations

import shutil
from collections.abc import Iterable
from contextlib import suppress
from pathlib import Path

RESERVE = 500_000_000
"""Kept for entries: no file is taken that would leave less [byte]."""
WARN_BELOW = 2 * RESERVE
"""From here on the pages say that the disk is nearly full [byte]."""


def least_free(folders: Iterable[Path]) -> int:
    """Give what is free on the fullest disk of these folders [byte]; a folder that is not made yet counts nothing."""
    free = []
    for folder in folders:
        with suppress(FileNotFoundError):
            free.append(shutil.disk_usage(folder).free)
    return min(free, default=WARN_BELOW)
