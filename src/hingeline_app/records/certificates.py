"""Which certificate of a scale counted on a day, and whether it held: the one it has now, or one that it had before."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import date
from typing import Any

ENDED, NO_DATE, NOT_YET = "certificate ended", "certificate without a date", "certificate begins later"


@dataclass(frozen=True)
class Certificate:
    """A certificate of a scale.

    Parameters
    ----------
    name : str
    begins : date or None
        The day from which it counts; None where nobody entered it: then it is not known since when it counts.
    expires : date or None
        The last day on which it holds.
    uncertainty : mapping
        What it states, as in a job file's [uncertainty] table.
    """

    name: str
    begins: date | None
    expires: date | None
    uncertainty: Mapping[str, Any]

    def against(self, on: date) -> str:
        """Name what speaks against a weighing of that day; its first and its last day count."""
        if self.begins is not None and on < self.begins:
            return NOT_YET
        if self.expires is None:
            return NO_DATE
        return ENDED if self.expires < on else ""

    def as_data(self) -> dict[str, Any]:
        """Give it as plain data."""
        return {
            "certificate": self.name,
            "begins": self.begins.isoformat() if self.begins else None,
            "expires": self.expires.isoformat() if self.expires else None,
            "uncertainty": dict(self.uncertainty),
        }


def from_data(told: Mapping[str, Any]) -> Certificate:
    """Read a certificate from its plain data."""
    begins, expires = (date.fromisoformat(told[name]) if told.get(name) else None for name in ("begins", "expires"))
    return Certificate(str(told.get("certificate") or ""), begins, expires, told.get("uncertainty") or {})


def certificate_on(certificates: Sequence[Certificate], on: date) -> Certificate:
    """Give the one that counted on a day: a new one takes the place of the one before from its first day.

    Parameters
    ----------
    certificates : sequence of Certificate
        The newest first, at least one.

    Returns
    -------
    Certificate
        Where all began later, the oldest: it speaks against a weighing of that day.
    """
    begun = (each for each in certificates if each.begins is None or each.begins <= on)
    return next(begun, certificates[-1])
