"""Refusals that the rooms of this package share: no NaN, no infinity, nothing negative where none can be."""

from __future__ import annotations

import math
from collections.abc import Iterable

from hingeline.errors import InputRefused, Refusal

FINITE_REMEDY = "Give an ordinary number; what is not known is left out, not written as NaN or infinity."


def require_finite(field: str, value: float) -> float:
    """Return ``value`` unless it is NaN or infinite.

    Raises
    ------
    InputRefused
        Naming ``field`` and the value.
    """
    if not math.isfinite(value):
        raise InputRefused.of(field, value, "a finite number", FINITE_REMEDY)
    return value


def require_not_negative(field: str, value: float) -> float:
    """Return ``value`` unless it is NaN, infinite or below zero.

    Raises
    ------
    InputRefused
        Naming ``field`` and the value.
    """
    require_finite(field, value)
    if value < 0:
        raise InputRefused.of(field, value, "zero or a positive number", "An uncertainty has no sign.")
    return value


def require_positive(field: str, value: float, remedy: str) -> float:
    """Return ``value`` unless it is NaN, infinite, zero or below.

    Raises
    ------
    InputRefused
        Naming ``field`` and the value.
    """
    require_finite(field, value)
    if value <= 0:
        raise InputRefused.of(field, value, "a positive number", remedy)
    return value


def require_fraction(field: str, value: float) -> float:
    """Return a probability or coverage that lies strictly between 0 and 1.

    Raises
    ------
    InputRefused
        Naming ``field`` and the value.
    """
    if not 0 < value < 1:  # NaN fails this too
        raise InputRefused.of(field, value, "a number between 0 and 1, neither included", "Write 95 percent as 0.95.")
    return value


def require_degrees(field: str, value: float | None) -> float | None:
    """Return degrees of freedom: positive and finite, or None for not limited.

    Raises
    ------
    InputRefused
        Naming ``field`` and the value.
    """
    if value is None:
        return None
    return require_positive(field, value, "For degrees of freedom that are not limited, leave them out.")


def collect(checks: Iterable[tuple[bool, Refusal]]) -> None:
    """Raise one refusal with every fault whose flag is set.

    Raises
    ------
    InputRefused
        When at least one flag is set.
    """
    refusals = [refusal for faulty, refusal in checks if faulty]
    if refusals:
        raise InputRefused(refusals)
