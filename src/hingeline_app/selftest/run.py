"""Puts a self-test together: every published case, then both routes of many weighings."""

from __future__ import annotations

from collections.abc import Sequence

from hingeline.balance import Weighing, weigh
from hingeline_app.selftest.cases import published_cases, work_out
from hingeline_app.selftest.model import CaseOutcome, SelfTest, TwoRoutes
from hingeline_app.selftest.weighings import weighings

WEIGHINGS = 1000
SEED = 2027

GOOD = "This installation computes what it should."
BAD = "Do not use this installation: it does not compute what it should. Set it up anew, and report this page."
CAUTIONS = (
    "This proves the arithmetic of this installation on this machine. It proves nothing about a weighing, a "
    "limit or a surface.",
)


def run_selftest(count: int = WEIGHINGS, seed: int = SEED) -> SelfTest:
    """Work everything out.

    Parameters
    ----------
    count, seed : int
        How many invented weighings, and which.
    """
    cases = tuple(work_out(case) for case in published_cases())
    routes = both_routes(count, seed)
    agrees = routes.agrees and all(case.agrees for case in cases)
    return SelfTest(agrees, GOOD if agrees else _bad(cases, routes), cases, routes, CAUTIONS)


def _bad(cases: Sequence[CaseOutcome], routes: TwoRoutes) -> str:
    failed = [case.id for case in cases if not case.agrees]
    if not routes.agrees:
        failed.append(f"{routes.weighings - routes.agreeing} of {routes.weighings} weighings by two routes")
    return f"{BAD} Not met: {', '.join(failed)}."


def both_routes(count: int, seed: int) -> TwoRoutes:
    """Weigh invented surfaces; each is computed by two routes that share no arithmetic."""
    agreeing, largest, first = 0, 0.0, None
    for number, weighing in enumerate(weighings(count, seed), 1):
        try:
            largest = max(largest, _difference(weighing))
            agreeing += 1
        except Exception as fault:  # a refusal of an invented weighing is a fault of this installation too
            first = first or f"Weighing {number} of seed {seed}: {type(fault).__name__}: {fault}"
    return TwoRoutes(count, agreeing, largest, first, agreeing == count)


def _difference(weighing: Weighing) -> float:
    """Give the largest difference between the routes, over what rounding explains."""
    compared = weigh(weighing).comparison
    return compared.largest_difference / compared.allowed if compared.allowed else 0.0
