"""Which way the plus of a document points, from the words over its column: whole words that are known, or a refusal.

A part of a word never decides: "table heavy" says nothing, and "tail-heavy (-)" speaks of the minus.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Iterator
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.files.shown import shown

TAIL_HEAVY, NOSE_HEAVY, REMARK = "tail-heavy", "nose-heavy", ""
LONGEST = 200

# What documents print, in English, German and French; a hyphen or an apostrophe inside counts as a space.
PHRASES = {
    TAIL_HEAVY: (
        "tail heavy", "tail down", "trailing edge heavy", "trailing edge down", "te heavy", "te down",
        "underbalance", "underbalanced", "under balance", "under balanced",
        "hecklastig", "schwanzlastig", "hinterlastig", "hinterkante schwer", "hinterkante unten",
        "lourd à l arrière", "lourde à l arrière", "bord de fuite lourd", "bord de fuite en bas",
    ),
    NOSE_HEAVY: (
        "nose heavy", "nose down", "leading edge heavy", "leading edge down", "le heavy", "le down",
        "overbalance", "overbalanced", "over balance", "over balanced",
        "kopflastig", "buglastig", "nasenlastig", "vorderlastig", "nasenkante schwer", "vorderkante unten",
        "lourd à l avant", "lourde à l avant", "bord d attaque lourd", "bord d attaque en bas",
    ),
    # Whoever copies a page that leaves the sense to its reader says so, and by what they took it.
    REMARK: ("not stated", "not printed", "by sense", "from the context"),
}  # fmt: skip
# What may stand beside them and turns nothing; a word that is not here is not understood.
BESIDE = {
    "+", "(", ")", "[", "]", "=", ":", ",", ";", ".",
    "plus", "positive", "is", "are", "means", "when", "if", "the", "a", "static", "moment", "moments", "balance",
    "positiv", "ist", "wenn", "bei", "das", "ein", "statisches", "positif", "est", "si", "le", "un", "statique",
}  # fmt: skip
OF_THE_MINUS = {"-", "−", "–", "±", "minus", "negative", "negativ", "négatif", "négative", "moins"}
_JOINED = re.compile(r"(?<=[^\W\d_])[-\u2010\u2011\u2013'\u2019](?=[^\W\d_])")
_SHORTENED = re.compile(r"\b([tl])\. ?e\b\.?")
# "tail heavy (printed: trailing edge load positive)": what is quoted off the page is for people to read.
_QUOTED = re.compile(r"\((?:printed|gedruckt|imprimé) ?:[^()]*\)")
_WORD = re.compile(r"[^\W\d_]+|\S")
_PHRASES = {tuple(phrase.split()): sense for sense, phrases in PHRASES.items() for phrase in phrases}
_LONGEST_PHRASE = max(map(len, _PHRASES))
_EXAMPLES = "tail heavy, trailing edge down, underbalance, nose heavy, overbalance"


def sense_of(value: Any) -> str:
    """Say which way a document's plus points, from the words that stand over its column.

    Raises
    ------
    InputRefused
        The words say neither or both, speak of the minus, or hold one that is not known here; or what they quote off
        the page says the other way.
    """
    text = _lowered(value) if isinstance(value, str) and len(value) <= LONGEST else ""
    words = _words(_QUOTED.sub(_minus_in, text))
    found = set(_found(words)) - {REMARK}
    if len(found) == 1 and None not in found and _senses_quoted(text) <= found:
        return str(found.pop())
    remedy = f"Say what the document's plus means, in these words alone: {_EXAMPLES}."
    if OF_THE_MINUS.intersection(words):
        remedy = f"It speaks of the minus. {remedy}"
    raise InputRefused.of("", shown(value), "tail-heavy or nose-heavy", remedy)


def _lowered(text: str) -> str:
    return unicodedata.normalize("NFC", text).lower()


def _words(text: str) -> list[str]:
    return _WORD.findall(_JOINED.sub(" ", _SHORTENED.sub(r"\1e", text)))


def _senses_quoted(text: str) -> set[str | None]:
    """Give the senses of the phrases in quotations; words that are not known decide nothing there."""
    return {sense for quoted in _QUOTED.findall(text) for sense in _found(_words(quoted))} - {None, REMARK}


def _minus_in(quoted: re.Match[str]) -> str:
    """Leave a quotation out, but for a minus in it: that may be the other way round."""
    return " - " if OF_THE_MINUS.intersection(_WORD.findall(_JOINED.sub(" ", quoted[0]))) else " "


def _found(words: list[str]) -> Iterator[str | None]:
    """Give the sense of each phrase, nothing for a remark; None for each word that is not understood."""
    at = 0
    while at < len(words):
        length = _phrase_length(words[at : at + _LONGEST_PHRASE])
        if length:
            yield _PHRASES[tuple(words[at : at + length])]
        elif words[at] not in BESIDE:
            yield None
        at += length or 1


def _phrase_length(words: list[str]) -> int:
    return next((length for length in range(len(words), 0, -1) if tuple(words[:length]) in _PHRASES), 0)
