"""Where French sets a space beside a mark, the line does not break there.

The files keep plain spaces, which people can type and see; the space that holds is put in when a text is read in.
A colon and the marks of a quotation take a whole space, the other marks a narrow one (common practice of French
typography, no source).
"""

from __future__ import annotations

import re

WHOLE, NARROW = "\u00a0", "\u202f"
BEFORE_A_COLON = re.compile(r" (?=:(?:\s|$))")
BEFORE_A_MARK = re.compile(r" (?=[;?!])")
IN_A_QUOTATION = re.compile(r"(?<=«) | (?=»)")


def with_french_spaces(text: str) -> str:
    """Give a French text with the spaces that hold at its marks."""
    whole = IN_A_QUOTATION.sub(WHOLE, BEFORE_A_COLON.sub(WHOLE, text))
    return BEFORE_A_MARK.sub(NARROW, whole)


def as_written_in(language: str, text: str) -> str:
    """Give a text as its language sets its marks; only French does it otherwise than English."""
    return with_french_spaces(text) if language == "fr" else text


def joint_in(language: str, joint: str) -> str:
    """Give what joins two phrases, or ends one: French has a space before a colon and a semicolon."""
    return with_french_spaces(f" {joint}") if language == "fr" and joint.strip() in {":", ";"} else joint
