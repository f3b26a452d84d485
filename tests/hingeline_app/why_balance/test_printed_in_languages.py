"""What is printed to be taken home, in the language of who takes it: no English left, every number the same."""

from __future__ import annotations

import io
import re
from collections.abc import Iterable
from datetime import UTC, datetime

import pytest
from pypdf import PdfReader

from hingeline_app.report.explanation import Part
from hingeline_app.report.owner_words import LANGUAGES, OwnersWords
from hingeline_app.said import reading_in
from hingeline_app.why_balance import printed
from hingeline_app.why_balance.presets import PRESETS

NOON = datetime(2027, 3, 12, 12, 0, tzinfo=UTC)
OTHERS = [language for language in LANGUAGES if language != "en"]
# Words that only English has.
ENGLISH = re.compile(
    r"\b(the|is|were|of|and|or|at|by|with|its|again|no|not|inside|outside|beyond|grows?|speed|below|from|weight)\b"
)
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
WRITTEN = re.compile(r"<style.*?</style>|>([^<>]+)<", re.S)


def texts_of(parts: Iterable[Part]) -> list[str]:
    """Give every text of these parts, with those of their pictures."""
    found: list[str] = []
    for part in parts:
        found += [part.words, *part.lines, *(text for text in WRITTEN.findall(part.svg) if text)]
        found += texts_of([part.beside]) if part.beside else []
    return found


def sheet_in(name: str, language: str) -> list[str]:
    """Give every text of a short sheet."""
    sheet = printed.short_sheets()[name]
    with reading_in(language):
        parts = printed._parts_of_sheet(sheet, printed.preset_named(sheet.preset))
        return texts_of(printed.said_parts(parts, OwnersWords(language)))


@pytest.mark.slow
@pytest.mark.parametrize("language", OTHERS)
@pytest.mark.parametrize("name", printed.short_sheets())
def test_a_short_sheet_has_no_english_and_the_same_numbers(name: str, language: str) -> None:
    texts = sheet_in(name, language)
    assert [text for text in texts if ENGLISH.search(text)] == []
    english = sorted(NUMBER.findall(" ".join(sheet_in(name, "en"))))
    assert sorted(NUMBER.findall(" ".join(texts).replace(",", ".").replace(". ", " "))) == [
        number.replace(",", ".") for number in english
    ]


@pytest.mark.slow
@pytest.mark.parametrize("name", printed.short_sheets())
def test_a_short_sheet_is_one_side_and_tells_its_language(name: str) -> None:
    """German is a third longer: still one side, on the shorter paper."""
    pdf = PdfReader(io.BytesIO(printed.print_sheet(printed.short_sheets()[name], NOON, "0", "letter", "de")))
    assert len(pdf.pages) == 1
    assert pdf.root_object["/Lang"].startswith("de")
    assert "□" not in pdf.pages[0].extract_text()


@pytest.mark.campaign
@pytest.mark.parametrize("preset", PRESETS, ids=lambda preset: preset.name)
def test_the_side_of_a_state_has_no_english(preset: printed.Preset) -> None:
    for language in OTHERS:
        with reading_in(language):
            texts = texts_of(printed.said_parts(printed._parts_of(preset.state), OwnersWords(language)))
        assert [text for text in texts if ENGLISH.search(text)] == [], language
