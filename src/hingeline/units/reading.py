"""Text to SI: a number, then a unit, then for a moment perhaps a word for its sense."""

from __future__ import annotations

import re
from fractions import Fraction

from hingeline.errors import InputRefused
from hingeline.units.catalogue import (
    STANDARD_GRAVITY,
    Unit,
    key_of,
    look_up,
    si_in,
    units_by_key,
    units_of,
    why_refused,
    words_for,
)
from hingeline.units.faults import cannot_be_seen, remedy_for, shortened
from hingeline.units.grammar import (
    EXPECTED_IN_A_FILE,
    EXPECTED_ON_A_PAGE,
    IN_A_FILE,
    ON_A_PAGE,
    SPACES,
    plain_number,
)
from hingeline.units.typed import Typed

LONGEST_TEXT = 200
"""Characters that a quantity may have; looked at before anything else is."""

# +1: tail-heavy, the sense that is positive everywhere inside.
SENSES = {
    "tail heavy": 1,
    "tail down": 1,
    "trailing edge heavy": 1,
    "trailing edge down": 1,
    "nose heavy": -1,
    "leading edge heavy": -1,
}


def read(
    text: str,
    dimension: str | tuple[str, ...],
    *,
    field: str = "",
    local_gravity: float = STANDARD_GRAVITY,
    page: bool = False,
) -> Typed:
    """Read a quantity: a number, then its unit.

    A moment in kg cm, in-lb and the like means the weight of a mass times an arm: it becomes
    N m with the local gravity, the same that turns mass readings into forces, so that gravity
    cancels between a reading and a limit. Units of force are the same everywhere: newtons, and
    kgf, kp, gf, lbf and ozf, alone or times an arm (kgf cm, lbf in), which are exact
    multiples of the newton (standard gravity). A moment may end in a word for its sense,
    such as "nose-heavy", which makes it negative.

    Parameters
    ----------
    text : str
        As typed: ``"255 mm"``, ``"12.6in"``, ``"0.2 in-lb nose-heavy"``.
    dimension : str or tuple of str
        What it must be; of several, the first that knows the unit.
    field : str
        Where it stands, for the refusal.
    local_gravity : float
        Acceleration of free fall at the place of weighing [m/s^2].
    page : bool
        Whether the number follows the grammar of pages instead of that of files.

    Returns
    -------
    Typed
        The value [SI], the float nearest to the exact product of number and factor.

    Raises
    ------
    InputRefused
        With one refusal that says how to mend it.

    Notes
    -----
    value = number x factor (x local gravity). Factors and their sources: ``table.toml``
    beside this file (SI Brochure, 9th edition; NIST SP 811 (2008), appendix B).

    Examples
    --------
    >>> from hingeline.units import read
    >>> read("255 mm", "length")
    0.255
    >>> reading = read("0.2 in-lb nose-heavy", "moment")
    >>> round(reading, 6), reading.unit, reading.number
    (-0.022597, 'in-lb', '-0.2')
    """
    asked = (dimension,) if isinstance(dimension, str) else dimension
    if not isinstance(text, str):
        raise InputRefused.of(
            field, text, _expected(asked), f"Put it in quotes, with its unit, as in {_example(asked)}."
        )
    try:
        return _read(text.strip(SPACES), asked, local_gravity, page)
    except _Fault as fault:
        raise InputRefused.of(field, shortened(text), fault.expected or _expected(asked, page), fault.remedy) from None


class _Fault(Exception):
    def __init__(self, remedy: str, expected: str | None = None) -> None:
        self.remedy, self.expected = remedy, expected


def _read(text: str, asked: tuple[str, ...], local_gravity: float, page: bool) -> Typed:
    if len(text) > LONGEST_TEXT:
        raise _Fault(f"It is too long: write at most {LONGEST_TEXT} characters.")
    number, rest = _split(text, page)
    unit, sense = _unit_and_sense(rest, asked)
    if sense and number.startswith("-"):
        raise _Fault("A minus and a word for the sense could cancel each other: write the word, and no minus.")
    turned = sense == -1 and Fraction(number) != 0
    signed = "-" + number if turned else number
    gravity = float(local_gravity) if unit.gravitational else None
    value = float(Fraction(signed) * si_in(unit, local_gravity))
    return Typed(value, text=text, number=signed, unit=unit.spelling, dimension=unit.dimension, local_gravity=gravity)


def _split(text: str, page: bool) -> tuple[str, str]:
    """Part the plain number from what follows it."""
    begin = (ON_A_PAGE if page else IN_A_FILE).match(text)
    number = plain_number(begin.group(), page=page) if begin else None
    if begin is None or number is None or _runs_on(text, text[begin.end() :]):
        expected = EXPECTED_ON_A_PAGE if page else EXPECTED_IN_A_FILE
        raise _Fault(remedy_for(_number_part(text), page=page), f"{expected}, then its unit")
    return number, text[begin.end() :].strip(SPACES)


