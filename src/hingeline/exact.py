"""The second reader: exact fractions of the typed text, in the typed units.

Every statement is computed twice. This is where the second way begins. It
shares no arithmetic and no constant with :mod:`hingeline.units`: there a unit
is looked up in a table of spellings, here it is taken apart into force and
length, and the constants are written out as exact fractions.

Sources of the constants: International System of Units, SI Brochure, 9th
edition (2019), and for yard and pound the agreement of 1959 as given in NIST
Special Publication 811 (2008), appendix B.6 and B.8 footnotes.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Protocol, TypeGuard

# The pound and the inch are exact by the agreement of 1959; gravity by the third General Conference, 1901.
_POUND = Fraction(45_359_237, 100_000_000)
_INCH = Fraction(254, 10_000)
_STANDARD_GRAVITY = Fraction(980_665, 100_000)

# Fifty digits of the circle's number, from memory and compared with arctangent series in the tests.
PI = Fraction("3.1415926535897932384626433832795028841971693993751")

_MASS = {
    "kg": Fraction(1),
    "g": Fraction(1, 1000),
    "mg": Fraction(1, 1_000_000),
    "lb": _POUND,
    "oz": _POUND / 16,
}
_FORCE = {
    "N": Fraction(1),
    "mN": Fraction(1, 1000),
    "cN": Fraction(1, 100),
    "daN": Fraction(10),
    "kN": Fraction(1000),
}
_WEIGHT_FORCE = {
    "kgf": Fraction(1),
    "kp": Fraction(1),
    "gf": Fraction(1, 1000),
    "lbf": _POUND,
    "ozf": _POUND / 16,
}
_LENGTH = {
    "m": Fraction(1),
    "dm": Fraction(1, 10),
    "cm": Fraction(1, 100),
    "mm": Fraction(1, 1000),
    "µm": Fraction(1, 1_000_000),
    "km": Fraction(1000),
    "in": _INCH,
    "ft": _INCH * 12,
    "mil": _INCH / 1000,
}
_ANGLE = {
    "deg": PI / 180,
    "rad": Fraction(1),
    "mrad": Fraction(1, 1000),
    "arcmin": PI / 10_800,
}
_ACCELERATION = {"m/s2": Fraction(1), "ft/s2": _INCH * 12}
_RATIO = {"%": Fraction(1, 100), "": Fraction(1)}

# What manuals also write for one name.
_SAME_NAME = {
    "lbs": "lb", "LB": "lb", "LBS": "lb", "pound": "lb", "pounds": "lb", "LBF": "lbf",
    "OZ": "oz", "ounce": "oz", "ounces": "oz", "OZF": "ozf",
    "IN": "in", "inch": "in", "inches": "in", "FT": "ft", "foot": "ft", "feet": "ft",
    "um": "µm", "\u03bcm": "µm", "mils": "mil", "thou": "mil",
    "degree": "deg", "degrees": "deg", "°": "deg", "percent": "%",
}  # fmt: skip

# Everything that may stand between two names: spaces, dots, hyphens, a star.
_SPACES = " \t\u00a0\u2007\u2009\u200a\u202f"
_BETWEEN = str.maketrans(dict.fromkeys(_SPACES + ".·\u22c5*-\u2010\u2011\u2212", " ") | {"²": "2", "^": ""})
_SENSE = {"nose": -1, "leading": -1, "tail": 1, "trailing": 1}
_DIGITS = frozenset("0123456789")


class WithText(Protocol):
    """A number that remembers how it was typed."""

    @property
    def text(self) -> str: ...  # noqa: D102
    @property
    def dimension(self) -> str: ...  # noqa: D102


class CannotRead(ValueError):
    """The second reader does not know a text that the first one read: our own fault."""


def fraction(value: float, local_gravity: Fraction = _STANDARD_GRAVITY) -> Fraction:
    """Give the exact SI value: of the typed text where there is one, else of the float itself.

    Parameters
    ----------
    value : float
        Plain, or one that remembers its text.
    local_gravity : Fraction
        Turns mass into force within a moment [m/s^2].

    Raises
    ------
    CannotRead
        The text is unknown here.
    """
    if was_typed(value):
        return _read(value.text, value.dimension, local_gravity)
    return Fraction(value)


def was_typed(value: object) -> TypeGuard[WithText]:
    """Whether the number remembers how it was typed."""
    # A protocol that isinstance looks into takes a third of a weighing's time in Python 3.11.
    return hasattr(value, "text") and hasattr(value, "dimension")


def _read(text: str, dimension: str, local_gravity: Fraction) -> Fraction:
    number, unit = _split(text.strip(_SPACES))
    names = unit.translate(_BETWEEN).split()
    if dimension == "moment":
        return number * _moment(names, local_gravity)
    return number * _simple("".join(names), dimension)


def _split(text: str) -> tuple[Fraction, str]:
    """Walk along the characters of the number; what is left is the unit.

    A page may have a comma as the decimal mark; nothing else that reaches this place holds one.
    """
    sign, place = 1, 0
    if text[:1] in ("-", "\u2212", "+"):
        sign, place = (1 if text[0] == "+" else -1), 1
    whole, place = _digits(text, place)
    part = ""
    if text[place : place + 1] in (".", ","):
        part, place = _digits(text, place + 1)
    power, place = _exponent(text, place)
    if not whole + part:
        raise CannotRead(text)
    scale = Fraction(10) ** (power - len(part))
    return sign * int(whole + part) * scale, text[place:]


def _digits(text: str, place: int) -> tuple[str, int]:
    end = place
    while end < len(text) and text[end] in _DIGITS:
        end += 1
    return text[place:end], end


def _exponent(text: str, place: int) -> tuple[int, int]:
    if text[place : place + 1] not in ("e", "E"):
        return 0, place
    start = place + 1
    negative = text[start : start + 1] in ("-", "\u2212")
    if text[start : start + 1] in ("-", "\u2212", "+"):
        start += 1
    digits, end = _digits(text, start)
    if not digits:
        return 0, place
    return (-int(digits) if negative else int(digits)), end


def _simple(unit: str, dimension: str) -> Fraction:
    plain_forces = _FORCE | {name: size * _STANDARD_GRAVITY for name, size in _WEIGHT_FORCE.items()}
    tables = {
        "mass": _MASS,
        "force": plain_forces,
        "length": _LENGTH,
        "angle": _ANGLE,
        "acceleration": _ACCELERATION,
        "ratio": _RATIO,
    }
    try:
        return tables[dimension][_SAME_NAME.get(unit, unit)]
    except KeyError:
        raise CannotRead(f"{unit!r} as a {dimension}") from None


def _moment(names: list[str], local_gravity: Fraction) -> Fraction:
    names, sense = _sense(names)
    one, other = (_SAME_NAME.get(name, name) for name in (names if len(names) == 2 else _run_together(names)))
    for force, length in ((one, other), (other, one)):
        size = _as_force(force, local_gravity)
        if size is not None and length in _LENGTH:
            return sense * size * _LENGTH[length]
    raise CannotRead(f"{names} as a moment")


def _sense(names: list[str]) -> tuple[list[str], int]:
    """Take the words for the sense off the end: "tail heavy", "trailing edge down"."""
    lowered = [name.lower() for name in names]
    if lowered[-1:] not in (["heavy"], ["down"]):
        return names, 1
    word = -3 if lowered[-2:-1] == ["edge"] else -2
    return names[:word], _SENSE[lowered[word]]


def _run_together(names: list[str]) -> tuple[str, str]:
    """Take apart what is written in one word, such as ``Ncm``, ``daNm`` or ``inlbs``."""
    known = {**_MASS, **_FORCE, **_WEIGHT_FORCE, **_LENGTH}
    unit = "".join(names)
    for cut in range(1, len(unit)):
        one, other = (_SAME_NAME.get(part, part) for part in (unit[:cut], unit[cut:]))
        if one in known and other in known and (one in _LENGTH) != (other in _LENGTH):
            return one, other
    raise CannotRead(f"{unit!r} as a moment")


def _as_force(name: str, local_gravity: Fraction) -> Fraction | None:
    if name in _FORCE:
        return _FORCE[name]
    if name in _WEIGHT_FORCE:
        return _WEIGHT_FORCE[name] * _STANDARD_GRAVITY
    return _MASS[name] * local_gravity if name in _MASS else None
