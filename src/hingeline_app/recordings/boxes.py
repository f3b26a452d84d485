"""Whether an MP4 or MOV file is whole, and how many frames it says it has.

Boxes as in ISO/IEC 14496-12: size, type, content. Tables that count the same samples must agree.
"""

from __future__ import annotations

import struct
from collections.abc import Callable, Iterator
from dataclasses import dataclass, field
from typing import BinaryIO

from hingeline_app.recordings.limits import Unreadable, damaged
from hingeline_app.recordings.told import Told

LARGEST_INDEX = 64 << 20
MOST_BOXES = 20_000
INSIDE = {b"moov", b"trak", b"mdia", b"minf", b"stbl", b"moof", b"traf", b"mvex", b"edts"}


@dataclass(frozen=True, slots=True)
class Box:
    """One box: where its content lies."""

    kind: bytes
    start: int
    end: int


@dataclass(slots=True)
class Track:
    """What the tables of one track say."""

    handler: bytes = b""
    seconds: float | None = None
    ticks: int = 0
    counts: dict[str, int] = field(default_factory=dict)
    chunks_of: list[tuple[int, int]] = field(default_factory=list)
    chunks: int = 0
    last_byte: int = 0


def told(file: BinaryIO, size: int) -> Told:
    """Walk through all boxes of a file.

    Raises
    ------
    Unreadable
        A box reaches beyond the file, or there is no index.
    """
    top, doubts = _top(file, size)
    index = [box for box in top if box.kind == b"moov"]
    if len(index) != 1:
        raise damaged(f"{len(index)} indexes in the file", "one index, as a finished recording has")
    tracks = [_track(file, box) for box in _boxes(file, index[0].start, index[0].end) if box.kind == b"trak"]
    video = next((track for track in tracks if track.handler == b"vide"), None)
    if video is None:
        return Told()
    if any(box.kind == b"moof" for box in top):
        return Told(None, None, ("The file is written in pieces and does not say how many frames belong to it.",))
    return _agreed(video, [box for box in top if box.kind == b"mdat"], doubts)


def _top(file: BinaryIO, size: int) -> tuple[list[Box], tuple[str, ...]]:
    """Give the outermost boxes; after index and data, a few cameras append what is no box."""
    top: list[Box] = []
    try:
        for box in _boxes(file, 0, size):
            top.append(box)
    except Unreadable:
        if not {b"moov", b"mdat"} <= {box.kind for box in top}:
            raise
        return top, (f"The last {size - top[-1].end} bytes of the file are none of its parts.",)
    return top, ()


def _boxes(file: BinaryIO, start: int, end: int) -> Iterator[Box]:
    """Go through the boxes between two places; they must fill it exactly."""
    at = start
    for _ in range(MOST_BOXES):
        if at == end:
            return
        file.seek(at)
        head = file.read(16)
        size, kind = struct.unpack(">I4s", head[:8]) if len(head) >= 8 else (0, b"")
        long = size == 1 and len(head) == 16
        size = struct.unpack(">Q", head[8:16])[0] if long else size
        if size < (16 if long else 8) or at + size > end:
            raise damaged(f"a part at byte {at} that reaches over the end, or has no size")
        yield Box(kind, at + (16 if long else 8), at + size)
        at += size
    raise damaged(f"more than {MOST_BOXES} parts")


def _all_inside(file: BinaryIO, box: Box) -> Iterator[Box]:
    for inner in _boxes(file, box.start, box.end):
        yield inner
        if inner.kind in INSIDE:
            yield from _all_inside(file, inner)


def _track(file: BinaryIO, box: Box) -> Track:
    track = Track()
    for inner in _all_inside(file, box):
        reader = _TABLES.get(inner.kind)
        if reader is not None:
            if inner.end - inner.start > LARGEST_INDEX:
                raise damaged("a table of the index that is far too large")
            file.seek(inner.start)
            try:
                reader(track, file.read(inner.end - inner.start))
            except struct.error:
                raise damaged("a table of the index that is cut off") from None
    return track


