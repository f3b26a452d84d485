"""One phrase of the book: English with places in it, and what each language makes of it.

"{n1} inside the upper limit"      n: a number with its unit and sense, taken over as it stands
"No statement: {w1} is missing"    w: words that the book must know in turn
"Limits of {t1}"                   t: a name or a typed text, taken over as it stands
"{k1} is refused"                  k: said where the book knows it, and else taken over (a field's name)
"area of {s1}"                     s: the same within one sentence and without comma, semicolon or colon: one of a list
"""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from hingeline_app.said.plain_data import SENSES, is_data

PLACE = re.compile(r"\{([nwtks][0-9]?)\}")
# Places that take what stands there: neither looked up nor asked for a number.
VERBATIM = "ts"
NEXT_SENTENCE = re.compile(r"[.!?][ \u00a0]+[A-Z]")
WORD = re.compile(r"[A-Za-z][A-Za-z'-]+")

# Where a number is to stand, no word does: "the leading edge from 0" is not taken for one, the 0 is.
NO_WORD = (
    r"(?!(?!(?:m?rad|deg|fps|min|tail-heavy|nose-heavy|balanced)\b)[a-z]{3})"
    r"(?!(?:of|in|at|to|by|on|an|or|up|is|as)\b)"
)

Say = Callable[[str], str | None]


@dataclass(frozen=True)
class Phrase:
    """An English pattern and its translation."""

    english: str
    translation: str
    pattern: re.Pattern[str] = field(compare=False)

    @classmethod
    def of(cls, english: str, translation: str) -> Phrase:
        """Make the pattern that finds it."""
        return cls(english, translation, re.compile(_regular(english), re.DOTALL))

    @cached_property
    def words(self) -> frozenset[str]:
        """Give the words outside its places."""
        return frozenset(WORD.findall(PLACE.sub(" ", self.english)))

    @cached_property
    def pieces(self) -> list[str]:
        """Give what is fixed, between its places."""
        return PLACE.split(self.english)[::2]

    @cached_property
    def weight(self) -> int:
        """Tell how much of it is fixed: the phrase that fixes more is asked first."""
        return len(PLACE.sub("", self.english))

    @property
    def verbatim(self) -> int:
        """Count the places that take anything: the one with fewer is asked first, of two that fix as much."""
        return sum(name[0] not in "nw" for name in PLACE.findall(self.english))

    def says(self, text: str, say: Say, within_a_sentence: bool = False) -> str | None:
        """Give the translation of a sentence of this pattern; None where it is another, or a part is not known."""
        found = self.pattern.fullmatch(text)
        if found is None:
            return None
        if within_a_sentence and any(NEXT_SENTENCE.search(found[name]) for name in found.groupdict() if name[0] == "t"):
            return None
        parts = {name: _part(name, part, say) for name, part in found.groupdict().items()}
        known = {name: part for name, part in parts.items() if part is not None}
        return None if len(known) < len(parts) else filled(self.translation, known)


def filled(translation: str, parts: Mapping[str, str]) -> str:
    """Put the parts into their places."""
    return PLACE.sub(lambda place: parts[place[1]], translation)


def _part(name: str, part: str, say: Say) -> str | None:
    if name[0] == "s" and NEXT_SENTENCE.search(part):
        return None
    if name[0] in VERBATIM:
        return part
    if name.startswith("w"):
        return say(part)
    if name.startswith("k"):
        return say(part) or part
    return with_senses(part, say) if is_data(part) else None


def with_senses(data: str, say: Say) -> str:
    """Say the sense of a moment; every number stays as it is."""
    for sense in SENSES:
        data = data.replace(sense, say(sense) or sense) if sense in data else data
    return data


def _regular(english: str) -> str:
    written = ""
    for index, piece in enumerate(PLACE.split(english)):
        written += re.escape(piece) if index % 2 == 0 else _place(piece, written)
    return written.replace(r"\ ", "[ \u00a0]")


def _place(name: str, written: str) -> str:
    if f"(?P<{name}>" in written:
        return f"(?P={name})"
    if name[0] == "s":
        return f"(?P<{name}>[^,;:]+)"
    return f"(?P<{name}>{NO_WORD}.+?)" if name[0] == "n" else f"(?P<{name}>.+?)"
