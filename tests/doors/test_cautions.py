"""Each standing caution means the same in every language: sentence for sentence, and no "not" is lost."""

from __future__ import annotations

import re

import pytest

from tools import cautions

CAUTIONS = cautions.cautions()
SENTENCE_END = re.compile(r"[.?!](?=\s|$)")
NUMBER = re.compile(r"\d+(?:[.,]\d+)?")
# Words that take something away, or bind it to a condition; a caution without one would permit.
NO = {
    "en": r"\b(not?|never|nothing|cannot|only|nobody|without|neither|less|until|before)\b",
    "de": r"\b(nicht|nichts|nie|kein\w*|nur|niemand|ohne|weder|weniger|bis|bevor|vor)\b",
    "fr": r"(\bn'|\b(ne|pas|jamais|rien|aucune?|seule?s?|seulement|personne|sans|moins|avant|jusqu)\b|\bni\b|\bque\b)",
}


def sentences_in(text: str) -> int:
    """Count the sentences of a text."""
    return len(SENTENCE_END.findall(text))


def test_the_page_is_what_is_said() -> None:
    """docs/cautions.md shows every caution as it is said now: else run tools/cautions.py."""
    assert cautions.page() == cautions.PAGE.read_text("utf-8")


def test_every_caution_of_the_program_stands_on_it() -> None:
    """Nothing in the code that calls itself a caution is left out."""
    told = {english for _place, english, _said in CAUTIONS}
    named = {text for module in cautions.MODULES for text in _named(module)}
    assert len(named) > 25
    assert named <= told


def _named(module: object) -> list[str]:
    found = [
        value for name, value in vars(module).items() if name.strip("_").startswith(("CAUTION", "STANDING_CAUTION"))
    ]
    return [text for value in found for text in ((value,) if isinstance(value, str) else value)]


@pytest.mark.parametrize("language", cautions.LANGUAGES)
def test_a_caution_has_as_many_sentences_in_every_language(language: str) -> None:
    differ = {
        english: said[language]
        for _, english, said in CAUTIONS
        if sentences_in(english) != sentences_in(said[language])
    }
    assert differ == {}


@pytest.mark.parametrize("language", cautions.LANGUAGES)
def test_no_prohibition_is_lost(language: str) -> None:
    """Where English says not, never, only or until, the other language does."""
    lost = {
        english: said[language]
        for _, english, said in CAUTIONS
        if re.search(NO["en"], english, re.I) and not re.search(NO[language], said[language], re.I)
    }
    assert lost == {}


@pytest.mark.parametrize("language", cautions.LANGUAGES)
def test_numbers_of_a_caution_are_the_same(language: str) -> None:
    for _, english, said in CAUTIONS:
        assert NUMBER.findall(english) == NUMBER.findall(said[language]), english


def test_a_caution_is_a_sentence() -> None:
    """It ends as one, and fits two breaths: no sentence has more than 40 words."""
    for _, english, said in CAUTIONS:
        for text in (english, *said.values()):
            assert text.rstrip()[-1] in ".?!", text
            assert max(len(sentence.split()) for sentence in re.split(r"(?<=[.?!])\s", text)) <= 40, text