def _handler(track: Track, data: bytes) -> None:
    # A QuickTime file has a second handler, for where the data lies.
    if data[8:12] in (b"vide", b"soun"):
        track.handler = data[8:12]


def _media_header(track: Track, data: bytes) -> None:
    scale, duration = (
        struct.unpack_from(">IQ", data, 20) if data[:1] == b"\x01" else struct.unpack_from(">II", data, 12)
    )
    track.ticks = duration
    track.seconds = duration / scale if scale else None


def _pairs(data: bytes) -> list[tuple[int, int]]:
    (number,) = struct.unpack_from(">I", data, 4)
    if len(data) < 8 + 8 * number:
        raise damaged("a table of the index that says it has more rows than it has")
    return list(struct.iter_unpack(">II", data[8 : 8 + 8 * number]))


def _times(track: Track, data: bytes) -> None:
    rows = _pairs(data)
    track.counts["times"] = sum(number for number, _ in rows)
    track.counts["ticks"] = sum(number * step for number, step in rows)


def _delays(track: Track, data: bytes) -> None:
    track.counts["delays"] = sum(number for number, _ in _pairs(data))


def _sizes(track: Track, data: bytes) -> None:
    same, number = struct.unpack_from(">II", data, 4)
    if not same and len(data) != 12 + 4 * number:
        raise damaged("a table of sizes whose length is not what it says")
    track.counts["sizes"] = number
    total = same * number if same else sum(size for (size,) in struct.iter_unpack(">I", data[12:]))
    track.counts["bytes"] = total


def _chunks_of(track: Track, data: bytes) -> None:
    (number,) = struct.unpack_from(">I", data, 4)
    if len(data) < 8 + 12 * number:
        raise damaged("a table of the index that says it has more rows than it has")
    track.chunks_of = [(first, each) for first, each, _ in struct.iter_unpack(">III", data[8 : 8 + 12 * number])]


def _offsets(letter: str) -> Callable[[Track, bytes], None]:
    def read(track: Track, data: bytes) -> None:
        (number,) = struct.unpack_from(">I", data, 4)
        places = struct.unpack_from(f">{number}{letter}", data, 8)
        track.chunks, track.last_byte = number, max(places, default=0)

    return read


_TABLES: dict[bytes, Callable[[Track, bytes], None]] = {
    b"hdlr": _handler,
    b"mdhd": _media_header,
    b"stts": _times,
    b"ctts": _delays,
    b"stsz": _sizes,
    b"stsc": _chunks_of,
    b"stco": _offsets("I"),
    b"co64": _offsets("Q"),
}


def _in_chunks(track: Track) -> int:
    """Count the samples that the chunks hold together."""
    firsts = [first for first, _ in track.chunks_of] + [track.chunks + 1]
    return sum(each * max(after - first, 0) for (first, each), after in zip(track.chunks_of, firsts[1:], strict=True))


def _agreed(track: Track, data: list[Box], doubts: tuple[str, ...]) -> Told:
    """Hold the tables of the video track against each other and against the data."""
    frames = track.counts.get("sizes", 0)
    counted = [track.counts.get("times", 0), track.counts.get("delays", frames), _in_chunks(track)]
    if any(count != frames for count in counted):
        raise damaged(f"an index that counts {frames} frames once, and {counted} elsewhere", "one number of frames")
    if track.counts.get("bytes", 0) > sum(box.end - box.start for box in data):
        raise damaged("frames that are larger than the file's data", "all the data of the frames")
    if frames and not any(box.start <= track.last_byte < box.end for box in data):
        raise damaged("an index that points outside the file's data", "an index that fits the data")
    away = abs(track.ticks - track.counts.get("ticks", 0))
    if away > 2.0 * track.counts.get("ticks", 0) / max(frames, 1):
        doubts += ("The length of the recording and the times of its frames do not fit together.",)
    return Told(frames, track.seconds, doubts)
