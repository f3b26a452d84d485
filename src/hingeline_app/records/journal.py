"""The second place: every entry as one line of a file, on the disk before the save is acknowledged.

It is best on another device. From it the database can be made again; against it an older
copy of the database, put back, is seen.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any, NamedTuple

from hingeline_app.records.chain import Link, link_digest

FIRST_LOOK = 1 << 16


class JournalDamaged(ValueError):
    """A line before the last one does not hold."""


class Tail(NamedTuple):
    """How a journal ends: its last whole line, and where that ends."""

    link: Link | None
    ends_at: int


def journal_file(folder: Path, workshop: str, chain: str) -> Path:
    """Name the journal of one chain of a workshop."""
    return folder / f"{workshop}.{chain}.jsonl"


def append_lines(path: Path, links: list[Link]) -> None:
    """Append entries and bring them, and the name of a new file, to the disk.

    What a power cut left of a last line is taken off first: it was never acknowledged.
    """
    append_bytes(path, b"".join(map(line_of, links)), tail_of(path).ends_at)


def append_bytes(path: Path, data: bytes, ends_at: int) -> None:
    """Append to a file that is whole up to ``ends_at``, and bring it to the disk."""
    is_new = not path.exists()
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_CLOEXEC, 0o600)
    try:
        if os.fstat(file).st_size > ends_at:
            os.ftruncate(file, ends_at)
        while data:
            data = data[os.write(file, data) :]
        os.fsync(file)
    finally:
        os.close(file)
    if is_new:
        sync_folder(path.parent)


def line_of(link: Link) -> bytes:
    """Write an entry as one line."""
    parts = {"position": link.position, "previous": link.previous, "digest": link.digest, "body": link.body.decode()}
    return json.dumps(parts, ensure_ascii=False, separators=(",", ":")).encode() + b"\n"


def read_lines(path: Path) -> Iterator[Link]:
    """Read a journal. A last line that a power cut left unfinished was never acknowledged: it is left out.

    Raises
    ------
    JournalDamaged
        A line that is not the last one does not hold.
    """
    if not path.exists():
        return
    damaged = 0
    with path.open("rb") as file:
        for number, line in enumerate(file, 1):
            if damaged:
                raise JournalDamaged(f"line {damaged} of {path.name} does not hold")
            link = whole_line(line)
            if link is None:
                damaged = number
            else:
                yield link


def whole_line(line: bytes) -> Link | None:
    """Read one line; none where it was cut off, or does not hold."""
    try:
        link = link_of(json.loads(line)) if line.endswith(b"\n") else None
        return link if link and link_digest(link.previous, link.body) == link.digest else None
    except (ValueError, KeyError, TypeError, AttributeError, RecursionError):
        return None


def link_of(parts: dict[str, Any]) -> Link:
    """Make an entry of a line's parts."""
    return Link(parts["position"], parts["previous"], parts["digest"], parts["body"].encode())


def tail_of(path: Path) -> Tail:
    """Find how a journal ends, without reading all of it."""
    if not path.exists():
        return Tail(None, 0)
    size, look = path.stat().st_size, FIRST_LOOK
    while True:
        tail = _tail_within(path, size, min(look, size))
        if tail.link or look >= size:
            return tail
        look *= 8


def _tail_within(path: Path, size: int, length: int) -> Tail:
    with path.open("rb") as file:
        file.seek(size - length)
        lines = file.read(length).splitlines(keepends=True)
    end = size
    for line in reversed(lines):
        link = whole_line(line)
        if link:
            return Tail(link, end)
        end -= len(line)
    return Tail(None, 0)


def sync_folder(folder: Path) -> None:
    """Bring a folder's names to the disk."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
