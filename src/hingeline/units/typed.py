"""A number in SI that remembers how it was typed."""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from typing import NoReturn

from hingeline.units.catalogue import STANDARD_GRAVITY, Unit, key_of, si_in, units_by_key


class Typed(float):
    """An SI value, equal to its float in every way, with the text it came from.

    Arithmetic gives plain floats: a sum was not typed by anybody.

    Parameters
    ----------
    value : float
        The value [SI].
    text : str
        As typed, spaces around it left out.
    number : str
        The plain number, whose product with the unit is the value: a nose-heavy moment has a minus here.
    unit : str
        The unit, as the table spells it.
    dimension : str
        Such as ``"length"``.
    local_gravity : float or None
        The gravity used [m/s^2]; None where the unit does not depend on it.
    """

    __slots__ = ("dimension", "local_gravity", "number", "text", "unit")

    text: str
    number: str
    unit: str
    dimension: str
    local_gravity: float | None

    def __new__(
        cls,
        value: float,
        *,
        text: str,
        number: str,
        unit: str,
        dimension: str,
        local_gravity: float | None = None,
    ) -> Typed:
        """Make one; ``read`` is the usual way."""
        made = super().__new__(cls, value)
        given = {
            "text": text,
            "number": number,
            "unit": unit,
            "dimension": dimension,
            "local_gravity": local_gravity,
        }
        for name, content in given.items():
            object.__setattr__(made, name, content)
        return made

    def __setattr__(self, name: str, value: object) -> NoReturn:
        """Refuse: what was typed stays as it was typed."""
        raise AttributeError(f"{name}: a typed quantity cannot be changed")

    def __delattr__(self, name: str) -> NoReturn:
        """Refuse: what was typed stays as it was typed."""
        raise AttributeError(f"{name}: a typed quantity cannot be changed")

    def __reduce__(self) -> tuple[Callable[..., Typed], tuple[object, ...]]:
        """Say how to copy or unpickle it."""
        gravity = self.local_gravity
        return _rebuilt, (float(self), self.text, self.number, self.unit, self.dimension, gravity)

    def in_own_unit(self, si: float) -> float:
        """Express an SI value in the unit that this one was typed in.

        Parameters
        ----------
        si : float
            A value of the same dimension [SI].

        Returns
        -------
        float
            The value in ``unit``, with the same local gravity.
        """
        return float(Fraction(si) / self._si_in_unit())

    @property
    def last_digit(self) -> float:
        """One unit in the last printed digit [SI], positive; a zero before the point counts as printed."""
        digits, _, exponent = self.number.partition("e")
        places = len(digits.partition(".")[2])
        return float(Fraction(10) ** (int(exponent or 0) - places) * self._si_in_unit())

    def _unit(self) -> Unit:
        return units_by_key(self.dimension)[key_of(self.unit)]

    def _si_in_unit(self) -> Fraction:
        return si_in(self._unit(), STANDARD_GRAVITY if self.local_gravity is None else self.local_gravity)


def _rebuilt(value: float, text: str, number: str, unit: str, dimension: str, local_gravity: float | None) -> Typed:
    return Typed(value, text=text, number=number, unit=unit, dimension=dimension, local_gravity=local_gravity)
