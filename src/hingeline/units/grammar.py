"""The one strict grammar of numbers: what a number may look like, in files and on pages.

Two grammars, because a job file is written once with care and a page is typed
with cold fingers. Neither lets through anything that two readers could take for
two numbers. Measured before: parsers at hand read ``1_000``, full-width digits,
``nan`` and a German ``0.213`` without a word.
"""

from __future__ import annotations

import re

from hingeline.errors import InputRefused
from hingeline.units.faults import remedy_for, shortened

LONGEST_NUMBER = 40
"""Characters that a number may have, spaces around it not counted."""

SPACES = " \t\u00a0\u2007\u2009\u200a\u202f"
"""Blank, tabulator, and the no-break and thin spaces that text programs put before a unit."""

# Alternatives that begin with different characters and bounded repeats: nothing here can run back and forth.
IN_A_FILE = re.compile(r"[+\-\u2212]?(?:[0-9]{1,40}(?:\.[0-9]{1,40})?|\.[0-9]{1,40})(?:[eE][+\-\u2212]?[0-9]{1,2})?")
ON_A_PAGE = re.compile(r"[+\-\u2212]?(?:[0-9]{1,9}(?:[.,][0-9]{1,9})?|[.,][0-9]{1,9})")

EXPECTED_IN_A_FILE = "a number such as -12.6 (digits 0 to 9, one decimal point)"
EXPECTED_ON_A_PAGE = "a number such as -12.6 or -12,6 (digits 0 to 9, one decimal point or comma)"


def number_text(text: str, *, field: str = "", page: bool = False) -> str:
    """Read a number as text, and give it back in plain form.

    In a file: a sign (``+``, ``-`` or U+2212), digits 0 to 9, one decimal point, an
    exponent of one or two digits; at most 40 characters. On a page: point or comma
    as the decimal mark, no exponent, at most nine digits before and nine after it.
    Spaces around the number do not count. Nothing refused is changed into
    something else.

    Parameters
    ----------
    text : str
        What was typed.
    field : str
        Where it stands, for the refusal.
    page : bool
        True for a page, False for a file.

    Returns
    -------
    str
        The same number in ASCII, with a point: ``"-1.5"``. Digits are kept as typed,
        trailing zeros too, since the last printed digit tells the resolution.

    Raises
    ------
    InputRefused
        With one refusal, whose remedy fits the fault.

    Examples
    --------
    >>> from hingeline.units import number_text
    >>> number_text("\u22121.50")
    '-1.50'
    >>> number_text("1,5", page=True)
    '1.5'
    """
    expected = EXPECTED_ON_A_PAGE if page else EXPECTED_IN_A_FILE
    if not isinstance(text, str):
        raise InputRefused.of(field, text, f"{expected}, as text", f"Put it in quotes: '{text}'.")
    plain = plain_number(text, page=page)
    if plain is None:
        raise InputRefused.of(field, shortened(text), expected, remedy_for(text.strip(SPACES), page=page))
    return plain


def plain_number(text: str, *, page: bool) -> str | None:
    """Give the plain form of a well-formed number, or None if it is not well-formed."""
    bare = text.strip(SPACES)
    grammar = ON_A_PAGE if page else IN_A_FILE
    if len(bare) > LONGEST_NUMBER or grammar.fullmatch(bare) is None:
        return None
    plain = bare.replace("\u2212", "-").replace(",", ".").removeprefix("+").replace("E", "e").replace("e+", "e")
    return re.sub(r"^(-?)\.", r"\g<1>0.", plain)
