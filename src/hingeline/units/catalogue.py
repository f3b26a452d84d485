"""The units that are known: the table beside this file, ready to be looked up."""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from functools import cache

from hingeline.tables import read_table

STANDARD_GRAVITY = 9.80665
"""Standard acceleration of free fall [m/s^2], exact: 3rd CGPM, 1901."""

# 50 digits, so that a degree is right to the last digit of a float. From memory; a test compares math.pi.
PI = Fraction("3.14159265358979323846264338327950288419716939937511")

_SAME = str.maketrans(
    {"\u03bc": "\u00b5", "²": "2", "³": "3", "\u22c5": "·", "\u00a0": " ", "\u2007": " ", "\u2009": " "}
    | {"\u200a": " ", "\u202f": " ", "\t": " ", "\u2010": "-", "\u2011": "-", "\u2212": "-"}
)
_LETTER = r"A-Za-z\u00b5\u00b0"
_SEPARATOR = re.compile(rf"(?<=[{_LETTER}0-9)])(?:\.? ?[·*-] ?|\. ?| )(?=[{_LETTER}(\u221a])")


@dataclass(frozen=True, slots=True)
class Unit:
    """One unit of one dimension.

    Parameters
    ----------
    spelling : str
        As it is written in results.
    dimension : str
        Such as ``"length"``.
    factor : str
        SI units in one of it, exact; for a gravitational unit kg m.
    pi : int
        The power of pi that multiplies the factor.
    gravitational : bool
        Whether the local gravity makes the factor complete.
    source : str
        Key of the source in the table.
    """

    spelling: str
    dimension: str
    factor: str
    pi: int
    gravitational: bool
    source: str


def si_in(unit: Unit, local_gravity: float = STANDARD_GRAVITY) -> Fraction:
    """Say how many SI units one of a unit is, exactly.

    The gravity is taken as the shortest decimal that prints as that float, which is
    what was typed: 9.80665 stands for 980665/100000.

    Parameters
    ----------
    unit : Unit
        The unit.
    local_gravity : float
        Acceleration of free fall at the place of weighing [m/s^2]; used by gravitational units only.

    Returns
    -------
    Fraction
        SI units in one of it.
    """
    factor = _factor(unit.factor, unit.pi)
    if not unit.gravitational:
        return factor
    if not 0.0 < local_gravity < float("inf"):
        raise ValueError(f"local_gravity = {local_gravity!r} m/s^2: it must be more than 0 and not endless")
    return factor * Fraction(repr(float(local_gravity)))


@cache
def _factor(text: str, pi: int) -> Fraction:
    above, _, below = text.partition("/")
    exact = Fraction(above) / Fraction(below or "1")
    return exact * PI**pi if pi else exact


def key_of(spelling: str) -> str:
    """Bring the spellings of one unit together: ``in-lb``, ``in.lb`` and ``in·lb`` become ``in lb``."""
    same = " ".join(spelling.translate(_SAME).replace("**", "^").split())
    bare = re.sub(r"\^(?=[0-9])", "", same)
    parted = _SEPARATOR.sub(" ", re.sub(r" ?/ ?", "/", bare))
    return parted[:-1] if parted.endswith(".") and len(parted) > 1 else parted


@cache
def units_by_key(dimension: str) -> dict[str, Unit]:
    """List what may be written for a dimension: key of the spelling, then the unit."""
    table = read_table("hingeline.units", "table.toml")["dimension"]
    if dimension not in table:
        raise ValueError(f'"{dimension}" is not a dimension that units knows: {", ".join(table)}')
    found: dict[str, Unit] = {}
    for row in table[dimension]["units"]:
        gravitational = row.get("gravity", False)
        unit = Unit(row["spelling"], dimension, row["factor"], row.get("pi", 0), gravitational, row["source"])
        found.update({key_of(spelling): unit for spelling in [row["spelling"], *row.get("also", [])]})
    return found


def dimensions() -> tuple[str, ...]:
    """Name every dimension, in the order of the table."""
    return tuple(read_table("hingeline.units", "table.toml")["dimension"])


def words_for(dimension: str) -> str:
    """Say what a dimension is called in a sentence: ``"a length"``."""
    units_by_key(dimension)
    return str(read_table("hingeline.units", "table.toml")["dimension"][dimension]["words"])


def units_of(dimension: str) -> tuple[str, ...]:
    """List the units of a dimension as they are written in results, commonest first.

    Parameters
    ----------
    dimension : str
        Such as ``"mass"``.

    Returns
    -------
    tuple of str
        The spellings.

    Examples
    --------
    >>> from hingeline.units import units_of
    >>> units_of("mass")
    ('kg', 'g', 'mg', 'lb', 'oz')
    """
    return tuple(dict.fromkeys(unit.spelling for unit in units_by_key(dimension).values()))


def look_up(key: str) -> tuple[Unit, ...]:
    """Find every unit that a key can mean, one a dimension at most."""
    found = (units_by_key(dimension).get(key) for dimension in dimensions())
    return tuple(unit for unit in found if unit is not None)


def why_refused(key: str) -> str | None:
    """Give the sentence for a unit that is refused on purpose, or None."""
    sentence = read_table("hingeline.units", "table.toml")["refused"].get(key)
    return None if sentence is None else str(sentence)
