"""What the checks of an arm refuse alike: numbers out of range and stated uncertainties."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from hingeline.errors import Refusal
from hingeline.uncertainty.stated import Stated

CHECK = "Check the number and its unit."
LONGEST, HEAVIEST = 10.0, 1000.0
SHORTEST, THINNEST = 1e-3, 1e-5
"""No arm, tube or bar is smaller, no gauge reads a thinner wall (common practice, no source) [m]."""
FIRMEST, STIFFEST = 1e10, 1e13
WEAKEST, SOFTEST = 1e6, 1e8
"""No arm is made of what yields below 1 MPa; more likely its unit was left out (common practice, no source) [Pa]."""
# What lies so much closer to 0 than to the largest is a slip, and what is divided by it would have no end.
SMALLEST_PART = 1e-15


def fault(field: str, value: object, expected: str, remedy: str) -> Refusal:
    """Refuse one value, shown as it was typed or with six digits."""
    shown = getattr(value, "text", value)
    return Refusal(field, f"{shown:.6g}" if type(shown) is float else str(shown), expected, remedy)


def above_zero(
    field: str, value: float, most: float, kind: str, unit: str, least: float | None = None
) -> Iterator[Refusal]:
    """Refuse what is not finite, not above 0, or out of all proportion."""
    if not (math.isfinite(value) and 0.0 < value <= most) or value < (SMALLEST_PART * most if least is None else least):
        yield fault(field, value, f"{kind} above 0 and up to {most:g} {unit}".rstrip(), CHECK)


def in_pascals(field: str, value: float, least: float, most: float, kind: str) -> Iterator[Refusal]:
    """Refuse a strength or a modulus that is not finite, or that no material has [Pa]."""
    if not (math.isfinite(value) and least <= value <= most):
        yield fault(field, value, f"{kind} from {least:g} to {most:g} Pa", CHECK)


def from_least(field: str, value: float, least: float, most: float, kind: str) -> Iterator[Refusal]:
    """Refuse a length [m] that is not finite, or out of all proportion at either end."""
    if not (math.isfinite(value) and least <= value <= most):
        yield fault(field, value, f"{kind} from {1e3 * least:g} mm to {most:g} m", CHECK)


def from_zero(field: str, value: float, most: float, kind: str, unit: str) -> Iterator[Refusal]:
    """Refuse what is not finite, negative, or out of all proportion."""
    if not (math.isfinite(value) and 0.0 <= value <= most):
        yield fault(field, value, f"{kind} from 0 to {most:g} {unit}".rstrip(), CHECK)


def one_of_words(field: str, word: str, known: Sequence[str]) -> Iterator[Refusal]:
    """Refuse a word that is none of those that are known: it would be taken for one of them."""
    if word not in known:
        yield fault(field, word, f"one of {', '.join(known)}", "Write one of these words.")


def stated_faults(field: str, stated: Stated | None, unit: str, value: float) -> Iterator[Refusal]:
    """Refuse an uncertainty in another unit, or one that is not smaller than a third of its value."""
    if stated is None:
        return
    if stated.unit not in (unit, "1"):
        shown = f"{stated.amount:g} {stated.unit}"
        yield fault(field, shown, f"an uncertainty in {unit}, or a part of the value", CHECK)
    elif not (math.isfinite(stated.amount) and stated.amount >= 0.0):
        yield fault(field, stated.amount, "an amount, 0 or more", "Give the size without a sign.")
    elif stated.shape == "expanded" and not 0.1 <= (stated.coverage_factor or 0.0) <= 10.0:
        yield fault(f"{field}.k", stated.coverage_factor, "a coverage factor between 0.1 and 10", "Mostly 2.")
    elif math.isfinite(value) and value > 0.0 and stated.of(value) > value / 3.0:
        remedy = "With an uncertainty of that size the number says nothing: measure again, or check the unit."
        yield fault(field, stated.amount, "a standard uncertainty up to a third of the value", remedy)
    freedom = stated.degrees_of_freedom
    if freedom is not None and not (math.isfinite(freedom) and 1.0 <= freedom <= 1e9):
        yield fault(f"{field}.degrees_of_freedom", freedom, "1 or more", "Leave it out if it is not limited.")
