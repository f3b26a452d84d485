"""Computes the cases of metrology.toml, one function a kind, by the library's public names."""

from __future__ import annotations

import cmath
import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from itertools import combinations
from typing import Any

from scipy.integrate import quad

from hingeline.uncertainty import (
    Budget,
    Contribution,
    Measured,
    Normal,
    Rectangular,
    agreement,
    combine,
    guarded_limits,
    monte_carlo,
    normal_quantile,
    probability_within,
    propagate,
    rectangular,
    result_correlation,
    sample_correlation,
    second_order_variance,
    simple,
    type_a,
    whole_degrees,
)

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute a case by its kind."""
    return COMPUTE[kind](inputs)


def contributions(inputs: Inputs) -> list[Contribution]:
    """Take sizes and degrees of freedom as contributions."""
    pairs = zip(inputs["contributions"], inputs["degrees_of_freedom"], strict=True)
    return [Contribution(f"cause {i}", size, "nm", 1.0, nu) for i, (size, nu) in enumerate(pairs)]


def budget(inputs: Inputs) -> Outcome:
    """Combine contributions and state an interval."""
    combined = combine(contributions(inputs), coverage=inputs["coverage"])
    return {
        "standard_uncertainty": combined.standard_uncertainty,
        "whole_degrees_of_freedom": whole_degrees(combined.effective_degrees_of_freedom),
        "coverage_factor": combined.coverage_factor,
        "expanded_uncertainty": combined.expanded_uncertainty,
    }


def inner_budget(inputs: Inputs) -> Outcome:
    """Combine contributions; degrees of freedom from the exact and from the rounded uncertainty."""
    combined = combine(contributions(inputs))
    degrees = combined.effective_degrees_of_freedom
    assert degrees is not None
    rounding = (inputs["rounded_uncertainty"] / combined.standard_uncertainty) ** 4
    return {
        "standard_uncertainty": combined.standard_uncertainty,
        "degrees_of_freedom": degrees,
        "degrees_from_rounded": degrees * rounding,
    }


def end_gauge(inputs: Inputs) -> Outcome:
    """Length of an end gauge: ls + d - ls (δα θ + α δθ)."""

    def length(standard, difference, alpha, theta, d_alpha, d_theta):  # type: ignore[no-untyped-def]
        return standard + difference - standard * (d_alpha * theta + alpha * d_theta)

    values = [inputs["standard"], inputs["difference"], inputs["expansion"], inputs["temperature"], 0.0, 0.0]
    uncertainties = [
        inputs["u_standard"],
        inputs["u_difference"],
        rectangular(inputs["expansion_half_width"]),
        math.hypot(inputs["u_temperature_mean"], inputs["temperature_swing"] / math.sqrt(2)),
        rectangular(inputs["expansion_difference_half_width"]),
        rectangular(inputs["temperature_difference_half_width"]),
    ]
    result = propagate(length, [Measured(x, u) for x, u in zip(values, uncertainties, strict=True)])
    first = result.budget.standard_uncertainty
    second = second_order_variance(length, values, uncertainties)
    return {
        "length": result.value,
        "standard_uncertainty": first,
        "with_second_order": math.sqrt(first**2 + second),
    }


IMPEDANCE: dict[str, Callable[[Any, Any, Any], Any]] = {
    "resistance": lambda v, i, p: v / i * cmath.cos(p),
    "reactance": lambda v, i, p: v / i * cmath.sin(p),
    "impedance": lambda v, i, p: v / i,
}


def series(inputs: Inputs) -> dict[str, Sequence[float]]:
    """Readings of voltage, current and phase in SI."""
    current = [reading / 1000 for reading in inputs["current_milliampere"]]
    return {"voltage": inputs["voltage"], "current": current, "phase": inputs["phase"]}


def impedance(inputs: Inputs) -> Outcome:
    """Three results of three quantities that were read together."""
    readings = series(inputs)
    names = list(readings)
    correlation = {
        (i, j): sample_correlation(readings[names[i]], readings[names[j]]) for i, j in combinations(range(3), 2)
    }
    means = [type_a(one) for one in readings.values()]
    results = {name: propagate(function, means, correlation) for name, function in IMPEDANCE.items()}
    outcome: Outcome = {f"r_{names[i]}_{names[j]}": r for (i, j), r in correlation.items()}
    for name, result in results.items():
        outcome[name] = result.value
        outcome[f"u_{name}"] = result.budget.standard_uncertainty
    for one, other in combinations(results, 2):
        outcome[f"r_{one}_{other}"] = result_correlation(results[one], results[other], correlation)
    outcome["degrees_of_freedom_valid"] = any(r.budget.degrees_of_freedom_valid for r in results.values())
    return outcome


def impedance_uncorrelated(inputs: Inputs) -> Outcome:
    """The same as if the three had been read one after the other."""
    means = [type_a(one) for one in series(inputs).values()]
    return {f"u_{name}": propagate(function, means).budget.standard_uncertainty for name, function in IMPEDANCE.items()}


def total(inputs: Inputs) -> Outcome:
    """Sum of equal quantities of unit variance, by draws and by a budget."""
    one = Normal(0.0, 1.0) if inputs["shape"] == "normal" else Rectangular(0.0, math.sqrt(3))
    result = monte_carlo(lambda *drawn: sum(drawn), [one] * inputs["count"], draws=inputs["draws"], seed=101)
    first = combine([Contribution("one of them", 1.0, "1", 1.0)] * inputs["count"])
    compared = agreement(first, 0.0, result, digits=2)
    return {
        "standard_uncertainty": result.standard_uncertainty,
        "low": result.low,
        "high": result.high,
        "first_order_difference": compared.high_difference,
        "first_order_tolerance": compared.tolerance,
        "first_order_agrees": compared.agrees,
    }


def calibrated_mass(reference, difference, air, weight, standard):  # type: ignore[no-untyped-def]
    """Conventional mass above 100 g [mg] of a weight compared with a reference in air."""
    return (reference + difference) * (1 + (air - 1.2) * (1 / weight - 1 / standard)) - 100_000


def mass_calibration(inputs: Inputs) -> Outcome:
    """By draws, to first order, and with the second order."""
    distributions = [
        Normal(100_000.0, 0.050),
        Normal(1.234, 0.020),
        Rectangular(1.20, 0.10),
        Rectangular(8000.0, 1000.0),
        Rectangular(8000.0, 50.0),
    ]
    values = [one.mean for one in distributions]
    uncertainties = [one.standard if isinstance(one, Normal) else rectangular(one.half_width) for one in distributions]
    drawn = monte_carlo(calibrated_mass, distributions, draws=inputs["draws"], seed=101)
    first = propagate(calibrated_mass, [Measured(x, u) for x, u in zip(values, uncertainties, strict=True)])
    second = widened(first.budget, second_order_variance(calibrated_mass, values, uncertainties))
    return {
        "mean": drawn.mean,
        "standard_uncertainty": drawn.standard_uncertainty,
        "shortest_low": drawn.shortest_low,
        "shortest_high": drawn.shortest_high,
        "shortest_length": drawn.shortest_high - drawn.shortest_low,
        "first_order_uncertainty": first.budget.standard_uncertainty,
        "first_order_low": first.value - first.budget.expanded_uncertainty,
        "first_order_high": first.value + first.budget.expanded_uncertainty,
        "first_order_agrees": agreement(first.budget, first.value, drawn, digits=1).agrees,
        "second_order_uncertainty": second.standard_uncertainty,
        "second_order_agrees": agreement(second, first.value, drawn, digits=1).agrees,
    }


def widened(first: Budget, variance: float) -> Budget:
    """Add a variance to a budget without degrees of freedom."""
    u = math.sqrt(first.standard_uncertainty**2 + variance)
    return replace(first, standard_uncertainty=u, expanded_uncertainty=first.coverage_factor * u)


def probability(inputs: Inputs) -> Outcome:
    """Probability that a measured quantity keeps its limits."""
    within = probability_within(
        inputs["value"], inputs["standard_uncertainty"], inputs.get("lower"), inputs.get("upper")
    )
    return {"probability_within": within}


def density(x: float, deviation: float) -> float:
    """Normal density about zero."""
    return math.exp(-((x / deviation) ** 2) / 2) / (deviation * math.sqrt(2 * math.pi))


def accepted_and_wrong(
    deviation: float, u: float, tolerance: Sequence[float], acceptance: Sequence[float]
) -> tuple[float, float]:
    """Integrate over a process about zero: consumer's risk, producer's risk."""

    def accepted(x: float) -> float:
        found = probability_within(x, u, *acceptance)
        assert found is not None
        return found

    def piece(low: float, high: float, *, conforming: bool) -> float:
        assert simple((low + high) / 2, *tolerance) == ("inside" if conforming else "outside")
        chance = (lambda x: 1 - accepted(x)) if conforming else accepted
        return float(quad(lambda x: density(x, deviation) * chance(x), low, high, epsabs=1e-13)[0])

    lower, upper = tolerance
    far = 12 * deviation
    consumer = piece(-far, lower, conforming=False) + piece(upper, far, conforming=False)
    return consumer, piece(lower, upper, conforming=True)


def global_risk(inputs: Inputs) -> Outcome:
    """Risks of a decision rule over a whole process."""
    consumer, producer = accepted_and_wrong(
        inputs["process_deviation"], inputs["standard_uncertainty"], inputs["tolerance"], inputs["acceptance"]
    )
    return {"consumer_risk": consumer, "producer_risk": producer}


def false_acceptance(inputs: Inputs) -> Outcome:
    """Consumer's risk by simple acceptance, by in-tolerance probability of the process."""
    deviations = [1 / normal_quantile((1 + within) / 2) for within in inputs["within"]]
    limits = (-1.0, 1.0)
    return {
        "false_acceptance_percent": [
            100 * accepted_and_wrong(deviation, deviation / inputs["ratio"], limits, limits)[0]
            for deviation in deviations
        ]
    }


def specific_risk(inputs: Inputs) -> Outcome:
    """Chance of being beyond an upper limit for a value just at the guarded one, u = 1."""
    at_limit = []
    for multiple in inputs["multiples"]:
        upper = guarded_limits(multiple * 2.0, None, 0.0).upper
        assert upper is not None
        at_limit.append(probability_within(-upper, 1.0, None, 0.0))
    return {"false_acceptance_at_limit": at_limit}


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "budget": budget,
    "inner_budget": inner_budget,
    "end_gauge": end_gauge,
    "impedance": impedance,
    "impedance_uncorrelated": impedance_uncorrelated,
    "sum": total,
    "mass_calibration": mass_calibration,
    "probability": probability,
    "global_risk": global_risk,
    "false_acceptance": false_acceptance,
    "specific_risk": specific_risk,
}
