"""From causes of uncertainty to a measured value."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

from hingeline.balance import equations
from hingeline.balance.causes import causes_of_weighing
from hingeline.balance.model import Weighing
from hingeline.balance.terms import SupportTerm, hung_terms
from hingeline.uncertainty import Budget, Contribution, Measured, combine, coverage_factor


def combined(causes: Sequence[Contribution], weighing: Weighing) -> Budget:
    """Combine causes with the coverage, or the coverage factor, that the weighing asks for."""
    return combine(causes, coverage=weighing.uncertainty.coverage, k=weighing.uncertainty.k)


def measured(value: float, budget: Budget) -> Measured:
    """Give the value with its uncertainty; without any cause, none is given."""
    if not budget.standard_uncertainty:
        return Measured(value, None)
    return Measured(
        value,
        budget.standard_uncertainty,
        budget.expanded_uncertainty,
        budget.coverage_factor,
        budget.effective_degrees_of_freedom,
    )


def with_both(moment: Measured, coverage: float) -> Measured:
    """Give a measured moment both u and U: k as stated, else from the coverage and the degrees of freedom."""
    standard, expanded, k = moment.standard_uncertainty, moment.expanded_uncertainty, moment.coverage_factor
    if standard is None and expanded is None:
        return moment
    if k is None:
        k = expanded / standard if standard and expanded else coverage_factor(coverage, moment.degrees_of_freedom)
    if standard is None and expanded is not None:
        standard = expanded / k
    assert standard is not None
    return replace(moment, standard_uncertainty=standard, expanded_uncertainty=k * standard, coverage_factor=k)


def scaled(value: Measured, factor: float) -> Measured:
    """Multiply a measured value by an exact factor."""
    return replace(
        value,
        value=value.value * factor,
        standard_uncertainty=_times(value.standard_uncertainty, abs(factor)),
        expanded_uncertainty=_times(value.expanded_uncertainty, abs(factor)),
    )


def _times(number: float | None, factor: float) -> float | None:
    return None if number is None else number * factor


def surface_mass(weighing: Weighing) -> Measured | None:
    """Give the surface's mass [kg]: exact where nothing is stated of it, None where it was not weighed."""
    mass, stated = weighing.surface.mass, weighing.surface.mass_uncertainty
    if mass is None:
        return None
    if stated is None:
        return Measured(mass, 0.0, 0.0)
    cause = Contribution("mass", stated.of(mass), "kg", 1.0, stated.degrees_of_freedom)
    return measured(mass, combined([cause], weighing))


def centre_of_gravity(weighing: Weighing, supports: tuple[SupportTerm, ...]) -> Measured | None:
    """Give the centre of gravity aft of the hinge line [m], of the surface as weighed, before parts.

    Local gravity cancels against the readings of a dial that shows mass, and against hung masses; not against
    a dial that shows force.
    """
    mass = surface_mass(weighing)
    if mass is None:
        return None
    weight = mass.value * weighing.local_gravity
    moment = sum(term.moment for term in supports) + sum(term.moment for term in hung_terms(weighing))
    centre = equations.centre_of_gravity(moment, mass.value, weighing.local_gravity)
    causes = [
        replace(cause, sensitivity=cause.sensitivity / weight)
        for cause in causes_of_weighing(weighing, supports)
        if cause.source != "local gravity"
    ]
    causes += _gravity_of_forces(weighing, supports, weight)
    if mass.standard_uncertainty:
        causes.append(
            Contribution("mass", mass.standard_uncertainty, "kg", -centre / mass.value, mass.degrees_of_freedom)
        )
    return measured(centre, combined(causes, weighing))


def _gravity_of_forces(weighing: Weighing, supports: tuple[SupportTerm, ...], weight: float) -> Iterator[Contribution]:
    """List what local gravity does to the centre by readings of force: F x/(m g) changes by -F x/(m g²)."""
    stated, gravity = weighing.uncertainty.gravity, weighing.local_gravity
    by_force = sum(term.moment for term in supports if term.support.reading_unit == "N")
    if stated is not None and by_force:
        slope = -by_force / (weight * gravity)
        yield Contribution("local gravity", stated.of(gravity), "m/s^2", slope, stated.degrees_of_freedom)
