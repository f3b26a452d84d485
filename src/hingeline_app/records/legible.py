"""Names and remarks that a person can read as they stand: no unseen characters, no letters of two scripts in one mark.

Two scripts in one registration or licence number are refused after the idea of Unicode
Technical Standard 39 (mixed-script detection); the script is read from the character's name.
"""

from __future__ import annotations

import unicodedata

from hingeline.errors import InputRefused

UNSEEN = ("Cc", "Cf", "Cs", "Co", "Cn", "Zl", "Zp")
LONGEST_NAME, LONGEST_REMARK = 120, 2000


def legible(field: str, text: object, *, longest: int = LONGEST_NAME, needed: bool = True) -> str:
    """Give a text as it is kept: composed (NFC), without spaces around it.

    Raises
    ------
    InputRefused
        It is missing, too long, no text, or holds a character that cannot be seen.
    """
    if not isinstance(text, str):
        raise InputRefused.of(field, text, "a text", "Write it as a text.")
    composed = unicodedata.normalize("NFC", text).strip()
    if needed and not composed:
        raise InputRefused.of(field, text, "a text", "It is missing: write it.")
    if len(composed) > longest:
        remedy = f"It has {len(composed)}: shorten it."
        raise InputRefused.of(field, composed[:60] + "…", f"at most {longest} characters", remedy)
    for letter in composed:
        if unicodedata.category(letter) in UNSEEN:
            raise InputRefused.of(field, _marked(composed), "characters that can be seen", _take_out(letter))
    return composed


def remark(field: str, text: object, *, needed: bool = False) -> str:
    """Give a longer text; its lines are kept.

    Raises
    ------
    InputRefused
        As for :func:`legible`.
    """
    lines = text.replace("\r\n", "\n").split("\n") if isinstance(text, str) else [text]
    kept = "\n".join(legible(field, line, longest=LONGEST_REMARK, needed=False) for line in lines).strip()
    return legible(field, kept.replace("\n", " "), longest=LONGEST_REMARK, needed=needed) and kept


def mark(field: str, text: object, *, needed: bool = True) -> str:
    """Give a registration, a licence or a serial number: capitals, one script.

    Raises
    ------
    InputRefused
        As for :func:`legible`, or it mixes letters of two scripts.
    """
    read = legible(field, text, longest=60, needed=needed).upper()
    scripts = {script: letter for letter in reversed(read) if (script := script_of(letter))}
    if len(scripts) > 1:
        strange = next(letter for script, letter in scripts.items() if script != "LATIN")
        remedy = f'"{strange}" is U+{ord(strange):04X}, {unicodedata.name(strange)}: type it again.'
        raise InputRefused.of(field, read, "letters of one script", remedy)
    return read


def script_of(letter: str) -> str:
    """Give the script of a letter; nothing for digits and signs, which all scripts share."""
    return unicodedata.name(letter, "UNKNOWN").split()[0] if letter.isalpha() else ""


def skeleton(text: str) -> str:
    """Give a name as the eye takes it, so that two that look alike can be asked about."""
    parts = unicodedata.normalize("NFKD", text).casefold()
    return "".join(letter for letter in parts if letter.isalnum())


def _marked(text: str) -> str:
    return "".join(f"‹U+{ord(each):04X}›" if unicodedata.category(each) in UNSEEN else each for each in text)[:200]


def _take_out(letter: str) -> str:
    return f"Take out the character U+{ord(letter):04X}."
