"""SI to text: values in a reader's unit, and the words for a moment's sense."""

from __future__ import annotations

from fractions import Fraction
from math import isfinite

from hingeline.errors import InputRefused
from hingeline.units.catalogue import STANDARD_GRAVITY, Unit, key_of, look_up, si_in, units_by_key, words_for


def express(
    value_si: float, unit: str, local_gravity: float = STANDARD_GRAVITY, *, dimension: str | None = None
) -> float:
    """Express an SI value in another unit.

    Parameters
    ----------
    value_si : float
        The value [SI].
    unit : str
        Any spelling of the unit.
    local_gravity : float
        Acceleration of free fall [m/s^2], for moments in kg cm, in-lb and the like.
    dimension : str, optional
        Needed where the unit's name means two things, such as kg cm: ``"moment"`` or ``"mass_moment"``.

    Returns
    -------
    float
        The number of units, the float nearest to the exact quotient.

    Raises
    ------
    InputRefused
        If the unit is not known, or means two things and ``dimension`` is not given.
    ValueError
        If the value is not finite.

    Examples
    --------
    >>> from hingeline.units import express
    >>> express(0.255, "mm")
    255.0
    >>> round(express(0.0294, "kg cm", dimension="moment"), 3)
    0.3
    """
    _finite(value_si)
    return float(Fraction(value_si) / si_in(_the_unit(unit, dimension), local_gravity))


def write(value: float, unit: str, *, digits: int | None = None, decimals: int | None = None) -> str:
    """Write a number and its unit, as ``read`` reads them.

    Parameters
    ----------
    value : float
        The number of units (not SI: see ``express``).
    unit : str
        Written as given.
    digits : int, optional
        Significant digits. Without it and ``decimals``: as many as bring the same float back.
    decimals : int, optional
        Digits after the point, for a value that is shown as finely as its uncertainty.

    Returns
    -------
    str
        With a decimal point, an ASCII minus, and no exponent where none is needed. Zero has no sign.

    Raises
    ------
    ValueError
        If the value is not finite: what does not exist is not written as a number.

    Examples
    --------
    >>> from hingeline.units import write
    >>> write(12.6, "in-lb"), write(0.44613, "N m", digits=2), write(-0.001, "N m", decimals=2)
    ('12.6 in-lb', '0.45 N m', '0.00 N m')
    """
    _finite(value)
    return f"{_digits(float(value), digits, decimals)} {unit}"


def sense_word(moment: float) -> str:
    """Say which way a moment acts.

    Parameters
    ----------
    moment : float
        Moment about the hinge line [any unit], positive where the trailing edge goes down.

    Returns
    -------
    str
        "tail-heavy", "nose-heavy", or "balanced" for exactly 0 only.

    Raises
    ------
    ValueError
        If it is not finite.

    Examples
    --------
    >>> from hingeline.units import sense_word
    >>> sense_word(-0.02)
    'nose-heavy'
    """
    _finite(moment)
    return "balanced" if moment == 0 else "tail-heavy" if moment > 0 else "nose-heavy"


def _finite(value: float) -> None:
    if not isfinite(value):
        raise ValueError(f"{value!r} is not a finite number, and has no size in any unit")


def _the_unit(spelling: str, dimension: str | None) -> Unit:
    key = key_of(spelling)
    found = look_up(key) if dimension is None else tuple(filter(None, [units_by_key(dimension).get(key)]))
    if not found:
        what = "a unit of the table" if dimension is None else f"a unit of {words_for(dimension)}"
        raise InputRefused.of("unit", spelling, what, "Look at units_of(dimension) for the spellings.")
    if len({si_in(unit) for unit in found}) > 1:
        meanings = " or ".join(words_for(unit.dimension) for unit in found)
        raise InputRefused.of("unit", spelling, "a unit that means one thing", f"Give the dimension: {meanings}.")
    return found[0]


def _digits(value: float, digits: int | None, decimals: int | None) -> str:
    if decimals is not None:
        text = f"{value:.{decimals}f}"
    elif digits is not None:
        text = _plain(f"{value:.{digits - 1}e}")
    else:
        text = _plain(repr(value))
    return text if text.strip("-0.") else text.removeprefix("-")


def _plain(text: str) -> str:
    """Write out an exponent where that takes no more than a few zeros; digits are kept as they are."""
    number, mark, exponent = text.partition("e")
    power = int(exponent) if mark else 0
    if not mark:
        return number.removesuffix(".0")
    sign, unsigned = ("-", number[1:]) if number.startswith("-") else ("", number)
    whole, _, after = unsigned.partition(".")
    if not -7 < power < 15:
        return f"{number.removesuffix('.0')}e{power}"
    if power < 0:
        return f"{sign}0.{'0' * (-power - 1)}{whole}{after}"
    moved = after.ljust(power, "0")
    return sign + whole + moved[:power] + ("." + moved[power:] if moved[power:] else "")
