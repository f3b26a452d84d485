"""What a number in a record means: its unit, written at the field."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Annotated


@dataclass(frozen=True, slots=True)
class Unit:
    """The unit of an annotated number.

    Parameters
    ----------
    symbol : str
        SI symbol, as it stands in documents.
    field : str
        Name of the sibling field that holds the symbol, where it can differ from record to record.
    moment : bool
        A signed moment, which carries "tail-heavy" or "nose-heavy".
    """

    symbol: str = ""
    field: str = ""
    moment: bool = False

    def of(self, record: object) -> str:
        """Give the symbol for a field of ``record``."""
        return str(getattr(record, self.field)) if self.field else self.symbol


Length = Annotated[float, Unit("m")]
Mass = Annotated[float, Unit("kg")]
Force = Annotated[float, Unit("N")]
Acceleration = Annotated[float, Unit("m/s^2")]
NewtonMetre = Annotated[float, Unit("N m")]
Moment = Annotated[float, Unit("N m", moment=True)]
OwnUnit = Annotated[float, Unit(field="unit")]


@dataclass(frozen=True, slots=True)
class Shown:
    """A value in the unit it is shown in, which need not be SI.

    Parameters
    ----------
    value : float
        In ``unit``.
    unit : str
        As it was typed.
    """

    value: float
    unit: str
