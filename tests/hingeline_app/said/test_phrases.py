"""The book as it stands: every phrase in every language, every place kept, no number touched."""

from __future__ import annotations

import re
import tomllib
from collections import Counter
from pathlib import Path

import pytest

from hingeline_app.said import kept_by_language, reader, reading_in, say, says
from hingeline_app.said.phrase import PLACE
from hingeline_app.said.reader import phrases

LANGUAGES = ("de", "fr")
FIGURES = re.compile(r"\d+(?:[.,]\d+)*")
# What may stand where a number and its unit do, and where a name does.
SAMPLES = {"n": "12.5 mm", "t": "Merle T2-07", "s": "Merle T2-07", "w": "inside", "k": "support[0].mass"}


def sample(english: str) -> str:
    """Give a sentence of this pattern."""
    return PLACE.sub(lambda place: SAMPLES[place[1][0]], english)


@pytest.mark.parametrize("language", LANGUAGES)
def test_every_phrase_is_said_and_keeps_its_places_and_numbers(language: str) -> None:
    """Each place once more in the translation, and each number that the phrase itself has."""
    for english, said in phrases().items():
        assert language in said, english
        there = said[language]
        assert sorted(set(PLACE.findall(english))) == sorted(set(PLACE.findall(there))), english
        bare = [Counter(FIGURES.findall(PLACE.sub(" ", each))) for each in (english, there)]
        assert bare[0] == bare[1], english
        assert english.endswith((".", "?", ":")) == there.endswith((".", "?", ":")), english


@pytest.mark.parametrize("language", LANGUAGES)
def test_a_sentence_of_each_pattern_is_found_and_its_numbers_stay(language: str) -> None:
    """Filled with a number, a name or a word, each phrase is said; all numbers of the English stand in it."""
    with reading_in(language):
        for english in phrases():
            sentence = sample(english)
            found = says(sentence)
            assert found is not None, sentence
            assert Counter(FIGURES.findall(found)) == Counter(FIGURES.findall(sentence)), sentence


def test_nobody_who_reads_english_is_told_anything_else() -> None:
    for english in phrases():
        assert say(sample(english)) == sample(english)


def test_a_picture_kept_for_one_language_is_not_shown_in_another() -> None:
    made: list[str] = []

    @kept_by_language(4)
    def picture(words: str) -> str:
        made.append(words)
        return say(words)

    with reading_in("de"):
        first = picture("tail-heavy"), picture("tail-heavy")
    with reading_in("fr-CH"):
        second = picture("tail-heavy")
    assert first[0] == first[1] != second != picture("tail-heavy") == "tail-heavy"
    assert len(made) == 3


def test_each_phrase_stands_once_in_all_files() -> None:
    """Two files with one sentence could say it in two ways."""
    folder = Path(reader.__file__).parent / "phrases"
    counts = Counter(english for path in folder.glob("*.toml") for english in tomllib.loads(path.read_text("utf-8")))
    assert [english for english, count in counts.items() if count > 1] == []
