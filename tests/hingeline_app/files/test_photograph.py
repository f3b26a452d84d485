"""Photographs: known by content, bounded before decoding, drawn anew for showing."""

from __future__ import annotations

import io
import struct
import zlib

import pytest
from PIL import Image

from hingeline.errors import InputRefused
from hingeline_app.files.photograph import PREVIEW_EDGE, read_photograph


def picture(kind: str, size: tuple[int, int] = (64, 48), **options: object) -> bytes:
    import pillow_heif

    pillow_heif.register_heif_opener()
    written = io.BytesIO()
    Image.new("RGB", size, (200, 30, 30)).save(written, kind, **options)
    return written.getvalue()


@pytest.mark.parametrize(("kind", "media_type"), [("JPEG", "image/jpeg"), ("PNG", "image/png"), ("HEIF", "image/heic")])
def test_each_kind_is_known_by_its_content_and_shown_as_jpeg(kind: str, media_type: str) -> None:
    photograph = read_photograph(picture(kind), "invoice.pdf")
    assert (photograph.media_type, photograph.width, photograph.height) == (media_type, 64, 48)
    shown = Image.open(io.BytesIO(photograph.preview))
    assert (shown.format, shown.size) == ("JPEG", (64, 48))


def test_a_jpeg_with_a_second_picture_behind_it_is_a_jpeg_and_its_first_one_is_shown() -> None:
    """As telephones write it that keep a preview or a second lens's picture (CIPA DC-007, multi-picture format)."""
    second = Image.new("RGB", (64, 48), (20, 30, 200))
    photograph = read_photograph(picture("MPO", save_all=True, append_images=[second]))
    assert (photograph.media_type, photograph.width, photograph.height) == ("image/jpeg", 64, 48)
    shown = Image.open(io.BytesIO(photograph.preview)).convert("RGB").getpixel((32, 24))
    assert isinstance(shown, tuple)
    assert shown[0] > 150 > shown[2]


def test_what_shows_holds_no_place_and_no_camera() -> None:
    exif = Image.Exif()
    exif[0x010F] = "Maker of cameras"
    exif[0x8825] = {1: "N", 2: (51.0, 1.0, 2.0)}
    photograph = read_photograph(picture("JPEG", exif=exif.tobytes()))
    assert b"Maker" not in photograph.preview
    assert not Image.open(io.BytesIO(photograph.preview)).getexif()


def test_a_picture_held_sideways_is_shown_upright() -> None:
    exif = Image.Exif()
    exif[0x0112] = 6
    shown = Image.open(io.BytesIO(read_photograph(picture("JPEG", exif=exif.tobytes())).preview))
    assert shown.size == (48, 64)


def test_a_large_picture_is_shown_smaller() -> None:
    shown = Image.open(io.BytesIO(read_photograph(picture("JPEG", (3200, 1000))).preview))
    assert max(shown.size) == PREVIEW_EDGE


@pytest.mark.parametrize(
    "data",
    [
        b"",
        b"hello",
        b"%PDF-1.7",
        b"<svg onload='x'/>",
        b"GIF89a" + bytes(40),
        picture("PNG")[:60],
        picture("JPEG")[:300],
    ],
    ids=["empty", "text", "pdf", "svg", "gif", "cut png", "cut jpeg"],
)
def test_what_is_no_whole_picture_is_refused(data: bytes) -> None:
    with pytest.raises(InputRefused):
        read_photograph(data)


@pytest.mark.parametrize("edge", [20_000, 12_500, 9_000])
def test_a_pixel_flood_is_refused_before_it_is_unpacked(edge: int) -> None:
    """A PNG of a few bytes that says it is 20,000 pixels wide and high."""
    head = b"IHDR" + struct.pack(">IIBBBBB", edge, edge, 8, 2, 0, 0, 0)
    chunk = struct.pack(">I", 13) + head + struct.pack(">I", zlib.crc32(head))
    with pytest.raises(InputRefused, match="pixels"):
        read_photograph(b"\x89PNG\r\n\x1a\n" + chunk + picture("PNG")[33:])
