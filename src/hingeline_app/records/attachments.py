"""Attached files, kept by what they hold: ``DATA/attachments/3f/3f9a…``, named by their SHA-256 digest.

An entry names the digests of what belongs to it, so that a changed file is seen. A file is
on the disk before the entry that names it; one that no entry names came from a save that
was never finished.
"""

from __future__ import annotations

import hashlib
import os
import re
import uuid
from collections.abc import Iterable, Iterator
from pathlib import Path
from typing import BinaryIO

from hingeline_app.records.journal import sync_folder

FOLDER = "attachments"
PIECE = 1 << 20
DIGEST = re.compile(r"[0-9a-f]{64}")


def attachment_path(data: Path, digest: str) -> Path:
    """Name the file of a digest.

    Raises
    ------
    ValueError
        It is no digest.
    """
    if not DIGEST.fullmatch(digest):
        raise ValueError(f'"{digest}" is no check sum (SHA-256)')
    return data / FOLDER / digest[:2] / digest


def keep_attachment(data: Path, pieces: Iterable[bytes]) -> str:
    """Write a file beside its place, sync it, and move it there in one step; give its digest."""
    folder = data / FOLDER
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    part, digest = folder / f"{uuid.uuid4().hex}.part", hashlib.sha256()
    try:
        with part.open("xb") as file:
            for piece in pieces:
                digest.update(piece)
                file.write(piece)
            file.flush()
            os.fsync(file.fileno())
        path = attachment_path(data, digest.hexdigest())
        path.parent.mkdir(mode=0o700, exist_ok=True)
        part.replace(path)
    finally:
        part.unlink(missing_ok=True)
    sync_folder(path.parent)
    sync_folder(folder)
    return digest.hexdigest()


def pieces_of(file: BinaryIO) -> Iterator[bytes]:
    """Read a file in pieces."""
    while piece := file.read(PIECE):
        yield piece


def digest_of_file(path: Path) -> str:
    """Give the digest of what a file holds."""
    digest = hashlib.sha256()
    with path.open("rb") as file:
        for piece in pieces_of(file):
            digest.update(piece)
    return digest.hexdigest()


def attachment_holds(data: Path, digest: str) -> bool:
    """Whether the file of a digest is there and unchanged."""
    path = attachment_path(data, digest)
    return path.is_file() and digest_of_file(path) == digest


def attachments_there(data: Path) -> Iterator[str]:
    """Name every attachment of a folder."""
    for path in sorted((data / FOLDER).glob("??/*")):
        if DIGEST.fullmatch(path.name):
            yield path.name
