"""What the rooms beside the weighing refuse alike: numbers out of range, arms, stated uncertainties, limits."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from hingeline.balance.checks import HEAVIEST, LARGEST_FORCE, LONGEST
from hingeline.errors import InputRefused, Refusal
from hingeline.uncertainty import Measured
from hingeline.uncertainty.stated import Stated

__all__ = ["HEAVIEST", "LARGEST_FORCE", "LONGEST"]

CHECK = "Check the number and its unit."


def refuse_all(refusals: Iterable[Refusal]) -> None:
    """Raise one error for all refusals, if there are any.

    Raises
    ------
    InputRefused
        With every one of them.
    """
    gathered = list(refusals)
    if gathered:
        raise InputRefused(gathered)


def fault(field: str, value: object, expected: str, remedy: str) -> Refusal:
    """Refuse one value, shown as it was typed or with six digits."""
    shown = getattr(value, "text", value)
    return Refusal(field, f"{shown:.6g}" if type(shown) is float else str(shown), expected, remedy)


def between(field: str, value: float, low: float, high: float, kind: str, unit: str) -> Iterator[Refusal]:
    """Refuse what is not finite, or not above ``low`` and up to ``high``."""
    if not (math.isfinite(value) and low < value <= high):
        in_unit = f" {unit}" if unit else ""
        yield fault(field, value, f"{kind} above {low:g} and up to {high:g}{in_unit}", CHECK)


def arm_faults(field: str, arm: float) -> Iterator[Refusal]:
    """Refuse an arm that is negative or far too long; on the hinge line is allowed."""
    if not math.isfinite(arm) or arm < 0.0:
        remedy = 'Give the distance without a sign; its direction goes into "side".'
        yield fault(field, arm, "a distance from the hinge line, 0 or more", remedy)
    elif arm > LONGEST:
        yield fault(field, arm, f"a distance up to {LONGEST:g} m", CHECK)


def coverage_faults(coverage: float) -> Iterator[Refusal]:
    """Refuse a coverage probability that nobody means."""
    if not (math.isfinite(coverage) and 0.5 <= coverage <= 0.9999):
        yield fault("coverage", coverage, "a probability between 0.5 and 0.9999", "95 % is 0.95.")


def stated_faults(field: str, stated: Stated | None, unit: str, largest: float) -> Iterator[Refusal]:
    """Refuse an uncertainty that is in another unit than ``unit``, or not smaller than ``largest``."""
    if stated is None:
        return
    if stated.unit not in (unit, "1"):
        shown = f"{stated.amount:g} {stated.unit}"
        yield fault(field, shown, f"an uncertainty in {unit}, or a part of the value", CHECK)
    elif not (math.isfinite(stated.amount) and stated.amount >= 0.0):
        yield fault(field, stated.amount, "an amount, 0 or more", "Give the size without a sign.")
    elif stated.amount > 0.0 and stated.amount >= (1.0 if stated.relative else largest):
        most = "100 %" if stated.relative else f"{largest:.6g} {unit}"
        remedy = "An uncertainty as large as the value says nothing: check both."
        yield fault(field, stated.amount, f"less than {most}", remedy)
    yield from _factor_faults(field, stated.coverage_factor, stated.degrees_of_freedom)


def _factor_faults(field: str, k: float | None, freedom: float | None) -> Iterator[Refusal]:
    if k is not None and not (math.isfinite(k) and 0.1 <= k <= 10.0):
        yield fault(f"{field}.k", k, "a coverage factor between 0.1 and 10", "Certificates state it, mostly 2.")
    if freedom is not None and not (math.isfinite(freedom) and 1.0 <= freedom <= 1e9):
        yield fault(f"{field}.degrees_of_freedom", freedom, "1 or more", "Leave it out if it is not limited.")


def measured_faults(field: str, measured: Measured | None, largest: float, unit: str) -> Iterator[Refusal]:
    """Refuse a measured value that is out of all proportion; NaN and infinity cannot stand in one."""
    if measured is None:
        return
    if abs(measured.value) > largest:
        yield fault(field, measured.value, f"a value within ± {largest:g} {unit}", CHECK)
    if (measured.standard_uncertainty or 0.0) > largest:
        yield fault(field, measured.standard_uncertainty, f"an uncertainty up to {largest:g} {unit}", CHECK)
    yield from _factor_faults(field, measured.coverage_factor, measured.degrees_of_freedom)


def limit_faults(field: str, lower: float | None, upper: float | None, *, moment: bool = False) -> Iterator[Refusal]:
    """Refuse limits that are no numbers, or that are swapped."""
    for name, bound in (("lower", lower), ("upper", upper)):
        if bound is not None and not (math.isfinite(bound) and abs(bound) < LARGEST_FORCE):
            yield fault(f"{field}.{name}", bound, "a finite limit", CHECK)
    if lower is not None and upper is not None and lower > upper:
        remedy = "Are they swapped?"
        if moment:
            remedy += " Nose-heavy counts as negative, so the more nose-heavy limit is the lower one."
        shown = f"{getattr(lower, 'text', lower)} … {getattr(upper, 'text', upper)}"
        yield fault(f"{field}.lower", shown, "a lower limit below the upper one", remedy)
