"""A picture that is kept small keeps its colours: a statement in red on a page of paper and ink stays red."""

from __future__ import annotations

from io import BytesIO
from pathlib import Path

from PIL import Image

from tests.browser.hand import kept

PAPER, INK, RED = (237, 237, 228), (16, 32, 44), (163, 38, 14)


def page_with_a_red_word() -> Image.Image:
    """Give paper, ink with every shade of its smoothing, and thirty pixels of the colour of what is outside."""
    page = Image.new("RGB", (300, 200), PAPER)
    for step in range(200):
        shade = tuple(round(a + (b - a) * step / 199) for a, b in zip(INK, PAPER, strict=True))
        page.paste(shade, (step, 0, step + 1, 150))
    page.paste(RED, (250, 160, 255, 166))
    return page


def test_a_small_word_in_red_stays_red(tmp_path: Path) -> None:
    """By a median cut it was olive in the pictures of the walks."""
    whole = BytesIO()
    page_with_a_red_word().save(whole, "PNG")
    kept(whole.getvalue(), tmp_path / "page.png")
    with Image.open(tmp_path / "page.png") as small:
        found = small.convert("RGB").getpixel((252, 163))
    assert isinstance(found, tuple)
    assert max(abs(a - b) for a, b in zip(found, RED, strict=True)) < 16, found
