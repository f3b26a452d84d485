"""Who reads: the language in which what is shown now is to be said."""

from __future__ import annotations

import tomllib
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache, lru_cache, wraps
from importlib.resources import files
from typing import Any, TypeVar

from hingeline_app.said.as_typed import AsTyped
from hingeline_app.said.book import PhraseBook

SOURCE = "en"
Made = TypeVar("Made")
_reader: ContextVar[str] = ContextVar("reader", default=SOURCE)


def the_readers_language() -> str:
    """Give the language of the reader: English until said otherwise."""
    return _reader.get()


@contextmanager
def reading_in(language: str) -> Iterator[None]:
    """Say everything in this language."""
    before = _reader.set(language.partition("-")[0])
    try:
        yield
    finally:
        _reader.reset(before)


def say(text: str) -> str:
    """Say a text in the reader's language; what the book does not know stays as it is."""
    language = _reader.get()
    return text if language == SOURCE or isinstance(text, AsTyped) else _found(text, language) or text


def says(text: str) -> str | None:
    """Say a text in the reader's language, or None where the book does not know it."""
    language = _reader.get()
    return text if language == SOURCE or isinstance(text, AsTyped) else _found(text, language)


def kept_by_language(most: int) -> Callable[[Callable[..., Made]], Callable[..., Made]]:
    """Keep what a function made, for each language apart: a picture in German is not shown to a French reader."""

    def keep(make: Callable[..., Made]) -> Callable[..., Made]:
        @lru_cache(maxsize=most)
        def kept(_language: str, *given: Any) -> Made:
            return make(*given)

        @wraps(make)
        def found(*given: Any) -> Made:
            return kept(the_readers_language(), *given)

        return found

    return keep


@lru_cache(maxsize=1 << 15)
def _found(text: str, language: str) -> str | None:
    return book_of(language).says(text)


@cache
def book_of(language: str) -> PhraseBook:
    """Read the book of a language."""
    return PhraseBook({english: said[language] for english, said in phrases().items() if language in said}, language)


@cache
def phrases() -> dict[str, dict[str, str]]:
    """Read every phrase in every language, as the files have them."""
    folder = files("hingeline_app.said").joinpath("phrases")
    found: dict[str, dict[str, str]] = {}
    for path in sorted(folder.iterdir(), key=lambda each: each.name):
        if path.name.endswith(".toml"):
            found |= tomllib.loads(path.read_text(encoding="utf-8"))
    return found
