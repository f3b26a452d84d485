"""The sentences of the owner's sheet in the owner's language, with its decimal mark and its way to write a day."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache
from importlib.resources import files

from hingeline_app.said.french_marks import as_written_in

#: the languages in which a sheet can be printed, each by its own name
LANGUAGES = {"en": "English", "de": "Deutsch", "fr": "Français"}
DECIMAL = re.compile(r"(?<![\d.])(\d[\d\u202f]*)\.(\d+)(?![\d.]|\w)")
DAY = re.compile(r"\b(\d{4})-(\d{2})-(\d{2})\b")
DAYS = {"de": r"\3.\2.\1", "fr": r"\3/\2/\1"}
WRITTEN = re.compile(r"(>|aria-label=\")([^<>\"]+)(?=<|\")")
PLACE = re.compile(r"\{(t[0-9])\}")


@dataclass(frozen=True, slots=True)
class OwnersWords:
    """Writes in one language.

    Parameters
    ----------
    language : str
        One of :data:`LANGUAGES`; any other is English.
    """

    language: str = "en"

    def write(self, english: str, **parts: str) -> str:
        """Write a sentence with names, days and numbers in their places; they stand as they are given."""
        sentence = english if self.language not in DAYS else sentences()[english][self.language]
        return PLACE.sub(lambda place: parts[place[1]], as_written_in(self.language, sentence))

    def numbers(self, text: str) -> str:
        """Write decimal numbers with the language's mark; only for text of our own, never for what was typed."""
        return text if self.language not in DAYS else DECIMAL.sub(r"\1,\2", text)

    def days(self, text: str) -> str:
        """Write each day of a text as the language does: 2027-03-12, 12.03.2027, 12/03/2027."""
        return DAY.sub(DAYS.get(self.language, r"\g<0>"), text)

    def picture(self, svg: str) -> str:
        """Write the numbers of a picture; what draws it is left alone."""
        return WRITTEN.sub(lambda found: found[1] + self.numbers(found[2]), svg)


ENGLISH = OwnersWords()


@cache
def sentences() -> Mapping[str, Mapping[str, str]]:
    """Give what each sentence is in the other languages."""
    text = files("hingeline_app.report").joinpath("owner_sheet.toml").read_text(encoding="utf-8")
    return tomllib.loads(text)
