"""Whether a Matroska or WebM file is whole, and how many frames it holds.

Elements as in RFC 8794 (EBML) and RFC 9559 (Matroska): identifier, size, content. A check sum, where the
writer put one, is held against the bytes.
"""

from __future__ import annotations

import struct
import zlib
from dataclasses import dataclass, field
from typing import BinaryIO

from hingeline_app.recordings.limits import damaged
from hingeline_app.recordings.told import Told

EBML, SEGMENT, CLUSTER, VOID, CHECK = 0x1A45DFA3, 0x18538067, 0x1F43B675, 0xEC, 0xBF
INFO, TRACKS, TRACK, GROUP, BLOCK, SIMPLE = 0x1549A966, 0x1654AE6B, 0xAE, 0xA0, 0xA1, 0xA3
SCALE, DURATION, NUMBER, TYPE = 0x2AD7B1, 0x4489, 0xD7, 0x83
SEEK, CUES, TAGS, CHAPTERS, ATTACHMENTS = 0x114D9B74, 0x1C53BB6B, 0x1254C367, 0x1043A770, 0x1941A469
TOP = {INFO, TRACKS, CLUSTER, SEEK, CUES, TAGS, CHAPTERS, ATTACHMENTS, VOID, CHECK}
MOST_ELEMENTS = 1_000_000
LARGEST_CHECKED = 64 << 20


@dataclass(slots=True)
class Walk:
    """What has been found so far."""

    file: BinaryIO
    size: int
    track: int | None = None
    frames: int = 0
    scale: int = 1_000_000
    duration: float | None = None
    doubts: list[str] = field(default_factory=list)
    elements: int = 0


def told(file: BinaryIO, size: int) -> Told:
    """Walk through all elements of a file.

    Raises
    ------
    Unreadable
        An element is none, reaches beyond its parent, or fails its check sum.
    """
    walk = Walk(file, size)
    _, start, end = _element(walk, 0, size)
    identifier, start, end_of_segment = _element(walk, end or start, size)
    if identifier != SEGMENT:
        raise damaged("a file without its main part")
    if end_of_segment is None:
        walk.doubts.append("The file does not say how long it is: nobody can tell whether its end is missing.")
    elif end_of_segment != size:
        raise damaged(f"{size - end_of_segment} bytes after the end of the recording")
    _top(walk, start, size)
    if walk.track is None:
        return Told()
    return Told(walk.frames, _seconds(walk), tuple(walk.doubts))


def _seconds(walk: Walk) -> float | None:
    return None if walk.duration is None else walk.duration * walk.scale / 1e9


def _number(data: bytes, keep: bool) -> tuple[int, int]:
    """Read a number of variable length: its value and how many bytes it took."""
    length = 9 - data[0].bit_length() if data and data[0] else 0
    if not length or length > len(data):
        raise damaged("a part of the file that is none")
    value = int.from_bytes(data[:length], "big")
    return (value if keep else value & ((1 << 7 * length) - 1)), length


def _element(walk: Walk, at: int, end: int) -> tuple[int, int, int | None]:
    """Read the head of an element: identifier, where its content starts and ends (None: not said)."""
    walk.elements += 1
    if walk.elements > MOST_ELEMENTS:
        raise damaged(f"more than {MOST_ELEMENTS} parts")
    walk.file.seek(at)
    head = walk.file.read(12)
    identifier, taken = _number(head[:4], keep=True)
    size, more = _number(head[taken : taken + 8], keep=False)
    start = at + taken + more
    if size == (1 << 7 * more) - 1:
        return identifier, start, None
    if start + size > end:
        raise damaged(f"a part at byte {at} that reaches over the end")
    return identifier, start, start + size


def _top(walk: Walk, at: int, end: int) -> None:
    """Go through the parts of the recording."""
    while at < end:
        identifier, start, after = _element(walk, at, end)
        if identifier not in TOP:
            raise damaged(f"a strange part at byte {at}")
        if identifier == CLUSTER:
            at = _cluster(walk, start, end if after is None else after, open_end=after is None)
            continue
        if after is None:
            raise damaged(f"a part without a size at byte {at}")
        if identifier in (INFO, TRACKS):
            _checked(walk, start, after)
            _inside(walk, start, after)
        at = after


def _checked(walk: Walk, start: int, end: int) -> None:
    """Hold the check sum, which stands first in its parent, against the bytes that follow."""
    walk.file.seek(start)
    head = walk.file.read(6)
    if head[:2] == b"\xbf\x84" and end - start <= LARGEST_CHECKED:
        body = walk.file.read(end - start - 6)
        if zlib.crc32(body) != int.from_bytes(head[2:], "little"):
            raise damaged(f"a check sum that does not hold, in the part at byte {start}")


def _inside(walk: Walk, at: int, end: int) -> None:
    """Read the length of the recording and the number of its first video track."""
    number = kind = None
    while at < end:
        identifier, start, after = _element(walk, at, end)
        if after is None:
            raise damaged(f"a part without a size at byte {at}")
        walk.file.seek(start)
        data = walk.file.read(min(after - start, 16))
        if identifier == TRACK:
            _inside(walk, start, after)
        elif identifier == SCALE:
            walk.scale = int.from_bytes(data, "big")
        elif identifier == DURATION and len(data) in (4, 8):
            walk.duration = struct.unpack(">f" if len(data) == 4 else ">d", data)[0]
        elif identifier == NUMBER:
            number = int.from_bytes(data, "big")
        elif identifier == TYPE:
            kind = int.from_bytes(data, "big")
        at = after
    if kind == 1 and walk.track is None:
        walk.track = number


def _cluster(walk: Walk, at: int, end: int, *, open_end: bool) -> int:
    """Count the frames of a cluster; one without a size ends where a part of the recording begins."""
    if not open_end:
        _checked(walk, at, end)
    while at < end:
        identifier, start, after = _element(walk, at, end)
        if open_end and identifier in TOP - {VOID, CHECK}:
            return at
        if after is None:
            raise damaged(f"a part without a size at byte {at}")
        if identifier == GROUP:
            _cluster(walk, start, after, open_end=False)
        elif identifier in (SIMPLE, BLOCK):
            _count(walk, start, after)
        at = after
    return at


def _count(walk: Walk, start: int, end: int) -> None:
    walk.file.seek(start)
    head = walk.file.read(min(end - start, 11))
    track, taken = _number(head, keep=False)
    if track != walk.track:
        return
    walk.frames += 1
    if len(head) > taken + 2 and head[taken + 2] & 0x06:
        walk.doubts.append("Several frames share one block: their number cannot be checked.")
