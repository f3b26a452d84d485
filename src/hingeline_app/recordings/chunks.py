"""Whether an AVI file is whole, and how many frames it says it has.

Chunks of the resource interchange format: kind, size, content, padded to even places; large files go on
in further pieces (OpenDML 1.02).
"""

from __future__ import annotations

import re
import struct
from collections.abc import Iterator
from dataclasses import dataclass
from typing import BinaryIO

from hingeline_app.recordings.limits import damaged
from hingeline_app.recordings.told import Told

MOST_CHUNKS = 1_000_000
_OF_VIDEO = re.compile(rb"[0-9]{2}d[bc]")


@dataclass(slots=True)
class Walk:
    """What has been found so far."""

    file: BinaryIO
    streams: int = 0
    video: int | None = None
    length: int | None = None
    whole_length: int | None = None
    seconds: float | None = None
    shown: int = 0
    frames: int = 0
    chunks: int = 0


def told(file: BinaryIO, size: int) -> Told:
    """Walk through all chunks of a file.

    Raises
    ------
    Unreadable
        A chunk reaches beyond its parent, or the frames are not as many as the head says.
    """
    walk = Walk(file)
    for kind, start, end in _chunks(walk, 0, size):
        if kind != b"RIFF":
            raise damaged(f"a strange part at byte {start - 8}")
        _list(walk, start, end)
    if walk.video is None:
        return Told()
    said = walk.whole_length or walk.length
    if said is not None and said != walk.shown:
        raise damaged(f"{walk.shown} frames in a file that says {said}", f"all {said} frames")
    return Told(walk.frames, walk.seconds)


def _chunks(walk: Walk, at: int, end: int) -> Iterator[tuple[bytes, int, int]]:
    """Go through the chunks between two places; they must fill it, but for one byte of padding."""
    while at < end - 1:
        walk.chunks += 1
        if walk.chunks > MOST_CHUNKS:
            raise damaged(f"more than {MOST_CHUNKS} parts")
        walk.file.seek(at)
        head = walk.file.read(8)
        kind, size = struct.unpack("<4sI", head) if len(head) == 8 else (b"", 0)
        if not kind.strip(b"\0") or at + 8 + size > end:
            raise damaged(f"a part at byte {at} that reaches over the end")
        yield kind, at + 8, at + 8 + size
        at += 8 + size + size % 2


def _list(walk: Walk, start: int, end: int) -> None:
    """Read a list of chunks: its kind stands first."""
    for kind, inner, after in _chunks(walk, start + 4, end):
        if kind == b"LIST":
            _list(walk, inner, after)
        elif kind == b"strh":
            _stream(walk, inner, after)
        elif kind == b"dmlh" and after - inner >= 4:
            walk.whole_length = struct.unpack("<I", _read(walk, inner, 4))[0]
        elif _OF_VIDEO.fullmatch(kind) and walk.video is not None and int(kind[:2]) == walk.video:
            walk.shown += 1
            walk.frames += after > inner  # an empty one shows the picture before it once more


def _read(walk: Walk, at: int, number: int) -> bytes:
    walk.file.seek(at)
    return walk.file.read(number)


def _stream(walk: Walk, start: int, end: int) -> None:
    """Read the head of a stream: what it is, its rate, how many frames it has."""
    data = _read(walk, start, min(end - start, 36))
    if len(data) < 36:
        raise damaged("the head of a stream that is cut off")
    if data[:4] == b"vids" and walk.video is None:
        scale, rate, _, walk.length = struct.unpack_from("<4I", data, 20)
        walk.video = walk.streams
        walk.seconds = walk.length * scale / rate if rate else None
    walk.streams += 1
