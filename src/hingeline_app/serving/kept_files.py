"""A small file that is there whole or not at all, readable by this user alone."""

from __future__ import annotations

import os
from pathlib import Path


def kept_whole(path: Path, data: bytes) -> None:
    """Write beside, bring to the disk, rename."""
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    beside = path.with_name(f".{path.name}.new")
    file = os.open(beside, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC, 0o600)
    try:
        os.write(file, data)
        os.fsync(file)
    finally:
        os.close(file)
    beside.replace(path)
