"""One word for one thing, in the catalogues of the pages and in the book of phrases alike."""

from __future__ import annotations

import re
import tomllib
from functools import cache
from pathlib import Path

import pytest

from hingeline_app.said.reader import phrases
from tools import messages

# A French "en deçà de la limite inférieure" would lie below it: outside, where the English says inside.
GLOSSARY = tomllib.loads((Path(__file__).parent / "glossary.toml").read_text("utf-8"))
# Here "weighing" is to weigh many things against each other, and a name is in English on purpose.
NOT_THE_TERM = ("Nothing here is approved data", "Strip, fill and paint only as the approved data allows.")
# Names in code stay as they are typed: places to fill, keys of a file, commands; and so does what is quoted.
NO_WORDS = re.compile(
    r"“[^”]*”|%\(\w+\)[a-z]|\{\w+\}|"
    r"\[{1,2}[\w.]+\]{1,2}|\bhingeline [a-z]+(?: [a-z]+)?|\*\.\w[\w.]*|\b\w+\.\w+|\w+ = \S+"
)


@cache
def pairs(language: str) -> tuple[tuple[str, str, str], ...]:
    """Give every sentence, what of it is words, and its translation."""
    of_pages = messages.read_catalogue(messages.LOCALE / language / "LC_MESSAGES")
    said = [(messages.forms(each.id)[0], messages.forms(each.string)[0]) for each in of_pages if each.id]
    said += [(english, translated[language]) for english, translated in phrases().items()]
    return tuple((english, NO_WORDS.sub("", english), other.replace("\u00ad", "")) for english, other in said)


@pytest.mark.parametrize("language", ["de", "fr"])
@pytest.mark.parametrize("term", GLOSSARY)
def test_a_term_is_the_same_word_everywhere(term: str, language: str) -> None:
    """Wherever the English term stands, its word stands too; and the term stands somewhere."""
    of_the_term, wanted = re.compile(rf"\b(?:{term})\b", re.I), re.compile(GLOSSARY[term][language], re.I)
    having = [(english, said) for english, words, said in pairs(language) if of_the_term.search(words)]
    others = [each for each in having if not wanted.search(each[1]) and not each[0].endswith(NOT_THE_TERM)]
    assert having
    assert others == []
