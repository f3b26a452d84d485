"""One word for one thing, in the catalogues of the pages and in the book of phrases alike."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from pathlib import Path

import pytest

from hingeline_app.said.reader import phrases
from tools import messages

# A French "en deçà de la limite inférieure" would lie below it: outside, where the English says inside.
GLOSSARY = tomllib.loads((Path(__file__).parent / "glossary.toml").read_text("utf-8"))
# Here "weighing" is to weigh many things against each other, and a name is in English on purpose.
NOT_THE_TERM = ("Nothing here is approved data",)


def pairs(language: str) -> Iterator[tuple[str, str]]:
    """Give every sentence with its translation."""
    for message in messages.read_catalogue(messages.LOCALE / language / "LC_MESSAGES"):
        if message.id:
            yield messages.forms(message.id)[0], messages.forms(message.string)[0].replace("\u00ad", "")
    for english, said in phrases().items():
        yield english, said[language]


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize("term", GLOSSARY)
def test_a_term_is_the_same_word_everywhere(term: str, language: str) -> None:
    """Wherever the English term stands, its word stands too; and the term stands somewhere."""
    having = [each for each in pairs(language) if re.search(rf"\b{term}\b", each[0], re.I)]
    wanted = re.compile(GLOSSARY[term][language], re.I)
    others = [each for each in having if not wanted.search(each[1]) and not each[0].endswith(NOT_THE_TERM)]
    assert having
    assert others == []
