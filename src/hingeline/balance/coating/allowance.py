"""How much more of a layer a surface can take before it stands at a limit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Literal

from hingeline.balance.coating import equations
from hingeline.balance.coating.coats import Coat, combined_standard
from hingeline.balance.coating.model import Allowance
from hingeline.uncertainty import Contribution, Measured

# A layer that could go on so many times before a limit does not move toward it: its centroid lies on the hinge line.
MOST_FURTHER = 1e4

StopsAt = Literal["lower limit", "upper limit", "mass limit"]


@dataclass(frozen=True, slots=True)
class Ahead:
    """A limit that a layer moves toward.

    Parameters
    ----------
    stops_at : str
    room : float
        From the predicted value to the limit [unit of the value].
    one : float
        What one coat adds toward it, positive [same unit].
    own_causes, other_causes : sequence of Contribution
        Of this layer, and of everything else in the prediction.
    value : Measured
        The predicted value.
    """

    stops_at: StopsAt
    room: float
    one: float
    own_causes: tuple[Contribution, ...]
    other_causes: tuple[Contribution, ...]
    value: Measured


@dataclass(frozen=True, slots=True)
class Predicted:
    """What the prediction holds that an allowance needs; None where it could not be made."""

    moment: Measured | None
    mass: Measured | None
    lower: float | None
    upper: float | None
    heaviest: float | None
    moment_causes: tuple[Contribution, ...]
    mass_causes: tuple[Contribution, ...]


def limits_ahead(coat: Coat, coats: Sequence[Coat], predicted: Predicted) -> tuple[Ahead, ...]:
    """List the limits that more of a layer would come to; none for what is stripped."""
    if coat.layer.count < 0.0:
        return ()
    every = (*_moment_ahead(coat, coats, predicted), *_mass_ahead(coat, coats, predicted))
    return tuple(ahead for ahead in every if ahead.one > 0.0 and ahead.room <= MOST_FURTHER * ahead.one)


def _moment_ahead(coat: Coat, coats: Sequence[Coat], predicted: Predicted) -> Iterator[Ahead]:
    tail_heavy = coat.moment > 0.0
    limit = predicted.upper if tail_heavy else predicted.lower
    if predicted.moment is None or limit is None or coat.moment == 0.0:
        return
    room = limit - predicted.moment.value if tail_heavy else predicted.moment.value - limit
    others = tuple(cause for other in coats if other is not coat for cause in other.moment_causes)
    yield Ahead(
        "upper limit" if tail_heavy else "lower limit",
        room,
        abs(coat.moment) / coat.layer.count,
        coat.moment_causes,
        (*predicted.moment_causes, *others),
        predicted.moment,
    )


def _mass_ahead(coat: Coat, coats: Sequence[Coat], predicted: Predicted) -> Iterator[Ahead]:
    if predicted.mass is None or predicted.heaviest is None:
        return
    room = predicted.heaviest - predicted.mass.value
    others = tuple(cause for other in coats if other is not coat for cause in other.mass_causes)
    own, rest = coat.mass_causes, (*predicted.mass_causes, *others)
    yield Ahead("mass limit", room, coat.one_mass, own, rest, predicted.mass)


def allowance(coat: Coat, ahead: Sequence[Ahead]) -> Allowance | None:
    """Give what is left until the first limit itself; None where none lies ahead."""
    return _first(coat, [(equations.counts_to_limit(one.room, one.one), one.stops_at) for one in ahead])


def guarded_allowance(coat: Coat, ahead: Sequence[Ahead]) -> Allowance | None:
    """Give what is left until value and U reach the first limit; None where a U is not known."""
    if any(one.value.expanded_uncertainty is None for one in ahead):
        return None
    return _first(coat, [(_guarded_counts(coat, one), one.stops_at) for one in ahead])


def _guarded_counts(coat: Coat, ahead: Ahead) -> float:
    count = coat.layer.count
    return equations.counts_to_guarded_limit(
        ahead.room,
        ahead.one,
        count,
        combined_standard(ahead.own_causes) / count,
        combined_standard(ahead.other_causes),
        _factor(ahead.value),
    )


def _factor(value: Measured) -> float:
    if value.coverage_factor is not None:
        return value.coverage_factor
    return (value.expanded_uncertainty or 0.0) / (value.standard_uncertainty or math.inf)


def _first(coat: Coat, found: list[tuple[float, StopsAt]]) -> Allowance | None:
    if not found:
        return None
    counts, stops_at = min(found)
    mass = counts * coat.one_mass
    area = coat.layer.area
    return Allowance(counts, mass, None if area is None else mass / area, stops_at)
