"""A disk, made again from a trace, as a power cut leaves it.

What was synced is there. Of what was not, each sector of 512 bytes is there with a probability
that is drawn for the cut: none, some, most, all. A name that was put in or taken away lasts after a sync
of its folder (a new file's also after a sync of the file); of the others, the first ones last, as many as are
drawn: the file system keeps them in order. A disk that lies does nothing when it is asked to sync.
"""

from __future__ import annotations

import os
import random
import struct
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from pathlib import Path
from typing import NamedTuple

WRITE, TRUNCATE, UNLINK, SYNC, CREATE, RENAME = range(1, 7)
HEAD = struct.Struct("<IIqq")
SECTOR = 512
SHARES = (0.0, 0.3, 0.7, 1.0)


class Event(NamedTuple):
    """One thing that was done to a file."""

    kind: int
    path: str
    offset: int
    length: int
    data: bytes


def read_trace(trace: Path, folder: Path) -> Iterator[Event]:
    """Read a trace; paths are given as they stand in the folder."""
    data, at = trace.read_bytes(), 0
    while at < len(data):
        kind, path_length, offset, length = HEAD.unpack_from(data, at)
        at += HEAD.size
        path = data[at : at + path_length].decode()
        at += path_length
        carried = length if kind in (WRITE, RENAME) else 0
        yield Event(kind, os.path.relpath(path, folder), offset, length, data[at : at + carried])
        at += carried


@dataclass(eq=False)
class File:
    """What is surely on the disk, and what was done since the last sync."""

    durable: bytearray = field(default_factory=bytearray)
    waiting: list[tuple[int, int, bytes]] = field(default_factory=list)

    def sync(self) -> None:
        for offset, length, data in self.waiting:
            put(self.durable, offset, length, data)
        self.waiting.clear()

    def after_a_cut(self, draw: random.Random, share: float) -> bytes:
        content = bytearray(self.durable)
        for offset, length, data in self.waiting:
            if length >= 0:
                if draw.random() < share:
                    put(content, offset, length, data)
            else:
                for start, sector in sectors(offset, data):
                    if draw.random() < share:
                        put(content, start, -1, sector)
        return bytes(content)


def put(content: bytearray, offset: int, length: int, data: bytes) -> None:
    """Write, or, where a length is given, cut or stretch to it."""
    size = length if length >= 0 else max(len(content), offset + len(data))
    if len(content) < size:
        content.extend(bytes(size - len(content)))
    if length >= 0:
        del content[length:]
    else:
        content[offset : offset + len(data)] = data


def sectors(offset: int, data: bytes) -> Iterator[tuple[int, bytes]]:
    """Take a write apart where the sectors of the disk meet."""
    at = offset
    while at < offset + len(data):
        end = min((at // SECTOR + 1) * SECTOR, offset + len(data))
        yield at, data[at - offset : end - offset]
        at = end


class Disk:
    """The files of one folder while a trace is followed."""

    def __init__(self, folder: Path, lies: Callable[[str], bool] = lambda _: False) -> None:
        self.lies = lies
        self.names = {
            os.path.relpath(path, folder): File(bytearray(path.read_bytes()))
            for path in folder.rglob("*")
            if path.is_file()
        }
        self.durable_names = dict(self.names)
        self.waiting_names: list[tuple[str, File | None]] = []

    def follow(self, event: Event) -> None:
        """Do what was done."""
        path = event.path
        if event.kind == CREATE:
            self._name(path, File())
        elif event.kind == UNLINK:
            self._name(path, None)
        elif event.kind == RENAME:
            moved = self.names[path]
            self._name(
                os.path.normpath(os.path.join(os.path.dirname(path), os.path.basename(event.data.decode()))), moved
            )
            self._name(path, None)
        elif event.kind == SYNC:
            self._sync(path)
        elif path in self.names:
            length = event.length if event.kind == TRUNCATE else -1
            self.names[path].waiting.append((event.offset, length, event.data))

    def _name(self, path: str, file: File | None) -> None:
        if file is None:
            self.names.pop(path, None)
        else:
            self.names[path] = file
        self.waiting_names.append((path, file))

    def _sync(self, path: str) -> None:
        if self.lies(path):
            return
        if path in self.names:
            self.names[path].sync()
            lasting = [name for name, _ in self.waiting_names if name == path]
        else:
            lasting = [name for name, _ in self.waiting_names if (os.path.dirname(name) or ".") == path]
        for name, file in [each for each in self.waiting_names if each[0] in lasting]:
            self._last(self.durable_names, name, file)
        self.waiting_names = [each for each in self.waiting_names if each[0] not in lasting]

    @staticmethod
    def _last(names: dict[str, File], name: str, file: File | None) -> None:
        if file is None:
            names.pop(name, None)
        else:
            names[name] = file

    def cut(self, draw: random.Random) -> dict[str, bytes]:
        """Give the files as a power cut at this moment leaves them."""
        share = draw.choice(SHARES)
        names = dict(self.durable_names)
        for name, file in self.waiting_names[: draw.randint(0, len(self.waiting_names))]:
            self._last(names, name, file)
        return {name: file.after_a_cut(draw, share) for name, file in names.items() if not name.endswith("-shm")}