def _runs_on(text: str, rest: str) -> bool:
    """Whether the number does not end where the grammar ended it: 1_000, 3 1/4, 0x10, 1e400."""
    first = rest.lstrip(SPACES)[:1]
    if not first or why_refused(rest.strip(SPACES)):
        return False
    if re.match(r"[eE][+\-\u2212]?[0-9]", rest) or re.match(r"[+\-\u2212]?0(?:[xX][0-9A-Fa-f]|[bBoO][0-9])", text):
        return True
    if re.match(rf"[{SPACES}]+1/[a-z]", rest):  # the unit 1/min
        return False
    if first.isnumeric() or cannot_be_seen(first) or first in ".,_'\u2019/+\u00b1":
        return True
    return bool(re.match(r" ?[\-\u2013\u2212] ?[0-9]", rest))


def _number_part(text: str) -> str:
    """Cut out what was meant to be the number, to say what is wrong with it."""
    token = text.split(" ")[0]
    if re.match(r"[+\-\u2212]?0[xXbBoO]", token):
        return token
    part = re.match(r"[^A-Za-z\u00b5\u03bc\u00b0%]*(?:[eE][+\-\u2212]?[0-9]+)?", text)
    return (part.group().rstrip(SPACES) if part else "") or token


def _unit_and_sense(rest: str, asked: tuple[str, ...]) -> tuple[Unit, int]:
    if not rest:
        raise _Fault(f"The number has no unit: write it after the number, as in {_example(asked)}.")
    for character in rest:
        if character not in SPACES and cannot_be_seen(character):
            raise _Fault(f"It holds a character that cannot be seen, U+{ord(character):04X}: type it again by hand.")
    key, sense = _part_sense(key_of(rest))
    for dimension in asked:
        unit = units_by_key(dimension).get(key)
        if unit is not None and sense and dimension not in ("moment", "mass_moment"):
            raise _Fault("A word for the sense belongs to a moment: leave it out here.")
        if unit is not None:
            return unit, sense
    raise _Fault(_unit_remedy(key, rest, asked))


def _part_sense(key: str) -> tuple[str, int]:
    lowered = key.lower()
    for words, sense in SENSES.items():
        if lowered.endswith(" " + words):
            return key[: -len(words) - 1], sense
    return key, 0


def _unit_remedy(key: str, rest: str, asked: tuple[str, ...]) -> str:
    """Say what is wrong with a unit that none of the asked dimensions knows."""
    on_purpose = why_refused(key) or why_refused(rest)
    if on_purpose:
        return on_purpose
    if re.search(r"[A-Za-z'\"] *[+-]?[0-9]+(?:\.[0-9]+)? *[A-Za-z'\"]", rest) and not look_up(key):
        return "Write one number in one unit, not two added up: 2.1875 lb for 2 lb 3 oz."
    others = look_up(key)
    if others:
        return f"{shortened(rest)} is {words_for(others[0].dimension)}; {_wanted(asked)} is expected."
    return f'The unit "{shortened(rest)}" is not known.{_strange_letter(rest)}{_nearest(key, asked)}'


def _strange_letter(rest: str) -> str:
    strange = [letter for letter in rest if not letter.isascii() and letter not in "\u00b5\u03bc\u00b0²³·\u22c5√"]
    return f" It holds the character U+{ord(strange[0]):04X}." if strange else ""


def _nearest(key: str, asked: tuple[str, ...]) -> str:
    from difflib import get_close_matches  # only a refusal pays for it

    known = {other.lower(): unit.spelling for dimension in asked for other, unit in units_by_key(dimension).items()}
    near = dict.fromkeys(known[other] for other in get_close_matches(key.lower(), known, n=3, cutoff=0.6))
    return f" Did you mean {' or '.join(near)}?" if near else " Write one of those listed."


def _wanted(asked: tuple[str, ...]) -> str:
    return " or ".join(words_for(dimension) for dimension in asked)


def _expected(asked: tuple[str, ...], page: bool = False) -> str:
    """Say what would be accepted, with every unit; quotes are for files."""
    listed = (f"{words_for(dimension)} in {', '.join(units_of(dimension))}" for dimension in asked)
    return ("a number with its unit: " if page else "a number with its unit, in quotes: ") + "; or ".join(listed)


def _example(asked: tuple[str, ...]) -> str:
    """Show how one is written; never with the number that was typed, whose unit nobody here knows."""
    return f'"12.6 {units_of(asked[0])[0]}"'
