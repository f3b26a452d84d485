"""Helper of these tests: a worksheet as its printed pages, in rows of grey values."""

from __future__ import annotations

import struct
import zlib
from typing import Any

import typst

from hingeline_app.report.typesetting import fonts
from hingeline_app.report.worksheet import inputs_of, template


def printed_pages(view: dict[str, Any]) -> list[list[bytes]]:
    made = typst.compile(
        template(), font_paths=fonts(), sys_inputs=inputs_of(view, 1.0, template()), format="png", ppi=36
    )
    return [rows_of_png(page) for page in (made if isinstance(made, list) else [made])]


def rows_of_png(png: bytes) -> list[bytes]:
    """Read an 8-bit RGBA picture (PNG specification, third edition, clauses 7 and 9) into rows of grey."""
    place, packed, width = 8, b"", 0
    while place < len(png):
        (length,) = struct.unpack_from(">L", png, place)
        kind, body = png[place + 4 : place + 8], png[place + 8 : place + 8 + length]
        if kind == b"IHDR":
            (width,) = struct.unpack_from(">L", body)
            assert body[8:10] == b"\x08\x06"
        elif kind == b"IDAT":
            packed += body
        place += 12 + length
    data, step, before, rows = zlib.decompress(packed), 4 * width, bytes(4 * width), []
    for start in range(0, len(data), step + 1):
        before = _unfiltered(data[start], data[start + 1 : start + 1 + step], before)
        rows.append(bytes(min(before[4 * x : 4 * x + 3]) for x in range(width)))
    return rows


def _unfiltered(kind: int, line: bytes, above: bytes) -> bytes:
    out = bytearray(line)
    for index in range(len(line)):
        left = out[index - 4] if index >= 4 else 0
        corner = above[index - 4] if index >= 4 else 0
        guess = (0, left, above[index], (left + above[index]) // 2, _paeth(left, above[index], corner))[kind]
        out[index] = (line[index] + guess) & 0xFF
    return bytes(out)


def _paeth(left: int, above: int, corner: int) -> int:
    guess = left + above - corner
    return min((left, above, corner), key=lambda value: abs(guess - value))
