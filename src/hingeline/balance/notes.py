"""What the reader of a result must know beside the numbers: sentences, in the trade's words."""

from __future__ import annotations

import math
import statistics
from collections.abc import Iterator

from hingeline.balance.causes import NAMES
from hingeline.balance.decide import Applicable, notes_of_next_band
from hingeline.balance.measured import surface_mass
from hingeline.balance.model import Decision, FrictionMoment, HungMass, MomentLimits, Part, Support, Weighing
from hingeline.uncertainty import Measured

# Below these, simulated 95 % intervals held the true value in 88 to 93 of a hundred weighings.
ENOUGH_READINGS, FEW_DEGREES = 5, 8.0

CAUTIONS = (
    "Work to the approved data: this shows its limits and does not replace them.",
    "This is a statement about one weighing, not a release. Release is the certifying person's decision under "
    "the local authority's rules.",
    "A surface inside its static limits can still flutter: arm, hinges, play, travel and stiffness are checked "
    "by the approved data too.",
)


def notes_of(
    weighing: Weighing,
    moment: Measured,
    limits: MomentLimits,
    applicable: Applicable,
    decisions: tuple[Decision, ...],
    friction: FrictionMoment | None,
) -> tuple[str, ...]:
    """Gather the notes of a weighing."""
    return (
        *_of_uncertainty(weighing, moment),
        *_of_readings(weighing),
        *_of_limits(weighing, limits, decisions),
        *applicable.notes,
        *notes_of_next_band(weighing.limits.bands, surface_mass(weighing)),
        *_of_few_readings(weighing, moment),
        *_of_interval(moment),
        *_of_friction(weighing, friction),
    )


def _of_uncertainty(weighing: Weighing, moment: Measured) -> Iterator[str]:
    if moment.standard_uncertainty is None:
        yield (
            "No uncertainty can be given, and so no statement by the guarded rule. State the scale's resolution "
            "and calibration, the arm's uncertainty and the friction. Or take several readings, lifting and "
            "resetting the surface each time."
        )
        return
    missing = _not_stated(weighing)
    if missing:
        yield f"Not stated, so counted as nothing: {', '.join(missing)}. The real uncertainty is larger."
    exact = _taken_as_exact(weighing)
    if exact:
        yield f"Taken as exact, since nothing is stated: {', '.join(exact)}."


def _not_stated(weighing: Weighing) -> list[str]:
    # A support that was not read across friction has it uncancelled, whatever the others show.
    stated, pair = weighing.uncertainty, all(support.rising for support in weighing.supports)
    names = ["scale", "calibration", "friction", "air"] if weighing.supports else []
    names = [name for name in names if getattr(stated, name) is None and not (name == "friction" and pair)]
    items: list[Support | HungMass | Part] = [*weighing.supports, *weighing.hung, *weighing.parts]
    if stated.arm is None and any(item.arm_uncertainty is None for item in items):
        names.append("arm")
    if stated.level is None:
        names.append("level")
    return [NAMES[name] for name in names]


def _taken_as_exact(weighing: Weighing) -> list[str]:
    stated, exact = weighing.uncertainty, []
    told = [hung.mass_uncertainty for hung in weighing.hung] + [part.mass_uncertainty for part in weighing.parts]
    if stated.mass_uncertainty is None and None in told:
        exact.append("hung masses and parts")
    untold = (s.tare and s.tare_uncertainty is None for s in weighing.supports)
    if stated.tare_uncertainty is None and any(untold):
        exact.append("tare")
    if stated.gravity is None:
        exact.append("local gravity")
    if weighing.surface.mass is not None and weighing.surface.mass_uncertainty is None:
        exact.append("the surface's mass")
    return exact


def _of_readings(weighing: Weighing) -> Iterator[str]:
    for index, support in enumerate(weighing.supports):
        at = f" at support {index + 1}" if len(weighing.supports) > 1 else ""
        if weighing.uncertainty.repeatability is None:
            yield from _read_once(support, at)
        if support.rising and sum(support.rising) / len(support.rising) < sum(support.falling) / len(support.falling):
            yield f"The falling readings{at} lie above the rising ones: are they swapped?"
        yield from _far_from_the_rest(support, _step(weighing, support), at)
        yield from _off_the_step(weighing, support, at)


