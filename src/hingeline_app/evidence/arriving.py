"""A large file on its way, piece by piece: what has arrived stays, and what was cut off goes on from there.

Each sender has a folder; a part is named by a key that the sender's device makes from the file's name, size and
age, so that the same file chosen again is the same part. Parts are bounded in number and size, and are taken away when
they are taken in, or a day after the last piece.
"""

from __future__ import annotations

import fcntl
import json
import os
import re
import shutil
import time
from collections.abc import Iterable, Iterator
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path

from hingeline.errors import InputRefused
from hingeline_app.evidence.kinds import LARGEST
from hingeline_app.settings.room_on_disk import RESERVE

FOLDER = "arriving"
KEY = re.compile(r"[0-9a-f]{16,64}")
LARGEST_FILE, LARGEST_PIECE = max(LARGEST.values()), 16_000_000
MOST_UNFINISHED = 3
A_DAY, AT_REST = 86_400.0, 600.0
LEFT_FREE = RESERVE


class OutOfStep(Exception):
    """A piece begins elsewhere than where the last one ended: ``there`` is how much has arrived."""

    def __init__(self, there: int) -> None:
        super().__init__(f"{there} bytes have arrived")
        self.there = there


class NoRoom(Exception):
    """The disk is nearly full: recordings are refused first, the records go on."""


@dataclass(frozen=True, slots=True)
class Part:
    """A file on its way.

    Parameters
    ----------
    path : Path
    name : str
        As it is shown.
    size, there : int
        Of the whole; arrived so far [byte].
    """

    path: Path
    name: str
    size: int
    there: int

    @property
    def whole(self) -> bool:
        """Say whether it has arrived."""
        return self.there == self.size

    @property
    def percent(self) -> int:
        """Give how much of it has arrived; what lacks a byte is not a hundred."""
        return 100 * self.there // self.size


def expect(data: Path, sender: str, key: str, name: str, size: int) -> Part:
    """Begin a file, or give how much of the same one has arrived.

    Raises
    ------
    InputRefused
        The file is empty or too large, or the sender has too many on their way.
    NoRoom
        The disk would be nearly full.
    """
    if not KEY.fullmatch(key):
        raise ValueError("no key of a file")
    if not 0 < size <= LARGEST_FILE:
        expected = f"1 byte to {LARGEST_FILE // 1_000_000} MB"
        raise InputRefused.of("file", f"{name}: {size / 1e6:.0f} MB", expected, "Cut out the part that matters.")
    before = arrived(data, sender, key)
    if before is not None and (before.name, before.size) == (name, size):
        return before
    folder = _folder(data, sender)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    _make_way(folder, key)
    if shutil.disk_usage(folder).free < size + LEFT_FREE:
        raise NoRoom
    forget(data, sender, key)
    path = folder / f"{key}.part"
    path.touch(mode=0o600)
    path.with_suffix(".json").write_text(json.dumps({"name": name, "size": size}), "utf-8")
    return Part(path, name, size, 0)


def arrived(data: Path, sender: str, key: str) -> Part | None:
    """Give how much of a file has arrived; None where none was begun."""
    if not KEY.fullmatch(key):
        return None
    path = _folder(data, sender) / f"{key}.part"
    with suppress(OSError, ValueError):
        said = json.loads(path.with_suffix(".json").read_text("utf-8"))
        return Part(path, said["name"], said["size"], path.stat().st_size)
    return None


def begun(data: Path, sender: str) -> list[Part]:
    """Give what a sender began and what is not all here yet, by name."""
    parts = [arrived(data, sender, each.stem) for each in _folder(data, sender).glob("*.part")]
    return sorted((part for part in parts if part is not None and not part.whole), key=lambda part: part.name)


def add(part: Part, offset: int, pieces: Iterable[bytes]) -> Part:
    """Add what comes next; what was written before the connection was cut stays.

    Raises
    ------
    OutOfStep
        It does not begin where the last piece ended, or another one is being written.
    InputRefused
        There is more than was announced.
    """
    with _held(part) as file:
        there = os.fstat(file).st_size
        if offset != there:
            raise OutOfStep(there)
        for piece in pieces:
            there += len(piece)
            if there > part.size:
                remedy = "It changed on the device: choose it again."
                raise InputRefused.of("file", part.name, f"{part.size} bytes, as announced", remedy)
            _write_whole(file, piece)
    return Part(part.path, part.name, part.size, there)


def _write_whole(file: int, piece: bytes) -> None:
    """Write a piece to its end: a disk that fills up takes a part of it, and says so at the next byte only."""
    rest = memoryview(piece)
    while rest:
        rest = rest[os.write(file, rest) :]


@contextmanager
def _held(part: Part) -> Iterator[int]:
    """Open a part for one writer."""
    file = os.open(part.path, os.O_WRONLY | os.O_APPEND | os.O_CLOEXEC)
    try:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise OutOfStep(os.fstat(file).st_size) from None
        yield file
    finally:
        os.close(file)


def forget(data: Path, sender: str, key: str) -> None:
    """Take a part away: it was taken in, or nobody wants it."""
    if KEY.fullmatch(key):
        for ending in (".part", ".json"):
            (_folder(data, sender) / f"{key}{ending}").unlink(missing_ok=True)


def clear_left_behind(data: Path, now: float | None = None) -> int:
    """Take away what nobody went on with for a day, and give how many files that were."""
    moment, gone = time.time() if now is None else now, 0
    for path in (data / FOLDER).rglob("*"):
        with suppress(OSError):
            if path.is_file() and moment - path.stat().st_mtime > A_DAY:
                path.unlink()
                gone += 1
    return gone


def _make_way(folder: Path, key: str) -> None:
    """Take the oldest away where there are too many; refuse where they are all under way."""
    others = sorted((each.stat().st_mtime, each) for each in folder.glob("*.part") if each.stem != key)
    if len(others) < MOST_UNFINISHED:
        return
    last_piece, oldest = others[0]
    if time.time() - last_piece < AT_REST:
        expected = f"at most {MOST_UNFINISHED} files on their way"
        raise InputRefused.of("file", f"{len(others)} others", expected, "Finish one of them first.")
    oldest.unlink(missing_ok=True)
    oldest.with_suffix(".json").unlink(missing_ok=True)


def _folder(data: Path, sender: str) -> Path:
    return data / FOLDER / sender
