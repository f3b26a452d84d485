"""A made-up language: whatever is translated stands in brackets, so that what is not stands out."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from gettext import NullTranslations
from html.parser import HTMLParser

import pytest
from django.utils.translation import trans_real

from hingeline_app.said import reader
from hingeline_app.said.plain_data import is_data

LANGUAGE = "eo"
OPENED, CLOSED = "\u27e6", "\u27e7"
# Each word in brackets of its own, so that a line may break between two; places and marks of the page stay.
WORD = re.compile(r"%%|%(?:\([a-z_]+\))?\d*[sd]|\{[a-z]+[0-9]?\}|<[^>]+>|&[a-z]+;|[^\W\d_][\w'\u00ad-]*")
READ_OUT = ("alt", "aria-label", "placeholder", "title")
NO_WORDS = ("script", "style", "textarea")


class _Bracketed(NullTranslations):
    """Django's own catalogues, each sentence in brackets."""

    domain = "django"

    def gettext(self, message: str) -> str:
        return made_up(message)

    def ngettext(self, one: str, more: str, number: int) -> str:
        return self.gettext(one if number == 1 else more)

    def pgettext(self, _context: str, message: str) -> str:
        return self.gettext(message)

    def language(self) -> str:
        return LANGUAGE

    to_language = language


def made_up(sentence: str) -> str:
    """Say a sentence in the made-up language."""
    return WORD.sub(lambda word: word[0] if word[0][0] in "%{<&" else f"{OPENED}{word[0]}{CLOSED}", sentence)


@contextmanager
def bracketed(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Speak the made-up language to everybody who comes."""
    book = {english: {**said, LANGUAGE: made_up(english)} for english, said in reader.phrases().items()}
    monkeypatch.setattr(reader, "phrases", lambda: book)
    monkeypatch.setitem(trans_real._translations, LANGUAGE, _Bracketed())
    monkeypatch.setattr("hingeline_app.web.middleware.who_is_here._language", lambda _request: LANGUAGE)
    yield
    reader.book_of.cache_clear()
    reader._found.cache_clear()


class Words(HTMLParser):
    """What a page gives to read."""

    def __init__(self) -> None:
        super().__init__()
        self.found: list[str] = []
        self._open = ""
        self._as_it_is = 0

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.found += [value for name, value in attrs if name in READ_OUT and value]
        self._open = tag

    def handle_endtag(self, tag: str) -> None:
        self._open = ""

    def handle_data(self, data: str) -> None:
        if self._open not in NO_WORDS and data.strip():
            self.found.append(" ".join(data.split()))


def rest_of(text: str) -> str:
    """Give what a text holds outside the brackets; a word that was cut for want of room has lost its second one."""
    return re.sub(f"{OPENED}[^{OPENED}{CLOSED}]*(?:{CLOSED}|$)", " ", text)


def left_out(page: str, typed: frozenset[str]) -> list[str]:
    """Give the texts of a page that hold words that nobody typed and nothing translated."""
    words = Words()
    words.feed(page)
    names = re.compile("|".join(rf"(?<!\w){re.escape(each)}(?!\w)" for each in _names(typed)))
    return [each for each in words.found if _has_words_left(each, names)]


def _names(typed: frozenset[str]) -> list[str]:
    """Give what was typed, the longest first; a unit that was typed must not take a piece out of another."""
    return sorted((each for each in typed if not is_data(each)), key=len, reverse=True)


def _has_words_left(text: str, typed: re.Pattern[str]) -> bool:
    return not is_data(re.sub("[\u201c\u201d\u2026|·=]", " ", typed.sub(" ", rest_of(text))))