def _read_once(support: Support, at: str) -> Iterator[str]:
    if len(support.readings) == 1:
        yield f"One reading{at}: its repeatability is not known and not counted. Lift, reset, read again."
    elif support.rising and min(len(support.rising), len(support.falling)) == 1:
        yield f"One pair of rising and falling readings{at}: their repeatability is not known and not counted."


def _step(weighing: Weighing, support: Support) -> float:
    """Give the scale's step in the reading's unit; 0 where it is not stated so."""
    stated = weighing.uncertainty.scale
    if stated is None or stated.shape != "resolution" or stated.unit != support.reading_unit:
        return 0.0
    return stated.amount


def _far_from_the_rest(support: Support, step: float, at: str) -> Iterator[str]:
    """Mark a reading that stands out; it is kept (common practice, no source).

    Where most readings are equal, the step is the measure: one step away is no news, seven are.
    """
    if len(support.readings) < 4:
        return
    middle = statistics.median(support.readings)
    spread = max(step, statistics.median(abs(reading - middle) for reading in support.readings))
    for number, reading in enumerate(support.readings, 1):
        if spread and abs(reading - middle) > 6.0 * spread:
            yield f"Reading {number}{at} stands far from the rest. It is kept: give the reason, or weigh again."


def _off_the_step(weighing: Weighing, support: Support, at: str) -> Iterator[str]:
    """Mark readings that are no whole number of the stated steps."""
    step = _step(weighing, support)
    if not step:
        return
    steps = [reading / step for reading in (*support.readings, *support.rising, *support.falling)]
    if any(not _is_whole(each) for each in steps):
        text = getattr(step, "text", f"{step:g} {support.reading_unit}")
        yield f"A reading{at} is no whole number of the scale's steps of {text}: check the reading or the step."


def _is_whole(steps: float) -> bool:
    """Whether it is a whole number, as far as a float can tell; of a step next to nothing everything is one."""
    return math.isinf(steps) or abs(steps - round(steps)) <= 1e-6 * max(1.0, abs(steps))


def _of_limits(weighing: Weighing, limits: MomentLimits, decisions: tuple[Decision, ...]) -> Iterator[str]:
    if not decisions:
        yield "No limits are given, so no statement is made."
        return
    if not weighing.limits.source:
        yield "No source is given for the limits: name document, page and issue before anyone relies on this."
    low, high = limits.guarded_lower, limits.guarded_upper
    if low is not None and high is not None and low >= high:
        yield (
            "The guarded band is empty: the uncertainty is as wide as the limits, so nothing measured this way "
            "can be shown to be inside."
        )
    if weighing.uncertainty.gravity is not None:
        yield (
            "The uncertainty of local gravity is counted in full; against limits in kg cm or in-lb it cancels, "
            "so there U is somewhat too large."
        )


def _of_few_readings(weighing: Weighing, moment: Measured) -> Iterator[str]:
    """Say where an interval holds less than it says: two to four readings that lead (tests/laws/test_coverage.py)."""
    freedom = moment.degrees_of_freedom
    series = [each for s in weighing.supports for each in (s.readings, s.rising, s.falling) if len(each) > 1]
    few = any(len(each) < ENOUGH_READINGS for each in series)
    if few and freedom is not None and freedom < FEW_DEGREES:
        yield (
            "Few readings, and their scatter leads: y ± U holds the true value somewhat less often than its "
            "coverage says. Take five readings or more."
        )


def _of_interval(moment: Measured) -> Iterator[str]:
    expanded = moment.expanded_uncertainty
    if expanded is not None and moment.value and abs(moment.value) <= expanded:
        yield "The interval covers zero: whether the surface is tail-heavy or nose-heavy is not shown."


def _of_friction(weighing: Weighing, friction: FrictionMoment | None) -> Iterator[str]:
    if friction is not None and friction.within is False:
        yield (
            "The friction moment is larger than the approved data allows: free the bearings and weigh again "
            "before relying on this statement."
        )
    if weighing.limits.friction_fraction is None:
        return
    if friction is None:
        yield "A friction allowance is given but no rising and falling readings: the friction is not checked."
    elif friction.within is None:
        yield "A friction allowance is given but no moment limit that it is a part of: the friction is not checked."
