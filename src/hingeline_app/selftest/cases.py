"""How each kind of published case is computed, and compared with the print."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from typing import Any

from hingeline.tables import read_table
from hingeline.uncertainty import (
    Contribution,
    Measured,
    Normal,
    Rectangular,
    combine,
    coverage_factor,
    guarded_limits,
    monte_carlo,
    probability_within,
    propagate,
    rectangular,
    sample_correlation,
    type_a,
    whole_degrees,
)
from hingeline.units import read
from hingeline_app.selftest.arms import OF_ARMS
from hingeline_app.selftest.dues import OF_DUES
from hingeline_app.selftest.model import CaseOutcome, Value

Inputs = Mapping[str, Any]
Found = Mapping[str, float | None]

SEED = 101


def published_cases() -> tuple[Mapping[str, Any], ...]:
    """Give the cases of the data file."""
    return tuple(read_table("hingeline_app.selftest", "cases.toml")["case"])


def work_out(case: Mapping[str, Any]) -> CaseOutcome:
    """Compute one case and hold it against the print; a fault is a case that does not agree."""
    found: Found = {}
    fault = None
    try:
        found = COMPUTE[case["kind"]]({**case["inputs"], "names": tuple(case["values"])})
    except Exception as raised:  # whatever it is, this installation cannot compute the case
        fault = f"{type(raised).__name__}: {raised}"
    values = tuple(_compared(name, printed, found.get(name)) for name, printed in case["values"].items())
    words = {name: case[name] for name in ("id", "title", "source", "provenance", "note")}
    return CaseOutcome(**words, values=values, agrees=all(value.agrees for value in values), fault=fault)


def _compared(name: str, printed: Sequence[float], here: float | None) -> Value:
    published, tolerance = printed
    agrees = here is not None and abs(here - published) <= tolerance
    return Value(name, float(published), here, float(tolerance), agrees)


def budget(inputs: Inputs) -> Found:
    """Combine contributions and state an interval."""
    pairs = zip(inputs["contributions"], inputs["degrees_of_freedom"], strict=True)
    causes = [Contribution(f"cause {number}", size, "nm", 1.0, freedom) for number, (size, freedom) in enumerate(pairs)]
    combined = combine(causes, coverage=inputs["coverage"])
    return {
        "standard uncertainty": combined.standard_uncertainty,
        "degrees of freedom": whole_degrees(combined.effective_degrees_of_freedom),
        "coverage factor": combined.coverage_factor,
        "expanded uncertainty": combined.expanded_uncertainty,
    }


def impedance(inputs: Inputs) -> Found:
    """Propagate three results from three quantities that were read together."""
    series = [inputs["voltage"], inputs["current"], inputs["phase"]]
    correlation = {(i, j): sample_correlation(series[i], series[j]) for i, j in combinations(range(3), 2)}
    means = [type_a(readings) for readings in series]
    functions: dict[str, Callable[..., Any]] = {
        "resistance": lambda volt, ampere, phase: volt / ampere * cmath.cos(phase),
        "reactance": lambda volt, ampere, phase: volt / ampere * cmath.sin(phase),
        "impedance": lambda volt, ampere, phase: volt / ampere,
    }
    found: dict[str, float | None] = {}
    for name, function in functions.items():
        result = propagate(function, means, correlation)
        found |= {name: result.value, f"u of {name}": result.budget.standard_uncertainty}
    return found


def coverage_factors(inputs: Inputs) -> Found:
    """Look up k for several degrees of freedom, and without limit."""
    found = {f"{freedom:g}": coverage_factor(inputs["coverage"], freedom) for freedom in inputs["degrees_of_freedom"]}
    return {**found, "without limit": coverage_factor(inputs["coverage"], None)}


def total(inputs: Inputs) -> Found:
    """Draw the sum of four quantities of unit variance."""
    one = Normal(0.0, 1.0) if inputs["shape"] == "normal" else Rectangular(0.0, math.sqrt(3.0))
    drawn = monte_carlo(lambda a, b, c, d: a + b + c + d, [one] * 4, draws=inputs["draws"], seed=SEED)
    return {"standard uncertainty": drawn.standard_uncertainty, "low": drawn.low, "high": drawn.high}


def conventional_mass(reference: Any, difference: Any, air: Any, weight: Any, standard: Any) -> Any:
    """Give the conventional mass above 100 g of a weight compared with a standard in air [mg]."""
    return (reference + difference) * (1.0 + (air - 1.2) * (1.0 / weight - 1.0 / standard)) - 100_000.0


def mass_calibration(inputs: Inputs) -> Found:
    """By draws and to first order."""
    normal = [Normal(100_000.0, 0.050), Normal(1.234, 0.020)]
    flat = [Rectangular(1.20, 0.10), Rectangular(8000.0, 1000.0), Rectangular(8000.0, 50.0)]
    drawn = monte_carlo(conventional_mass, [*normal, *flat], draws=inputs["draws"], seed=SEED)
    measured = [Measured(one.mean, one.standard) for one in normal]
    measured += [Measured(one.mean, rectangular(one.half_width)) for one in flat]
    first = propagate(conventional_mass, measured).budget.standard_uncertainty
    return {"mean": drawn.mean, "standard uncertainty": drawn.standard_uncertainty, "first order": first}


def probability(inputs: Inputs) -> Found:
    """Give the probability that a value keeps its upper limit."""
    within = probability_within(inputs["value"], inputs["standard_uncertainty"], None, inputs["upper"])
    return {"probability within": within}


def at_guarded_limit(inputs: Inputs) -> Found:
    """Give the chance of being beyond an upper limit of 0 for a value just at the guarded one, u = 1."""
    upper = guarded_limits(2.0, None, 0.0).upper
    within = None if upper is None else probability_within(upper, 1.0, None, 0.0)
    return {"chance": None if within is None else 1.0 - within}


def units(inputs: Inputs) -> Found:
    """Say how many SI units one of each unit is."""
    return {unit: float(read(f"1 {unit}", inputs["dimension"])) for unit in inputs["names"]}


COMPUTE: dict[str, Callable[[Inputs], Found]] = {
    "budget": budget,
    "impedance": impedance,
    "coverage factors": coverage_factors,
    "sum": total,
    "mass calibration": mass_calibration,
    "probability": probability,
    "guarded": at_guarded_limit,
    "units": units,
    **OF_ARMS,
    **OF_DUES,
}
