"""What would settle a weighing that is too close to tell."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from hingeline.balance.model import Improvement, Planning, Weighing
from hingeline.uncertainty import Budget, BudgetRow, Contribution, combine

MOST_READINGS = 100

# Advice that just suffices must still suffice after the last digit's rounding.
_JUST_BELOW = 1.0 - 1e-9


def plan_improvement(weighing: Weighing, budget: Budget, margin: float) -> Planning | None:
    """Say how many readings, or which single cause made smaller, would reach a statement.

    Parameters
    ----------
    weighing : Weighing
    budget : Budget
        Of the static moment.
    margin : float
        From the value to the nearest limit, positive inside [N m]. The statement is
        reached when U becomes smaller than its size.

    Returns
    -------
    Planning, optional
        None where the value lies on the limit: then nothing settles it.

    Notes
    -----
    The mean and the scatter of the readings are taken to stay as they are: it is an
    estimate, and only the next weighing decides.
    """
    needed = abs(margin)
    if not needed:
        return None
    enough = needed * _JUST_BELOW
    more = _more_readings(weighing, budget, enough)
    improvements = tuple(_improvement(weighing, budget, row, enough) for row in budget.rows)
    return Planning(needed, more, improvements, _advice(more, improvements))


def _more_readings(weighing: Weighing, budget: Budget, needed: float) -> int | None:
    taken = [len(support.readings) for support in weighing.supports]
    if not taken or min(taken) < 2 or _never_enough(weighing, budget, needed):
        return None
    for extra in range(1, MOST_READINGS - min(taken) + 1):
        rows = [_with_more(row, taken, extra) for row in budget.rows]
        if _expanded(weighing, rows) < needed:
            return extra
    return None


def _never_enough(weighing: Weighing, budget: Budget, needed: float) -> bool:
    """Whether readings without end would not do: then the numbers between need not be tried.

    Certain only where nothing else has limited degrees of freedom; else k can fall below what it ends at.
    """
    rest = [_cause(row) for row in budget.rows if not row.source.startswith("readings")]
    return all(cause.degrees_of_freedom is None for cause in rest) and _expanded(weighing, rest) >= needed


def _with_more(row: BudgetRow, taken: Sequence[int], extra: int) -> Contribution:
    cause = _cause(row)
    if not row.source.startswith("readings"):
        return cause
    count = int(row.degrees_of_freedom or 1) + 1
    larger = count + extra
    return replace(
        cause,
        standard_uncertainty=row.standard_uncertainty * math.sqrt(count / larger),
        degrees_of_freedom=float(larger - 1),
    )


def _improvement(weighing: Weighing, budget: Budget, row: BudgetRow, needed: float) -> Improvement:
    return Improvement(row.source, row.unit, row.standard_uncertainty, _smaller(weighing, budget, row, needed))


def _smaller(weighing: Weighing, budget: Budget, row: BudgetRow, needed: float) -> float | None:
    """Halve the interval until the largest sufficient size of this cause is found; None if none is."""

    def settles(size: float) -> bool:
        rows = [
            replace(_cause(other), standard_uncertainty=size) if other is row else _cause(other)
            for other in budget.rows
        ]
        return _expanded(weighing, rows) < needed

    if not settles(0.0):
        return None
    low, high = 0.0, row.standard_uncertainty
    for _ in range(50):
        middle = (low + high) / 2.0
        low, high = (middle, high) if settles(middle) else (low, middle)
    return low


def _expanded(weighing: Weighing, rows: list[Contribution]) -> float:
    stated = weighing.uncertainty
    return combine(rows, coverage=stated.coverage, k=stated.k).expanded_uncertainty


def _cause(row: BudgetRow) -> Contribution:
    return Contribution(row.source, row.standard_uncertainty, row.unit, row.sensitivity, row.degrees_of_freedom)


def _advice(more: int | None, improvements: Sequence[Improvement]) -> str:
    ways = [] if more is None else [f"{more} more {'reading' if more == 1 else 'readings'} like these"]
    causes = [each for each in improvements if each.needed is not None and not each.source.startswith("readings")]
    ways += [f"less uncertainty from the {each.source}" for each in causes]
    if not ways:
        return "No single change settles it: improve the largest causes together, or correct the balance."
    one_of = "This" if len(ways) == 1 else "Any one of these"
    return f"{one_of} would settle it, if the mean stays: {'; '.join(ways)}."
