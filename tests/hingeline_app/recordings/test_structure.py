"""The walk through a file's structure counts what is there, and finds what does not fit together."""

from __future__ import annotations

import io
import struct
import zlib
from contextlib import suppress
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline_app.recordings import boxes, chunks, elements
from hingeline_app.recordings.container import kind_of, what_it_tells
from hingeline_app.recordings.limits import Unreadable
from hingeline_app.recordings.told import Told
from tests.hingeline_app.recordings.rendered import Scene, rendered

SMALL = Scene(width=320, height=184, rate=60.0, seconds=0.5, dot=0.016)
FILMED = {
    ".mp4": (SMALL, "mov"),
    ".mov": (SMALL, "mov"),
    ".mkv": (SMALL, "matroska"),
    ".webm": (replace(SMALL, codec="libvpx"), "matroska"),
    ".avi": (replace(SMALL, codec="mjpeg", pixels="yuvj420p"), "avi"),
}


@pytest.fixture(scope="module", params=FILMED)
def filmed(request: pytest.FixtureRequest, tmp_path_factory: pytest.TempPathFactory) -> tuple[bytes, str]:
    """Give the bytes of a small video and the kind of its container."""
    scene, kind = FILMED[request.param]
    path: Path = rendered(tmp_path_factory.mktemp("structure") / f"video{request.param}", scene)
    return path.read_bytes(), kind


def walked(data: bytes, kind: str) -> Told:
    """Walk through a file in memory."""
    return what_it_tells(kind, io.BytesIO(data), len(data))


@pytest.mark.slow
def test_kind_and_number_of_pictures_are_told(filmed: tuple[bytes, str]) -> None:
    """The kind comes from the content; the structure tells all thirty pictures, half a second, and no doubt."""
    data, kind = filmed
    assert kind_of(data[:16]) == kind
    told = walked(data, kind)
    assert told.frames == 30
    assert told.seconds == pytest.approx(0.5, abs=0.02)
    assert told.doubts == ()


