"""The book of phrases of one language: finds a sentence, or the sentences a text is made of."""

from __future__ import annotations

import re
from collections import defaultdict
from collections.abc import Iterable, Mapping
from functools import lru_cache

from hingeline_app.said.french_marks import as_written_in, joint_in
from hingeline_app.said.phrase import NEXT_SENTENCE, PLACE, WORD, Phrase, with_senses
from hingeline_app.said.plain_data import is_data

# Where a text is made of several phrases, the coarsest joint first.
JOINTS = (
    re.compile(r"(\n+)"),
    re.compile(r"((?<=[.!?])[ \u00a0]+(?=[A-Z0-9\"±]))"),
    re.compile(r"( · | — | – )"),
    re.compile(r"(; )"),
    re.compile(r"(: )"),
    re.compile(r"(, )"),
)
DEEPEST = 6
# Pieces that are kept: a long text comes back to the same ones from every phrase that might fit.
MOST_KEPT = 1 << 12


class PhraseBook:
    """All phrases of one language."""

    def __init__(self, phrases: Mapping[str, str], language: str = "") -> None:
        self._language = language
        written = {english: as_written_in(language, said) for english, said in phrases.items()}
        self._fixed = {english: said for english, said in written.items() if not PLACE.search(english)}
        self._filled = _by_rarest_word(Phrase.of(*each) for each in written.items() if PLACE.search(each[0]))
        self._kept = lru_cache(MOST_KEPT)(self._found)

    def says(self, text: str, depth: int = 0) -> str | None:
        """Say a text; None where the book does not know every word of it."""
        return self._kept(text, depth)

    def _found(self, text: str, depth: int) -> str | None:
        bare = text.strip()
        if depth > DEEPEST or not bare:
            return None
        said = (
            self._data(bare)
            or self._one(bare, depth)
            or self._other_case(bare, depth)
            or self._joined(bare, depth)
            or (self._one(bare, depth, within_a_sentence=False) if NEXT_SENTENCE.search(bare) else None)
        )
        return None if said is None else text.replace(bare, said)

    def _data(self, text: str) -> str | None:
        return with_senses(text, self._fixed.get) if is_data(text) else None

    def _one(self, text: str, depth: int, within_a_sentence: bool = True) -> str | None:
        """Find a text that is one phrase; at first no name in it may run over the end of a sentence."""
        plain = text.replace("\u00a0", " ")
        fixed = self._fixed.get(plain)
        if fixed is not None:
            return fixed
        words = set(WORD.findall(text))
        found = [phrase for word in words for phrase in self._filled.get(word, ())] + self._filled.get("", [])
        fitting = (each for each in found if all(piece in plain for piece in each.pieces))
        for phrase in sorted(fitting, key=lambda each: (-each.weight, each.verbatim)):
            said = phrase.says(text, lambda part: self.says(part, depth + 1), within_a_sentence)
            if said is not None:
                return said
        return None

    def _other_case(self, text: str, depth: int) -> str | None:
        """Find a phrase whose first letter the page made large, or that opens with a name in the middle of another."""
        if text[0].isupper():
            said = self._one(text[0].lower() + text[1:], depth)
            return said and said[0].upper() + said[1:]
        return None

    def _joined(self, text: str, depth: int) -> str | None:
        """Say a text of several phrases: all of them, or none."""
        for joint in JOINTS:
            pieces = joint.split(text)
            if len(pieces) > 1:
                said = [
                    joint_in(self._language, piece) if index % 2 else self._piece(piece, depth)
                    for index, piece in enumerate(pieces)
                ]
                if all(each is not None for each in said):
                    return "".join(each or "" for each in said)
        return self._with_its_stop(text, depth)

    def _piece(self, piece: str, depth: int) -> str | None:
        return self.says(piece, depth + 1) if piece.strip() else piece

    def _with_its_stop(self, text: str, depth: int) -> str | None:
        """Say a phrase that was closed as a sentence, or set in brackets."""
        if text[-1] in ".:;," and len(text) > 1:
            said = self.says(text[:-1], depth + 1)
            return said and said + joint_in(self._language, text[-1])
        if text[0] == "(" and text[-1] == ")":
            said = self.says(text[1:-1], depth + 1)
            return said and f"({said})"
        return None


def _by_rarest_word(phrases: Iterable[Phrase]) -> dict[str, list[Phrase]]:
    """File each phrase under the word of it that fewest others have: a text asks only for its own words."""
    listed = list(phrases)
    counts: dict[str, int] = defaultdict(int)
    for phrase in listed:
        for word in phrase.words:
            counts[word] += 1
    filed: dict[str, list[Phrase]] = defaultdict(list)
    for phrase in listed:
        filed[min(phrase.words, key=lambda word: (counts[word], word), default="")].append(phrase)
    return dict(filed)
