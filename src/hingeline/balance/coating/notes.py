"""What the reader of a coating's prediction must know beside the numbers: sentences."""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.balance.coating.coats import Coat, not_stated
from hingeline.balance.coating.model import CoatedSurface
from hingeline.balance.decide import Applicable, mass_bounds, notes_of_next_band
from hingeline.balance.model import MomentLimits
from hingeline.balance.notes import CAUTIONS as OF_A_WEIGHING
from hingeline.uncertainty import Measured

CAUTIONS = (
    "Predicted, not weighed: only a new weighing decides.",
    "Strip, fill and paint only as the approved data allows.",
    *OF_A_WEIGHING[0:1],
    *OF_A_WEIGHING[2:],
)
NOTES = (
    "Wet paint is heavier than dry: weigh after it has cured, with everything fitted that the limits assume.",
    "The masses are those of dry films, spread evenly; local gravity is taken as exact.",
)
SEVERAL = "There are several surfaces: each has its own numbers, and none is given for all of them together."


def notes_of(
    surface: CoatedSurface,
    coats: tuple[Coat, ...],
    moment: Measured | None,
    mass: Measured | None,
    applicable: Applicable,
    limits: MomentLimits,
) -> tuple[str, ...]:
    """Gather the notes of one surface."""
    return (
        *_of_moment(surface, moment),
        *_of_mass(surface, moment, mass),
        *_of_layers(coats),
        *_of_limits(surface, moment, limits),
        *applicable.notes,
        *notes_of_next_band(surface.limits.bands, mass),
    )


def _of_moment(surface: CoatedSurface, moment: Measured | None) -> Iterator[str]:
    if surface.moment is None or moment is None:
        yield "No moment is given, so the change alone is worked out, and nothing is predicted against limits."
    elif moment.expanded_uncertainty is None:
        yield (
            "The uncertainty of the moment before the work is not known, so none can be given afterwards, and no "
            "statement by the guarded rule. Give the moment with the U and k of its weighing."
        )
    elif abs(moment.value) <= moment.expanded_uncertainty and moment.value:
        yield "The interval covers zero: whether the surface will be tail-heavy or nose-heavy is not shown."


def _of_mass(surface: CoatedSurface, moment: Measured | None, mass: Measured | None) -> Iterator[str]:
    unsure = mass is not None and mass.expanded_uncertainty is None
    if moment is not None and unsure and mass_bounds(surface.limits) is not None:
        yield (
            "The uncertainty of the mass before the work is not known, and the limits depend on the mass: no statement "
            "by the guarded rule. Give the mass with its U and k."
        )


def _of_layers(coats: tuple[Coat, ...]) -> Iterator[str]:
    missing = [name for coat in coats for name in not_stated(coat.layer)]
    if missing:
        yield f"Not stated, so counted as nothing: {', '.join(missing)}. The real uncertainty is larger."
    if any(coat.layer.count < 0.0 for coat in coats):
        yield "What is stripped was never weighed by itself: weigh the bare surface before painting it."
    if sum(coat.layer.count > 0.0 for coat in coats) > 1:
        yield "What a layer can still take holds for that layer alone, with the others as planned."


def _of_limits(surface: CoatedSurface, moment: Measured | None, limits: MomentLimits) -> Iterator[str]:
    if moment is None:
        return
    if surface.limits.bands:
        yield "What a layer can still take ends at the edge of the mass band, where the moment's limits step."
    if limits.lower is None and limits.upper is None and surface.limits.mass is None:
        yield "No limits are given, so no statement is predicted."
        return
    if not surface.limits.source:
        yield "No source is given for the limits: name document, page and issue before anyone relies on this."
    low, high = limits.guarded_lower, limits.guarded_upper
    if low is not None and high is not None and low >= high:
        yield "The guarded band is empty: the predicted uncertainty is as wide as the limits."
