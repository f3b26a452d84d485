"""What is wrong with a number that was refused, and how to mend it.

Nothing here decides whether a number is accepted; it only finds the sentence
that helps most. A sentence may show a number to type, never uses it.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Callable
from fractions import Fraction

LONGEST_SHOWN = 80

Finder = Callable[[str, bool], "str | None"]


def shortened(text: str) -> str:
    """Make a text fit to be repeated: cut if long, with characters that cannot be seen spelled out."""
    cut = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "…"
    return "".join(f"\\u{ord(character):04x}" if cannot_be_seen(character) else character for character in cut)


def cannot_be_seen(character: str) -> bool:
    """Whether a character is a control, a line's end, a zero-width mark, half a pair, or no character at all."""
    return unicodedata.category(character) in {"Cf", "Cc", "Co", "Cn", "Cs", "Zl", "Zp"}


def remedy_for(text: str, *, page: bool) -> str:
    """Say how to mend a number that the grammar refuses.

    Parameters
    ----------
    text : str
        The number as typed, without spaces around it.
    page : bool
        Which grammar refused it.

    Returns
    -------
    str
        A sentence.
    """
    found = (finder(text, page) for finder in FINDERS)
    return next((sentence for sentence in found if sentence), "Write digits with one decimal point, such as 12.6.")


def _missing(text: str, page: bool) -> str | None:
    return None if text else "The number is missing: write it."


def _too_long(text: str, page: bool) -> str | None:
    return "It is too long: write at most 40 characters." if len(text) > 40 else None


def _not_a_number(text: str, page: bool) -> str | None:
    if text.lstrip("+-\u2212").lower() not in {"nan", "inf", "infinity", "∞"}:
        return None
    return "That is not a number we can weigh with: write what was measured, or leave the entry out."


def _no_digits(text: str, page: bool) -> str | None:
    if any(character.isnumeric() for character in text):
        return None
    return "There is no number at its beginning: write digits with one decimal point, such as 12.6."


def _strange_digits(text: str, page: bool) -> str | None:
    if any(not character.isascii() and character.isnumeric() for character in text):
        return "Use the plain digits 0 to 9 and write it out as a decimal."
    return None


def _invisible(text: str, page: bool) -> str | None:
    for character in text:
        if cannot_be_seen(character):
            return f"It holds a character that cannot be seen, U+{ord(character):04X}: type it again by hand."
    return None


def _other_bases(text: str, page: bool) -> str | None:
    if re.match(r"[+\-\u2212]?0(?:[xX][0-9A-Fa-f]|[bBoO][0-9])", text):
        return "Use plain digits: a decimal number, not a hexadecimal, octal or binary one."
    return None


def _underscore(text: str, page: bool) -> str | None:
    return f"Leave the underscore out: {text.replace('_', '')}." if "_" in text else None


def _fraction(text: str, page: bool) -> str | None:
    fraction = re.fullmatch(r"([+\-\u2212]?)(?:([0-9]{1,4})[ \-])? ?([0-9]{1,4}) ?/ ?([0-9]{1,4})", text)
    if fraction is None:
        return None
    sign, whole, above, below = fraction.groups()
    if int(below) == 0:
        return "Nothing can be divided by 0: write the decimal number."
    value = int(whole or 0) + Fraction(int(above), int(below))
    if 10**6 % value.denominator:
        return "Fractions are not read: write it as a decimal number."
    decimal = f"{sign.replace(chr(0x2212), '-')}{float(value):g}"
    return f"Fractions are not read: write {decimal}, with the unit after it."


def _grouping(text: str, page: bool) -> str | None:
    marked = re.fullmatch(r"[+\-\u2212]?[0-9]{1,3}(?:[ \u00a0\u2007\u2009\u202f'\u2019][0-9]{3})+(?:[.,][0-9]*)?", text)
    if marked is None and not ("." in text and "," in text) and text.count(",") < 2:
        return None
    return "It has a thousands mark: leave that out, and write one decimal point only."


def _comma(text: str, page: bool) -> str | None:
    comma = re.fullmatch(r"([+\-\u2212]?[0-9]+),([0-9]+)", text)
    if page or comma is None:
        return None
    before, after = comma.groups()
    if len(after) == 3:
        return (
            f"A comma can be read in two ways: write {before}.{after} if it is the decimal mark, "
            f"{before}{after} if it parts the thousands."
        )
    return f"Write the decimal mark as a point: {before}.{after}."


def _exponent(text: str, page: bool) -> str | None:
    if not re.fullmatch(r"[+\-\u2212]?[0-9.,]+[eE][+\-\u2212]?[0-9]+", text):
        return None
    if page:
        return "Use plain digits: write the number out, without an exponent."
    return "The exponent may have two digits at most: no measured quantity is as large or small as that."


def _sign(text: str, page: bool) -> str | None:
    if re.match(r"[+\-\u2212][ +\-\u2212]", text):
        return "Write one sign at most, directly before the digits."
    return None


def _range(text: str, page: bool) -> str | None:
    if "±" in text or "+/-" in text:
        return "Write the value alone: its uncertainty has an entry of its own."
    if re.match(r"[0-9.,]+ ?[\-\u2013\u2212] ?[0-9.,]+", text):
        return "Write one number, not a range."
    return None


def _decimal_mark(text: str, page: bool) -> str | None:
    if text.count(".") > 1:
        return "It has more than one decimal point: write one only."
    if re.fullmatch(r"[+\-\u2212]?[0-9]+[.,]", text):
        return f"It ends in its decimal mark: a digit may be missing. Write {text[:-1]} or {text[:-1]}.0."
    return None


def _digits_on_a_page(text: str, page: bool) -> str | None:
    if page and re.fullmatch(r"[+\-\u2212]?[0-9]*[.,]?[0-9]*", text) and text.strip("+-\u2212.,"):
        return "Write at most 9 digits before the decimal mark and 9 after it."
    return None


def _spaces_inside(text: str, page: bool) -> str | None:
    if re.match(r"[+\-\u2212]?[0-9.,]+ +[0-9]", text):
        return "Write one number, without spaces inside it."
    return None


FINDERS: tuple[Finder, ...] = (
    _missing,
    _too_long,
    _not_a_number,
    _invisible,
    _no_digits,
    _strange_digits,
    _other_bases,
    _underscore,
    _fraction,
    _grouping,
    _comma,
    _exponent,
    _sign,
    _range,
    _decimal_mark,
    _digits_on_a_page,
    _spaces_inside,
)
