"""Where the bytes of attachments lie: each file under its own digest, on the disk before it is named anywhere."""

from __future__ import annotations

import os
import tempfile
from pathlib import Path

from django.conf import settings

from hingeline_app.records.canonical import digest_of
from hingeline_app.records.journal import sync_folder

FOLDER = "attachments"


class Damaged(OSError):
    """A file is missing, or is not what was kept."""


def path_of(digest: str) -> Path:
    """Give the place of a file; its name comes from its content alone."""
    if len(digest) != 64 or not set(digest) <= set("0123456789abcdef"):
        raise ValueError(f"{digest[:80]!r} is no digest")
    return Path(settings.DATA_FOLDER) / FOLDER / digest[:2] / digest[2:]


def put(data: bytes) -> str:
    """Keep bytes, and give their digest. What is there already is looked at, and written again if it is damaged."""
    digest = digest_of(data)
    path = path_of(digest)
    if not (path.exists() and digest_of(path.read_bytes()) == digest):
        path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
        _write(path, data)
    return digest


def get(digest: str) -> bytes:
    """Give the bytes of a digest.

    Raises
    ------
    Damaged
        They are missing, or are not what was kept.
    """
    path = path_of(digest)
    if not path.is_file():
        raise Damaged(f"the file {digest[:8]} is missing")
    data = path.read_bytes()
    if digest_of(data) != digest:
        raise Damaged(f"the file {digest[:8]} is not what was kept")
    return data


def _write(path: Path, data: bytes) -> None:
    handle, name = tempfile.mkstemp(dir=path.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, path)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
    sync_folder(path.parent)
    sync_folder(path.parent.parent)
