"""Photographs as they come from a tablet: looked at by content, bounded, and drawn anew for showing.

The file itself is kept as it came, under its digest; what pages show is a copy that holds
nothing but the picture.
"""

from __future__ import annotations

import io
import warnings
from dataclasses import dataclass
from typing import Any

from hingeline.errors import InputRefused, MissingExtra

LARGEST_FILE = 40_000_000
# A pixel flood unpacks to more memory than the file is large: the bound is asked before decoding.
MOST_PIXELS = 60_000_000
LONGEST_EDGE = 12_000
PREVIEW_EDGE, PRINTED_EDGE = 1600, 900
MEDIA_TYPES = {"JPEG": "image/jpeg", "PNG": "image/png", "HEIF": "image/heic"}
# A JPEG with a second picture behind the first, as many telephones write it, calls itself this once it is opened.
SEVERAL_IN_ONE = {"MPO": "image/jpeg"}


@dataclass(frozen=True)
class Photograph:
    """A photograph that was opened: what it is, how large, and the copy that may be shown (JPEG)."""

    media_type: str
    width: int
    height: int
    preview: bytes


def read_photograph(data: bytes, name: str = "photograph") -> Photograph:
    """Open a photograph; its name is not believed.

    Raises
    ------
    InputRefused
        It is too large, or is no whole JPEG, PNG or HEIC picture.
    MissingExtra
        The packages for pictures are not installed.
    """
    if not 0 < len(data) <= LARGEST_FILE:
        remedy = "Send the photograph itself, or a smaller one."
        raise InputRefused.of("file", name, f"a picture of at most {LARGEST_FILE // 1_000_000} MB", remedy)
    image = _opened(data, name)
    width, height = image.size
    if max(width, height) > LONGEST_EDGE or width * height > MOST_PIXELS:
        raise _too_many_pixels(f"{width} x {height} pixels")
    return Photograph((MEDIA_TYPES | SEVERAL_IN_ONE)[image.format], width, height, _preview(image, name))


def drawn_for_print(preview: bytes) -> tuple[bytes, int, int]:
    """Draw our own copy of a photograph once more, as large as a printed sheet needs: JPEG, width, height."""
    image = _opened(preview, "photograph")
    image.thumbnail((PRINTED_EDGE, PRINTED_EDGE))
    written = io.BytesIO()
    image.save(written, "JPEG", quality=80)
    return written.getvalue(), image.width, image.height


def _opened(data: bytes, name: str) -> Any:
    pillow, heif = _packages()
    heif.register_heif_opener(thumbnails=False)
    try:
        with warnings.catch_warnings():
            # The bound is ours, and asked below.
            warnings.simplefilter("ignore")
            return pillow.open(io.BytesIO(data), formats=list(MEDIA_TYPES))
    except pillow.DecompressionBombError:
        raise _too_many_pixels("very many pixels") from None
    except (OSError, SyntaxError, ValueError):
        raise _no_picture(name) from None


def _preview(image: Any, name: str) -> bytes:
    from PIL import ImageOps

    try:
        upright = ImageOps.exif_transpose(image).convert("RGB")
    except (OSError, SyntaxError, ValueError, EOFError, IndexError, KeyError, TypeError):
        raise _no_picture(name) from None
    upright.thumbnail((PREVIEW_EDGE, PREVIEW_EDGE))
    written = io.BytesIO()
    # A new picture: no position, no camera, nothing that hid behind the pixels.
    clean = upright.copy()
    clean.info = {}
    clean.save(written, "JPEG", quality=85)
    return written.getvalue()


def _packages() -> tuple[Any, Any]:
    try:
        import pillow_heif
        from PIL import Image
    except ModuleNotFoundError:
        raise MissingExtra('Photographs need a package that is missing: pip install "hingeline[web]".') from None
    return Image, pillow_heif


def _too_many_pixels(given: str) -> InputRefused:
    expected = f"at most {MOST_PIXELS:,} pixels and {LONGEST_EDGE:,} on one edge".replace(",", " ")
    return InputRefused.of("file", given, expected, "Make it smaller first.")


def _no_picture(name: str) -> InputRefused:
    return InputRefused.of("file", name, "a whole JPEG, PNG or HEIC picture", "Take it again, or send another file.")
