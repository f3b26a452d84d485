"""A sheet in its reader's language: what the program says on it is said; what was typed, drawn or attached stays."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from functools import cache
from importlib.resources import files
from typing import Any

from hingeline_app.report.fonts import ZERO_WIDTH_SPACE, breakable
from hingeline_app.said import SOURCE, AsTyped, says, the_readers_language
from hingeline_app.said.french_marks import as_written_in

WORD = re.compile(r"(?:\bw|counted)\(\"((?:[^\"\\]|\\.)*)\"")
# What a template reads as a name of its own: no words for a reader.
NO_WORDS = frozenset({"attached", "colour", "colours", "kind", "paper"})


def said_sheet(view: Mapping[str, Any], template: bytes) -> dict[str, Any]:
    """Give what a template is told, in the reader's language, with the words that stand in the template itself."""
    language = the_readers_language()
    told: dict[str, Any] = dict(view) if language == SOURCE else _said(view)
    return {**told, "language": language, "words": words_of(template, language)}


@cache
def words_of(template: bytes, language: str) -> dict[str, str]:
    """Give the words of a template in a language; none for English, in which they are written."""
    if language == SOURCE:
        return {}
    found = WORD.findall(template.decode())
    return {english: as_written_in(language, sheet_words()[english][language]) for english in found}


@cache
def sheet_words() -> Mapping[str, Mapping[str, str]]:
    """Give what each heading and column is in the other languages."""
    return tomllib.loads(files("hingeline_app.report").joinpath("sheet_words.toml").read_text(encoding="utf-8"))


def _said(told: Any) -> Any:
    """Say each text of a nest of tables and lists."""
    if isinstance(told, Mapping):
        return {name: inner if name in NO_WORDS else _said(inner) for name, inner in told.items()}
    if isinstance(told, list | tuple):
        return [_said(inner) for inner in told]
    return _text(told) if isinstance(told, str) and not isinstance(told, AsTyped) else told


def _text(text: str) -> str:
    """Say a text; where a long word of it may break, one of the other language may too."""
    bare = text.replace(ZERO_WIDTH_SPACE, "")
    said = says(bare)
    return text if said is None else said if bare == text else breakable(said)
