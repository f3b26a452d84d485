"""From layers to the predicted mass, moment and statement."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from hingeline.balance.coating.allowance import Predicted, allowance, guarded_allowance, limits_ahead
from hingeline.balance.coating.checks import refuse_nothing_left, refuse_unusable
from hingeline.balance.coating.coats import Coat, coat_of
from hingeline.balance.coating.model import (
    CoatedResult,
    CoatedSurface,
    CoatingResult,
    CoatingTask,
    LayerResult,
)
from hingeline.balance.coating.notes import CAUTIONS, NOTES, SEVERAL, notes_of
from hingeline.balance.decide import Applicable, applicable_limits, mass_bounds, moment_limits, overall
from hingeline.balance.measured import measured, with_both
from hingeline.balance.model import Limits, Statement
from hingeline.uncertainty import (
    OUTSIDE,
    BudgetRow,
    Contribution,
    Measured,
    combine,
    guarded,
    margin,
    simple,
)


def predict_coating(task: CoatingTask) -> CoatingResult:
    """Say what painting and stripping will do to the balance.

    Each layer changes the mass by count × (mass of one coat on one face), and the static moment by that
    mass × local gravity × x, x positive aft of the hinge line.

    Parameters
    ----------
    task : CoatingTask
        SI floats.

    Returns
    -------
    CoatingResult
        Changes of mass [kg] and static moment [N m], the predicted moment and statement, and what each
        layer can still take. Predicted, not weighed.

    Raises
    ------
    InputRefused
        With one refusal for every fault of the input.

    Notes
    -----
    Uncertainty after JCGM 100:2008 (GUM) 5.1.2: what is uncertain in a layer is common to its ``count``,
    and independent from layer to layer and of the weighing. k is that of the measured moment where it
    states one. Decisions after JCGM 106:2012. Valid for cured films whose centroid is known.

    Examples
    --------
    >>> from hingeline.balance.coating import CoatedSurface, CoatingTask, Layer, predict_coating
    >>> topcoat = Layer("topcoat", arm=0.060, area=0.327, count=2, mass_per_area=0.254)
    >>> result = predict_coating(CoatingTask((CoatedSurface((topcoat,)),)))
    >>> f"{result.mass_change.value * 1000:.0f} g, {result.moment_change.value:.3f} N m"
    '166 g, 0.098 N m'
    """
    refuse_unusable(task)
    surfaces = tuple(_surface(task, index) for index in range(len(task.surfaces)))
    only = surfaces[0] if len(surfaces) == 1 else None
    return CoatingResult(
        mass_change=only.mass_change if only else None,
        moment_change=only.moment_change if only else None,
        moment_after=only.moment_after if only else None,
        predicted_statement=only.predicted_statement if only else None,
        predicted_statement_simple=only.predicted_statement_simple if only else None,
        predicted_statement_guarded=only.predicted_statement_guarded if only else None,
        surfaces=surfaces,
        local_gravity=task.local_gravity,
        notes=NOTES if only else (SEVERAL, *NOTES),
        cautions=CAUTIONS,
    )


@dataclass(frozen=True, slots=True)
class _After:
    """One quantity after the work, with its budget."""

    value: Measured
    rows: tuple[BudgetRow, ...]
    causes_before: tuple[Contribution, ...]


def _surface(task: CoatingTask, index: int) -> CoatedResult:
    surface = task.surfaces[index]
    coats = tuple(coat_of(layer, task.local_gravity) for layer in surface.layers)
    change_of_mass = math.fsum(coat.mass for coat in coats)
    place = "" if len(task.surfaces) == 1 else f"surface[{index}]."
    refuse_nothing_left(place, surface.mass.value if surface.mass else None, change_of_mass)
    change = _change([coat.moment for coat in coats], [coat.moment_causes for coat in coats], task.coverage)
    mass_change = _change([coat.mass for coat in coats], [coat.mass_causes for coat in coats], task.coverage)
    moment = _after("moment as weighed", "N m", surface.moment, change, task.coverage)
    mass = _after("mass as weighed", "kg", surface.mass, mass_change, task.coverage)
    return _result(surface, coats, change, mass_change, moment, mass, task.coverage)


@dataclass(frozen=True, slots=True)
class _Change:
    value: Measured
    causes: tuple[Contribution, ...]
    rows: tuple[BudgetRow, ...]


def _change(values: Sequence[float], causes: Sequence[tuple[Contribution, ...]], coverage: float) -> _Change:
    gathered = tuple(cause for of_one in causes for cause in of_one)
    budget = combine(gathered, coverage=coverage)
    rows = budget.rows if budget.standard_uncertainty else ()
    return _Change(measured(math.fsum(values), budget), gathered, rows)


def _after(source: str, unit: str, before: Measured | None, change: _Change, coverage: float) -> _After | None:
    """Add the change to what was measured; without an uncertainty before, there is none after."""
    if before is None:
        return None
    value = math.fsum((before.value, change.value.value))
    standard = with_both(before, coverage).standard_uncertainty
    if standard is None:
        return _After(Measured(value, None), (), ())
    own = Contribution(source, standard, unit, 1.0, before.degrees_of_freedom)
    budget = combine((own, *change.causes), coverage=coverage, k=before.coverage_factor)
    return _After(measured(value, budget), budget.rows if budget.standard_uncertainty else (), (own,))


def _result(
    surface: CoatedSurface,
    coats: tuple[Coat, ...],
    change: _Change,
    mass_change: _Change,
    moment: _After | None,
    mass: _After | None,
    coverage: float,
) -> CoatedResult:
    after = moment.value if moment else None
    mass_after = mass.value if mass else None
    applicable = applicable_limits(surface.limits, mass_after.value if mass_after else None)
    limits = moment_limits(applicable, after.expanded_uncertainty if after else None)
    by_simple, by_guarded = _statements(surface.limits, after, mass_after, applicable)
    predicted = Predicted(
        after,
        mass_after,
        applicable.lower,
        applicable.upper,
        _heaviest(surface.limits, mass_after.value if mass_after else None),
        moment.causes_before if moment else (),
        mass.causes_before if mass else (),
    )
    return CoatedResult(
        name=surface.name,
        mass_change=mass_change.value,
        moment_change=change.value,
        moment_before=surface.moment,
        mass_before=surface.mass,
        moment_after=after,
        mass_after=mass_after,
        limits=limits,
        limits_source=surface.limits.source,
        rule=surface.limits.rule,
        predicted_statement=by_simple if surface.limits.rule == "simple" else by_guarded,
        predicted_statement_simple=by_simple,
        predicted_statement_guarded=by_guarded,
        predicted_margin=margin(after.value, applicable.lower, applicable.upper) if after else None,
        layers=tuple(_layer(coat, coats, predicted, coverage) for coat in coats),
        budget=moment.rows if moment else change.rows,
        notes=notes_of(surface, coats, after, mass_after, applicable, limits),
    )


def _statements(
    limits: Limits, moment: Measured | None, mass: Measured | None, applicable: Applicable
) -> tuple[Statement | None, Statement | None]:
    """State by both rules, as of a weighing; of moment and mass the worse leads. Without a moment nothing is stated."""
    if moment is None:
        return None, None
    bounds: list[tuple[Measured, float | None, float | None]] = [(moment, applicable.lower, applicable.upper)]
    of_mass = mass_bounds(limits)
    if mass is not None and of_mass is not None:
        bounds.append((mass, *of_mass))
    made = [
        (simple(value.value, low, high), guarded(value.value, value.expanded_uncertainty, low, high))
        for value, low, high in bounds
        if not (low is None and high is None)
    ]
    if applicable.no_band:
        made.append((OUTSIDE, OUTSIDE))
    return overall(tuple(one for one, _ in made)), overall(tuple(other for _, other in made))


def _heaviest(limits: Limits, mass: float | None) -> float | None:
    """Give the mass at which the mass limit, or the edge of the mass band, is reached."""
    if mass is None:
        return None
    edges = [band.heaviest for band in limits.bands if band.lightest <= mass <= band.heaviest]
    if limits.mass is not None and limits.mass.upper is not None:
        edges.append(limits.mass.upper)
    return min(edges, default=None)


def _layer(coat: Coat, coats: tuple[Coat, ...], predicted: Predicted, coverage: float) -> LayerResult:
    layer, ahead = coat.layer, limits_ahead(coat, coats, predicted)
    return LayerResult(
        name=layer.name,
        count=layer.count,
        side=layer.side,
        arm=layer.arm,
        mass_per_area=coat.mass_per_area,
        mass=measured(coat.mass, combine(coat.mass_causes, coverage=coverage)),
        moment=measured(coat.moment, combine(coat.moment_causes, coverage=coverage)),
        can_still_take=allowance(coat, ahead),
        can_still_take_guarded=guarded_allowance(coat, ahead),
    )
