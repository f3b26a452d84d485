"""Labels in photographs: written by one library (segno, ISO/IEC 18004), read by another (OpenCV)."""

from __future__ import annotations

import io

import pytest
import segno
from PIL import Image

from hingeline_app.recordings.labels import read_label

ADDRESS = "https://bench.fenholt.example/at/3f2a9c0d5b7e4a1c8d6e2f0a1b3c5d7e"


def photographed(text: str, *, width: int = 900, turned: float = 0.0, grey: int = 235) -> bytes:
    """Draw a label lying on a bench, seen from above."""
    drawn = io.BytesIO()
    segno.make(text, error="m").save(drawn, kind="png", scale=10, border=4)
    label = Image.open(drawn).convert("L").rotate(turned, expand=True, fillcolor=255)
    label.thumbnail((width // 2, width // 2))
    scene = Image.new("L", (width, width * 3 // 4), grey)
    scene.paste(label, (width // 5, width // 8))
    seen = io.BytesIO()
    scene.save(seen, "JPEG", quality=80)
    return seen.getvalue()


@pytest.mark.parametrize("turned", [0.0, 7.0, 90.0, 201.0])
def test_a_label_is_read_however_it_lies(turned: float) -> None:
    assert read_label(photographed(ADDRESS, turned=turned)) == ADDRESS


def test_a_label_close_by_is_read_from_a_smaller_copy() -> None:
    assert read_label(photographed(ADDRESS, width=3000)) == ADDRESS


def test_a_picture_without_a_label_says_nothing() -> None:
    seen = io.BytesIO()
    Image.new("L", (640, 480), 120).save(seen, "JPEG")
    assert read_label(seen.getvalue()) is None
    assert read_label(b"no picture") is None
