"""What is chosen at each place, and what follows from it for the whole surface: exact sums, no solver."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from hingeline.balance.ballast import equations
from hingeline.balance.ballast.model import BallastTask, Place
from hingeline.uncertainty import Budget, Contribution, Measured, combine

ROUNDING = 1e-12  # of the sum of terms: what floats lose


@dataclass(frozen=True, slots=True)
class Choice:
    """What is added or taken off at one place; never both.

    Parameters
    ----------
    place : Place
    added, taken : float
        Weights [kg]; steps and pieces to the last digit.
    pieces : tuple of float
        Used of the stock [kg].
    """

    place: Place
    added: float = 0.0
    taken: float = 0.0
    pieces: tuple[float, ...] = ()

    @property
    def bracket(self) -> float:
        """Bracket and screws that come along [kg]."""
        return self.place.bracket_to_fit if self.added else 0.0

    @property
    def weights(self) -> float:
        """Weights added, or negative taken off [kg]."""
        return self.added - self.taken

    @property
    def mass(self) -> float:
        """Change of mass at the place, bracket included [kg]."""
        return self.weights + self.bracket

    @property
    def size(self) -> float:
        """The same, counted positive whichever way [kg]."""
        return self.added + self.bracket + self.taken

    @property
    def in_all(self) -> float:
        """What the place carries then in all [kg]."""
        fitted = self.place.fixed_mass if self.place.present_mass > 0.0 or self.added else 0.0
        return self.place.present_mass + self.weights + fitted


Choices = tuple[Choice, ...]


def moment_after(task: BallastTask, choices: Iterable[Choice]) -> float:
    """Give M + Σ m g x [N m]; added exactly, so that the order of the places does not matter."""
    return math.fsum([task.moment.value, *_moments(task, choices)])


def _moments(task: BallastTask, choices: Iterable[Choice]) -> list[float]:
    return [equations.moment_of_change(each.mass, each.place.x, task.local_gravity) for each in choices]


def rounding_of(task: BallastTask, choices: Iterable[Choice]) -> float:
    """Give how much of the moment rounding can explain [N m]."""
    return ROUNDING * math.fsum([abs(task.moment.value), *map(abs, _moments(task, choices))])


def sum_of_changes(choices: Iterable[Choice]) -> float:
    """Give Σ |changes|, brackets counted [kg]."""
    return math.fsum(each.size for each in choices)


def inertia_after(task: BallastTask, choices: Iterable[Choice]) -> float | None:
    """Give I + Σ m x² [kg m²]; None where I is not given."""
    if task.inertia is None:
        return None
    return math.fsum([task.inertia, *(equations.inertia_of_change(each.mass, each.place.x) for each in choices)])


def product_after(task: BallastTask, choices: Iterable[Choice]) -> float | None:
    """Give K + Σ m x y [kg m²]; None where K, or the y of a place that changes, is not given."""
    if task.product_of_inertia is None:
        return None
    terms = [task.product_of_inertia]
    for each in choices:
        if each.place.spanwise is None:
            return None
        terms.append(equations.product_of_change(each.mass, each.place.x, each.place.spanwise))
    return math.fsum(terms)


def coefficient(product: float | None, inertia: float | None) -> float | None:
    """Give K/I; None where either is missing."""
    return None if product is None or inertia is None or inertia <= 0.0 else product / inertia


def prediction(task: BallastTask, choices: Choices) -> tuple[Measured, Budget | None]:
    """Give the predicted moment with its uncertainty.

    The weighing, the masses and the arms of what is changed are independent; k is that of the weighing.
    """
    value, measured = moment_after(task, choices), task.moment
    if measured.standard_uncertainty is None:
        return Measured(value, None), None
    causes = [Contribution("the weighing", measured.standard_uncertainty, "N m", 1.0, measured.degrees_of_freedom)]
    for each in choices:
        if each.size:
            causes += _causes(task, each)
    budget = combine(causes, k=measured.coverage_factor)
    predicted = Measured(
        value,
        budget.standard_uncertainty,
        budget.expanded_uncertainty,
        budget.coverage_factor,
        budget.effective_degrees_of_freedom if budget.standard_uncertainty else None,
    )
    return predicted, budget


def _causes(task: BallastTask, choice: Choice) -> list[Contribution]:
    place, causes = choice.place, []
    if place.mass_uncertainty is not None:
        standard, freedom = place.mass_uncertainty.of(choice.mass), place.mass_uncertainty.degrees_of_freedom
        lever = task.local_gravity * place.x
        causes.append(Contribution(f"mass at {place.name}", standard, "kg", lever, freedom))
    if place.arm_uncertainty is not None:
        standard, freedom = place.arm_uncertainty.of(place.arm), place.arm_uncertainty.degrees_of_freedom
        weight = task.local_gravity * choice.mass * (place.x / place.arm)
        causes.append(Contribution(f"arm of {place.name}", standard, "m", weight, freedom))
    return causes
