"""Our own fonts, and which characters they have.

A character that no font has would be an error in an archival PDF; it is replaced in print only.
"""

from __future__ import annotations

import re
import struct
import unicodedata
from functools import cache
from pathlib import Path
from typing import Any

from hingeline_app.said.as_typed import as_was

FOLDER = Path(__file__).parent / "fonts"
MISSING_SIGN = "□"
ZERO_WIDTH_SPACE = "\u200b"
LONGEST_WORD, PIECE = 20, 4


@cache
def covered() -> frozenset[int]:
    """Return every code point that one of our fonts can print."""
    points: set[int] = set()
    for path in sorted(FOLDER.glob("*.ttf")):
        points |= _code_points(path.read_bytes())
    return frozenset(points)


def _code_points(font: bytes) -> set[int]:
    """Read a font's character map (cmap, formats 4 and 12)."""
    start = _table_offset(font, b"cmap")
    (count,) = struct.unpack_from(">H", font, start + 2)
    points: set[int] = set()
    for index in range(count):
        (offset,) = struct.unpack_from(">L", font, start + 8 + 8 * index)
        (kind,) = struct.unpack_from(">H", font, start + offset)
        if kind == 12:
            points |= _groups(font, start + offset)
        elif kind == 4:
            points |= _segments(font, start + offset)
    return points - {0xFFFF}


def _table_offset(font: bytes, name: bytes) -> int:
    (tables,) = struct.unpack_from(">H", font, 4)
    for index in range(tables):
        tag, _, offset, _ = struct.unpack_from(">4sLLL", font, 12 + 16 * index)
        if tag == name:
            return int(offset)
    raise ValueError(f"font without table {name!r}")


def _groups(font: bytes, start: int) -> set[int]:
    (count,) = struct.unpack_from(">L", font, start + 12)
    points: set[int] = set()
    for index in range(count):
        first, last, _ = struct.unpack_from(">LLL", font, start + 16 + 12 * index)
        points.update(range(first, last + 1))
    return points


def _segments(font: bytes, start: int) -> set[int]:
    """Read format 4: segments of code points, some of which may point at no glyph."""
    (doubled,) = struct.unpack_from(">H", font, start + 6)
    count, points = doubled // 2, set[int]()
    for index in range(count):
        place = start + 14 + 2 * index
        (last,) = struct.unpack_from(">H", font, place)
        (first,) = struct.unpack_from(">H", font, place + doubled + 2)
        (delta,) = struct.unpack_from(">h", font, place + 2 * doubled + 2)
        (jump,) = struct.unpack_from(">H", font, place + 3 * doubled + 2)
        for point in range(first, last + 1):
            glyph = point + delta
            if jump:
                (glyph,) = struct.unpack_from(">H", font, place + 3 * doubled + 2 + jump + 2 * (point - first))
            if glyph & 0xFFFF:
                points.add(point)
    return points


def printable(text: str) -> tuple[str, int]:
    """Return a text as it can be printed, and how many characters had to be replaced."""
    kept: list[str] = []
    replaced = 0
    for character in unicodedata.normalize("NFC", text):
        if character in "\t\r\n\u2028\u2029":
            kept.append(" ")
        elif _can_stand(character):
            kept.append(character)
        else:
            kept.append(MISSING_SIGN)
            replaced += 1
    return "".join(kept), replaced


def _can_stand(character: str) -> bool:
    """Tell whether a character is in our fonts and changes nothing but itself.

    Direction marks and the like are not let through: they could turn the words around them.
    Marks that need a letter to stand on are let through only where they have joined one (NFC).
    """
    if character == ZERO_WIDTH_SPACE:
        return True
    return ord(character) in covered() and unicodedata.category(character)[0] not in "CM"


def as_printed(text: str, longest: int = LONGEST_WORD) -> str:
    """Give a text as a sheet sets it: only characters that our fonts have, and no word that runs out of the page."""
    return breakable(printable(text)[0], longest)


def breakable(text: str, longest: int = LONGEST_WORD) -> str:
    """Let a word longer than its column break, so that it cannot run out of the page."""
    return re.sub(rf"\S{{{longest + 1},}}", lambda found: _with_breaks(found.group()), text)


def _with_breaks(word: str) -> str:
    return ZERO_WIDTH_SPACE.join(word[start : start + PIECE] for start in range(0, len(word), PIECE))


def printable_all(value: Any) -> tuple[Any, int]:
    """Do the same to every text in a nest of lists and dictionaries."""
    if isinstance(value, str):
        kept, replaced = printable(value)
        return as_was(value, kept), replaced
    if isinstance(value, dict):
        done = {key: printable_all(inner) for key, inner in value.items()}
        return {key: pair[0] for key, pair in done.items()}, sum(pair[1] for pair in done.values())
    if isinstance(value, list):
        listed = [printable_all(inner) for inner in value]
        return [pair[0] for pair in listed], sum(pair[1] for pair in listed)
    return value, 0
