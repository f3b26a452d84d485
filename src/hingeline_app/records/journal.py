"""The second place: every entry as one line of a file, on the disk before the save is acknowledged.

It is best on another device. From it the database can be made again; against it an older
copy of the database, put back, is seen.
"""

from __future__ import annotations

import json
import os
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from hingeline_app.records.chain import Link


def journal_file(folder: Path, workshop: str, chain: str) -> Path:
    """Name the journal of one chain of a workshop."""
    return folder / f"{workshop}.{chain}.jsonl"


def append_lines(path: Path, links: list[Link]) -> None:
    """Append entries and bring them, and the name of a new file, to the disk."""
    is_new = not path.exists()
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    file = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_APPEND | os.O_CLOEXEC, 0o600)
    try:
        data = b"".join(map(line_of, links))
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
    """Read a journal. A last line that was cut off by a power cut was never acknowledged: it is left out."""
    if not path.exists():
        return
    with path.open("rb") as file:
        for line in file:
            if not line.endswith(b"\n"):
                return
            yield link_of(json.loads(line))


def link_of(parts: dict[str, Any]) -> Link:
    """Make an entry of a line's parts."""
    return Link(parts["position"], parts["previous"], parts["digest"], parts["body"].encode())


def sync_folder(folder: Path) -> None:
    """Bring a folder's names to the disk."""
    handle = os.open(folder, os.O_RDONLY | os.O_DIRECTORY)
    try:
        os.fsync(handle)
    finally:
        os.close(handle)
