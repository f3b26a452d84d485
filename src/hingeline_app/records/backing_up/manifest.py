"""What a backup holds: every file with its digest, every chain with its head.

A backup is a folder ``hingeline-20270312T070000Z``; its attachments lie once for all backups
in ``attachments`` beside it, since a file named by its digest never changes.
"""

from __future__ import annotations

import json
import os
import re
from collections.abc import Mapping
from dataclasses import asdict, dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.attachments import digest_of_file

FORMAT = "hingeline/backup/1"
MANIFEST = "manifest.json"
NAME = re.compile(r"hingeline-(\d{8}T\d{6}Z)")
STAMP = "%Y%m%dT%H%M%SZ"
LARGEST_MANIFEST = 100_000_000


@dataclass(frozen=True)
class Manifest:
    """The list of a backup. ``chains`` has a workshop, a chain, its entries and its head."""

    at: str
    version: str
    files: Mapping[str, str]
    chains: tuple[Mapping[str, Any], ...]
    attachments: tuple[str, ...]


def name_of(at: datetime) -> str:
    """Name the backup of a moment."""
    return f"hingeline-{at.astimezone(UTC).strftime(STAMP)}"


def time_of(name: str) -> datetime | None:
    """Give the moment of a backup by its name; none where the name is no backup's."""
    found = NAME.fullmatch(name)
    return datetime.strptime(found[1], STAMP).replace(tzinfo=UTC) if found else None


def backups_in(folder: Path) -> list[Path]:
    """Give the finished backups of a folder, the oldest first."""
    there = sorted(folder.iterdir()) if folder.is_dir() else []
    return [path for path in there if time_of(path.name) and (path / MANIFEST).is_file()]


def digests_in(folder: Path) -> dict[str, str]:
    """Give the digest of every file of a folder, by its path in it."""
    files = (path for path in sorted(folder.rglob("*")) if path.is_file() and path.name != MANIFEST)
    return {path.relative_to(folder).as_posix(): digest_of_file(path) for path in files}


def write_manifest(folder: Path, manifest: Manifest) -> None:
    """Write the list and bring it to the disk."""
    text = json.dumps({"format": FORMAT} | asdict(manifest), ensure_ascii=False, indent=1)
    with (folder / MANIFEST).open("x", encoding="utf-8") as file:
        file.write(text)
        file.flush()
        os.fsync(file.fileno())


def read_manifest(backup: Path) -> Manifest:
    """Read the list of a backup.

    Raises
    ------
    InputRefused
        It is no backup, or one of a later format.
    """
    path = backup / MANIFEST
    try:
        if path.stat().st_size > LARGEST_MANIFEST:
            raise ValueError
        read = json.loads(path.read_text("utf-8"))
        parts = {name: read[name] for name in ("at", "version", "files", "chains", "attachments")}
        known = read["format"] == FORMAT
    except (OSError, ValueError, KeyError, TypeError):
        raise _refused(backup, "the folder of a backup, hingeline-DATE, with its manifest") from None
    if not known:
        raise _refused(backup, f"a backup of the format {FORMAT}; this one is {read['format']}")
    return Manifest(**parts | {"chains": tuple(parts["chains"]), "attachments": tuple(parts["attachments"])})


def _refused(backup: Path, expected: str) -> InputRefused:
    return InputRefused.of("BACKUP", str(backup), expected, "Name one of the folders that hingeline backup made.")