def test_every_truncation_is_found(filmed: tuple[bytes, str]) -> None:
    """Wherever a file ends too early, its structure says so, without any decoder."""
    data, kind = filmed
    for end in range(32, len(data) - 1, max(1, len(data) // 200)):
        with pytest.raises(Unreadable):
            walked(data[:end], kind)


def test_bytes_behind_the_end_are_found(filmed: tuple[bytes, str]) -> None:
    """What was appended is refused or doubted."""
    data, kind = filmed
    with suppress(Unreadable):
        assert walked(data + b"appended bytes that are none of its parts", kind).doubts


def box(kind: bytes, *content: bytes) -> bytes:
    """Make a box."""
    body = b"".join(content)
    return struct.pack(">I4s", 8 + len(body), kind) + body


def film(times: int = 30, sizes: int = 30, chunk: int = 30, media: int = 3000, offset: int = 32) -> bytes:
    """Make the structure of an MP4 file whose tables count what they are told to."""
    table = box(
        b"stbl",
        box(b"stts", struct.pack(">4I", 0, 1, times, 100)),
        box(b"stsz", struct.pack(">3I", 0, 1, sizes)),
        box(b"stsc", struct.pack(">5I", 0, 1, 1, chunk, 1)),
        box(b"stco", struct.pack(">3I", 0, 1, offset)),
    )
    media_box = box(
        b"mdia",
        box(b"mdhd", struct.pack(">6I", 0, 0, 0, 6000, media, 0)),
        box(b"hdlr", struct.pack(">2I4s", 0, 0, b"vide")),
        box(b"minf", table),
    )
    return box(b"ftyp", b"mp42\0\0\0\0mp42isom") + box(b"mdat", bytes(64)) + box(b"moov", box(b"trak", media_box))


def told(data: bytes) -> Told:
    """Walk through boxes in memory."""
    return boxes.told(io.BytesIO(data), len(data))


def test_tables_that_agree_are_believed() -> None:
    """Thirty times, sizes and samples in chunks, half a second."""
    assert told(film()) == Told(30, 0.5, ())


@pytest.mark.parametrize("change", [{"times": 29}, {"sizes": 20}, {"chunk": 15}, {"offset": 5000}])
def test_tables_that_disagree_are_refused(change: dict[str, int]) -> None:
    """A table that counts otherwise than the rest, or points elsewhere, is damage."""
    with pytest.raises(Unreadable):
        told(film(**change))


def test_a_length_that_does_not_fit_the_times_is_doubted() -> None:
    """The length in the head must be that of the frames."""
    assert "do not fit together" in told(film(media=6000)).doubts[0]


def test_a_file_in_pieces_is_doubted() -> None:
    """A file of fragments does not say how many belong to it."""
    data = film() + box(b"moof") + box(b"mdat")
    assert "in pieces" in told(data).doubts[0]


def element(identifier: str, *content: bytes, size: int | None = None) -> bytes:
    """Make an EBML element with a size of eight bytes."""
    body = b"".join(content)
    return bytes.fromhex(identifier) + ((1 << 56) | (len(body) if size is None else size)).to_bytes(8, "big") + body


def checked(*content: bytes) -> bytes:
    """Put a check sum before some content."""
    body = b"".join(content)
    return b"\xbf\x84" + zlib.crc32(body).to_bytes(4, "little") + body


TRACK = element("1654AE6B", element("AE", element("D7", b"\x01"), element("83", b"\x01")))
BLOCK = element("A3", b"\x81\0\0\x80picture")


def matroska(*parts: bytes, size: int | None = None) -> bytes:
    """Make a Matroska file of these parts."""
    return element("1A45DFA3") + element("18538067", *parts, size=size)


def test_blocks_of_the_video_track_are_counted() -> None:
    """Simple blocks and block groups of track 1 are pictures; those of track 2 are not."""
    other, group = element("A3", b"\x82\0\0\x80sound"), element("A0", element("A1", b"\x81\0\0\0picture"))
    data = matroska(TRACK, element("1F43B675", BLOCK, other, group, BLOCK))
    assert elements.told(io.BytesIO(data), len(data)).frames == 3


def test_a_check_sum_is_held_against_the_bytes() -> None:
    """One changed byte in a cluster with a check sum is found."""
    whole = matroska(TRACK, element("1F43B675", checked(BLOCK, BLOCK)))
    assert elements.told(io.BytesIO(whole), len(whole)).frames == 2
    changed = whole.replace(b"picture", b"pickure", 1)
    with pytest.raises(Unreadable, match="check sum"):
        elements.told(io.BytesIO(changed), len(changed))


def test_a_recording_of_unknown_length_is_doubted() -> None:
    """A browser writes no lengths: its clusters are counted, and nobody can tell whether the end is missing."""
    unknown = (1 << 56) - 1
    cluster = bytes.fromhex("1F43B675") + b"\x01" + b"\xff" * 7 + BLOCK + BLOCK
    data = matroska(TRACK, cluster, cluster, size=unknown)
    found = elements.told(io.BytesIO(data), len(data))
    assert found.frames == 4
    assert "how long it is" in found.doubts[0]


def riff(kind: bytes, *content: bytes) -> bytes:
    """Make a chunk, padded to an even place."""
    body = b"".join(content)
    return struct.pack("<4sI", kind, len(body)) + body + bytes(len(body) % 2)


def avi(pictures: int, said: int) -> bytes:
    """Make the structure of an AVI file that holds some pictures and says a number."""
    head = b"vidsMJPG" + struct.pack("<7I", 0, 0, 0, 1, 30, 0, said)
    film = [riff(b"00dc", b"abc")] * pictures
    return riff(b"RIFF", b"AVI ", riff(b"LIST", b"hdrl", riff(b"strh", head)), riff(b"LIST", b"movi", *film))


def test_chunks_are_counted_against_the_head() -> None:
    """As many pictures as the head says are whole; fewer are damage."""
    assert chunks.told(io.BytesIO(avi(9, 9)), len(avi(9, 9))) == Told(9, 0.3, ())
    with pytest.raises(Unreadable, match="9 frames in a file that says 12"):
        chunks.told(io.BytesIO(avi(9, 12)), len(avi(9, 12)))
