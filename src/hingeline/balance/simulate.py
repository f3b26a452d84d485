"""The second way to the uncertainty of a weighing: draw every error, and weigh again.

Nothing is made linear here: products of errors, and the tangent of the level
error, are taken as they are. Where this and the budget disagree by more than
the tolerance of JCGM 101, the draws are the better account.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import Any

from hingeline.balance.causes import in_reading_unit
from hingeline.balance.checks import refuse_unusable
from hingeline.balance.model import HungMass, Part, Support, Weighing
from hingeline.balance.solve import weigh
from hingeline.balance.terms import SupportTerm, support_terms
from hingeline.document import document_format
from hingeline.fields import NewtonMetre
from hingeline.plain_numbers import plainly
from hingeline.surface import aft
from hingeline.uncertainty import Measured, numerical_tolerance, student_cumulative, type_a, whole_degrees
from hingeline.uncertainty.monte_carlo import (
    Distribution,
    Normal,
    Progress,
    Rectangular,
    Student,
    Triangular,
    monte_carlo,
)
from hingeline.uncertainty.stated import Stated

# A k of 8 and more leaves less than a float can tell from 1; long before that no number of draws suffices.
LARGEST_COVERAGE = 1.0 - 1e-12

Arrays = Sequence[Any]
Error = Callable[[Arrays], Any]


@document_format("hingeline/weighing-simulation/1")
@dataclass(frozen=True, slots=True)
class Simulation:
    """The static moment by Monte Carlo, beside the budget's interval [N m, tail-heavy positive].

    Mean and standard uncertainty do not exist where a single pair, or three, of readings leaves one or
    two degrees of freedom.
    """

    draws: int
    seed: int
    coverage: float
    mean: NewtonMetre | None
    standard_uncertainty: NewtonMetre | None
    low: NewtonMetre
    high: NewtonMetre
    budget_low: NewtonMetre
    budget_high: NewtonMetre
    tolerance: NewtonMetre
    agrees: bool
    sentence: str


def simulate(
    weighing: Weighing, *, draws: int = 1_000_000, seed: int = 0, progress: Progress | None = None
) -> Simulation | None:
    """Draw every error of a weighing, and compare the interval with the budget's.

    Parameters
    ----------
    weighing : Weighing
    draws, seed : int
    progress : callable, optional
        Called with (done, total); returns False to stop.

    Returns
    -------
    Simulation, optional
        None where no uncertainty can be given.

    Raises
    ------
    InputRefused
        As for :func:`hingeline.balance.weigh`; too few draws for the coverage.

    Notes
    -----
    JCGM 101:2008, 6.4 for the distributions (6.4.9: a mean of readings has a scaled and shifted t
    distribution), clause 7 for the draws, clause 8 for the comparison: the ends of both intervals may
    differ by half a unit of the second significant digit of the standard uncertainty. Where k is stated, the
    drawn interval has the coverage that k stands for with the budget's degrees of freedom (GUM G.3.2).
    """
    weighing = plainly(weighing)
    refuse_unusable(weighing)
    moment = weigh(weighing).static_moment
    if moment.standard_uncertainty is None or moment.expanded_uncertainty is None:
        return None
    errors = _Errors()
    terms = _drawn_terms(weighing, errors)
    coverage = _coverage_of(weighing, moment)
    drawn = monte_carlo(
        lambda *arrays: sum(term(arrays) for term in terms),
        errors.distributions,
        draws=draws,
        seed=seed,
        coverage=coverage,
        progress=progress,
    )
    low, high = moment.value - moment.expanded_uncertainty, moment.value + moment.expanded_uncertainty
    tolerance = tolerance_of(moment.standard_uncertainty)
    agrees = max(abs(drawn.low - low), abs(drawn.high - high)) <= tolerance
    return Simulation(
        draws=drawn.draws,
        seed=seed,
        coverage=coverage,
        mean=drawn.mean,
        standard_uncertainty=drawn.standard_uncertainty,
        low=drawn.low,
        high=drawn.high,
        budget_low=low,
        budget_high=high,
        tolerance=tolerance,
        agrees=agrees,
        sentence=_sentence(agrees, drawn.high - drawn.low, high - low),
    )


def _coverage_of(weighing: Weighing, moment: Measured) -> float:
    """Give the probability that the budget's interval is to have: of a k that is stated, the one that k stands for.

    Two intervals of different coverage would disagree whatever the errors are.
    """
    k = weighing.uncertainty.k
    if k is None:
        return weighing.uncertainty.coverage
    degrees = whole_degrees(moment.degrees_of_freedom)
    coverage = 2.0 * student_cumulative(k, None if degrees is None else float(degrees)) - 1.0
    return min(coverage, LARGEST_COVERAGE)


def tolerance_of(standard_uncertainty: float) -> float:
    """Give half a unit of the second significant digit (JCGM 101:2008, 7.9.2 and 8.1); 0.0999 counts as 0.10."""
    return numerical_tolerance(standard_uncertainty, 2)


def _sentence(agrees: bool, drawn: float, budget: float) -> str:
    if agrees:
        return "The budget's interval and the drawn one agree within the tolerance of JCGM 101."
    side = "wider than" if budget > drawn else "narrower than" if budget < drawn else "beside"
    return (
        f"The budget's interval is {side} the drawn one by more than the tolerance of JCGM 101. One error of "
        "a shape that is not normal, or with few degrees of freedom, leads. The drawn interval is the better account."
    )


@dataclass
class _Errors:
    """The errors to draw, in order."""

    distributions: list[Distribution] = field(default_factory=list)

    def of(self, stated: Stated | None, value: float) -> Error:
        """Add a stated uncertainty of ``value``; give what picks its draws."""
        if stated is None:
            return lambda arrays: 0.0
        scale = abs(value) if stated.relative else 1.0
        return self.drawn(_distribution(stated, scale))

    def drawn(self, distribution: Distribution) -> Error:
        """Add a distribution; give what picks its draws."""
        place = len(self.distributions)
        self.distributions.append(distribution)
        return lambda arrays: arrays[place]


def _distribution(stated: Stated, scale: float) -> Distribution:
    amount = scale * stated.amount
    if stated.shape == "limit":
        return Rectangular(0.0, amount)
    if stated.shape == "triangular":
        return Triangular(0.0, amount)
    if stated.shape == "resolution":
        return Rectangular(0.0, amount / 2.0)
    standard = scale * stated.standard
    freedom = stated.degrees_of_freedom
    return Normal(0.0, standard) if freedom is None else Student(0.0, standard, freedom)


def _drawn_terms(weighing: Weighing, errors: _Errors) -> list[Error]:
    stated = weighing.uncertainty
    gravity_error = errors.of(stated.gravity, weighing.local_gravity)

    def gravity(arrays: Arrays) -> Any:
        return weighing.local_gravity + gravity_error(arrays)

    shared = {scale: errors.of(_shared(stated.calibration), 0.0) for scale in _scales(weighing)}
    terms = [_support(term, weighing, errors, gravity, shared) for term in support_terms(weighing)]
    terms += [_mass(hung, -1.0, weighing, errors, gravity) for hung in weighing.hung]
    terms += [_mass(p, 1.0 if p.state == "not fitted" else -1.0, weighing, errors, gravity) for p in weighing.parts]
    return [*terms, *_level(weighing, errors, gravity)]


def _scales(weighing: Weighing) -> set[str | None]:
    return {support.scale for support in weighing.supports}


def _shared(calibration: Stated | None) -> Stated | None:
    """Take a shared error as it is stated: of a fraction, the fraction itself is drawn."""
    if calibration is None or not calibration.relative:
        return calibration
    return Stated(
        calibration.amount, "N", calibration.shape, calibration.coverage_factor, calibration.degrees_of_freedom
    )


def _support(
    term: SupportTerm, weighing: Weighing, errors: _Errors, gravity: Error, shared: dict[str | None, Error]
) -> Error:
    support, stated = term.support, weighing.uncertainty
    own = [_scatter(readings, support, weighing, errors) for readings in _series(support)]
    for each in (stated.scale, stated.friction, stated.air):
        own.append(errors.of(in_reading_unit(each, support, weighing.local_gravity), term.net))
    tare = in_reading_unit(support.tare_uncertainty or stated.tare_uncertainty, support, weighing.local_gravity)
    own.append(errors.of(tare, support.tare))
    arm_error = errors.of(support.arm_uncertainty or stated.arm, support.arm)
    by_scale = shared[support.scale]
    per_shared = _per_shared(stated.calibration, term, weighing)
    sign = (-1.0 if support.pushes == "down" else 1.0) * aft(support.side)

    def moment(arrays: Arrays) -> Any:
        net = term.net + sum(error(arrays) for error in own) + per_shared * by_scale(arrays)
        force = net * gravity(arrays) if support.reading_unit == "kg" else net
        return sign * force * (support.arm + arm_error(arrays))

    return moment


def _per_shared(calibration: Stated | None, term: SupportTerm, weighing: Weighing) -> float:
    if calibration is None:
        return 0.0
    if calibration.relative:
        return term.net
    one = Stated(1.0, calibration.unit)
    return (in_reading_unit(one, term.support, weighing.local_gravity) or one).amount


def _series(support: Support) -> list[tuple[float, ...]]:
    return [each for each in (support.readings, support.rising, support.falling) if each]


def _scatter(readings: tuple[float, ...], support: Support, weighing: Weighing, errors: _Errors) -> Error:
    share = 1.0 / len(_series(support))
    if len(readings) == 1:
        repeatability = in_reading_unit(weighing.uncertainty.repeatability, support, weighing.local_gravity)
        error = errors.of(repeatability, readings[0])
    else:
        scatter = type_a(readings)
        error = errors.drawn(Student(0.0, scatter.standard_uncertainty or 0.0, float(len(readings) - 1)))
    return lambda arrays: share * error(arrays)


def _mass(item: HungMass | Part, sign: float, weighing: Weighing, errors: _Errors, gravity: Error) -> Error:
    stated = weighing.uncertainty
    mass_error = errors.of(item.mass_uncertainty or stated.mass_uncertainty, item.mass)
    arm_error = errors.of(item.arm_uncertainty or stated.arm, item.arm)

    def moment(arrays: Arrays) -> Any:
        weight = (item.mass + mass_error(arrays)) * gravity(arrays)
        return sign * aft(item.side) * weight * (item.arm + arm_error(arrays))

    return moment


def _level(weighing: Weighing, errors: _Errors, gravity: Error) -> list[Error]:
    import numpy as np

    surface, stated = weighing.surface, weighing.uncertainty.level
    if stated is None or surface.mass is None or surface.vertical_offset is None:
        return []
    angle, first = errors.of(stated, 0.0), surface.mass * surface.vertical_offset
    return [lambda arrays: -first * gravity(arrays) * np.tan(angle(arrays))]
