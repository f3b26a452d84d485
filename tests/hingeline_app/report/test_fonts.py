"""Our own fonts: whole, as described, and known to the last character."""

from __future__ import annotations

import hashlib
import re
import struct

import pytest

from hingeline_app.figures.lettering import ROLES, text_width
from hingeline_app.report.fonts import FOLDER, _table_offset, breakable, covered, printable, printable_all

FONTS = sorted(FOLDER.glob("*.ttf"))


@pytest.mark.parametrize("path", FONTS, ids=lambda path: path.name)
def test_each_font_is_the_one_its_readme_describes(path) -> None:  # type: ignore[no-untyped-def]
    sums = re.findall(r"^([0-9a-f]{64})  (\S+)$", (FOLDER / "README.md").read_text(), re.MULTILINE)
    described = {name: digest for digest, name in sums}
    assert described[path.name] == hashlib.sha256(path.read_bytes()).hexdigest()


def test_every_font_has_its_licence_beside_it() -> None:
    assert len(FONTS) == 7
    assert {path.name for path in FOLDER.glob("LICENCE-*")} == {
        "LICENCE-barlow.txt",
        "LICENCE-barlow-semi-condensed.txt",
        "LICENCE-dejavu.txt",
    }


def test_the_characters_that_the_trade_needs_are_covered() -> None:
    needed = "ABCabc0123456789 éłőßñç ζμΔΩα Жя −±×·…²³½√∞≤≥≠→◂▸□☐☑⚠ \u00a0\u202f\u2009"
    assert [character for character in needed if ord(character) not in covered()] == []


def test_characters_no_font_has_and_marks_that_turn_text_are_replaced_and_counted() -> None:
    assert printable("tab 翼\U0001f6e9\u202e\x00\ud800") == ("tab □□□□□", 5)
    assert printable("a\u0301 b\nc") == ("á b c", 0)
    assert printable_all({"a": ["翼", 1, None], "b": "x"}) == ({"a": ["□", 1, None], "b": "x"}, 1)


def test_only_words_longer_than_a_column_may_break() -> None:
    assert breakable("0.006\u00a0N·m beyond the upper limit", 14) == "0.006\u00a0N·m beyond the upper limit"
    assert breakable("XXXXXXXXXX", 8) == "XXXX\u200bXXXX\u200bXX"


# Both types hold a dash in the place of two hyphens: an option or a serial number would be read, and typed, wrong.
def test_two_hyphens_are_shown_as_two_on_paper_on_pages_and_in_pictures() -> None:
    papers = FOLDER.parent.glob("*.typ")
    setting = [line for each in papers for line in each.read_text().splitlines() if "font:" in line]
    assert setting
    assert [each for each in setting if "set text" in each and "ligatures: false" not in each] == []
    sheets = ("web/static/web/page.css", "figures/drawing.css")
    for sheet in sheets:
        text = (FOLDER.parents[1] / sheet).read_text()
        rule = next(line for line in text.splitlines() if "font-variant-numeric:tabular-nums lining-nums" in line)
        assert "font-variant-ligatures:no-common-ligatures" in rule, sheet


# The widths that keep labels apart are taken from the fonts: read one again here, by other code.
@pytest.mark.parametrize(("role", "file"), [("", "BarlowSemiCondensed-Medium"), ("measure", "Barlow-SemiBold")])
def test_the_table_of_widths_is_that_of_the_font(role: str, file: str) -> None:
    font = (FOLDER / f"{file}.ttf").read_bytes()
    (metrics,) = struct.unpack_from(">H", font, _table_offset(font, b"hhea") + 34)
    (units,) = struct.unpack_from(">H", font, _table_offset(font, b"head") + 18)
    for character in "NmWit±µÅ":
        index = min(_glyph(font, ord(character)), metrics - 1)
        (advance,) = struct.unpack_from(">H", font, _table_offset(font, b"hmtx") + 4 * index)
        assert text_width(character, role) == pytest.approx(advance / units * ROLES[role][1]), character


def _glyph(font: bytes, point: int) -> int:
    """Find a glyph by the font's format-4 map."""
    start = _table_offset(font, b"cmap")
    (count,) = struct.unpack_from(">H", font, start + 2)
    for index in range(count):
        (offset,) = struct.unpack_from(">L", font, start + 8 + 8 * index)
        place = start + offset
        if struct.unpack_from(">H", font, place)[0] != 4:
            continue
        half = struct.unpack_from(">H", font, place + 6)[0]
        ends = struct.unpack_from(f">{half // 2}H", font, place + 14)
        segment = next(number for number, end in enumerate(ends) if end >= point)
        base = place + 14 + 2 * segment
        (first,) = struct.unpack_from(">H", font, base + half + 2)
        (delta,) = struct.unpack_from(">h", font, base + 2 * half + 2)
        (jump,) = struct.unpack_from(">H", font, base + 3 * half + 2)
        if not jump:
            return (point + delta) & 0xFFFF
        (glyph,) = struct.unpack_from(">H", font, base + 3 * half + 2 + jump + 2 * (point - first))
        return int(glyph)
    raise AssertionError("no format-4 map")
