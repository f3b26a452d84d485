"""What makes up the ±: scale, arm, level, friction, gravity; one contribution each, with its sensitivity.

The sensitivity is the derivative of the static moment with respect to the
quantity that is uncertain (JCGM 100:2008, GUM, 5.1.3).
"""

from __future__ import annotations

from collections.abc import Iterator

from hingeline.balance import equations
from hingeline.balance.model import Support, Weighing
from hingeline.balance.terms import SupportTerm, hung_terms, part_terms
from hingeline.surface import aft
from hingeline.uncertainty import Contribution, type_a
from hingeline.uncertainty.stated import Stated

NAMES = {
    "scale": "scale's step",
    "friction": "friction in the bearings",
    "air": "air currents",
    "calibration": "scale calibration",
    "arm": "arm",
    "level": "level",
}


def causes_of_weighing(weighing: Weighing, supports: tuple[SupportTerm, ...]) -> list[Contribution]:
    """List what makes the moment of the surface as weighed uncertain, before known parts."""
    causes = [cause for term in supports for cause in _of_support(term, weighing)]
    causes += _of_calibration(weighing, supports)
    for index, (hung, term) in enumerate(zip(weighing.hung, hung_terms(weighing), strict=True)):
        name = "hung mass" if len(weighing.hung) == 1 else f"hung mass {index + 1}"
        gravity = -weighing.local_gravity * aft(hung.side)
        mass_stated = hung.mass_uncertainty or weighing.uncertainty.mass_uncertainty
        arm_stated = hung.arm_uncertainty or weighing.uncertainty.arm
        causes += _stated(f"mass of {name}", mass_stated, hung.mass, "kg", gravity * hung.arm)
        causes += _stated(f"arm of {name}", arm_stated, hung.arm, "m", term.moment / hung.arm)
    return causes + _of_level(weighing) + _of_gravity(weighing, supports)


def causes_of_parts(weighing: Weighing) -> list[Contribution]:
    """List what the known parts add to the uncertainty."""
    causes: list[Contribution] = []
    for part in weighing.parts:
        sign = (1.0 if part.state == "not fitted" else -1.0) * aft(part.side)
        mass_stated = part.mass_uncertainty or weighing.uncertainty.mass_uncertainty
        arm_stated = part.arm_uncertainty or weighing.uncertainty.arm
        weight = sign * part.mass * weighing.local_gravity
        arm_moment = sign * weighing.local_gravity * part.arm
        causes += _stated(f"mass of {part.name}", mass_stated, part.mass, "kg", arm_moment)
        causes += _stated(f"arm of {part.name}", arm_stated, part.arm, "m", weight)
    return causes


def _of_support(term: SupportTerm, weighing: Weighing) -> Iterator[Contribution]:
    support, stated = term.support, weighing.uncertainty
    unit, at = support.reading_unit, _at(term, weighing)
    yield from _of_scatter(term, stated.repeatability, at, weighing.local_gravity)
    for name in ("scale", "friction", "air"):
        own = in_reading_unit(getattr(stated, name), support, weighing.local_gravity)
        yield from _stated(NAMES[name] + at, own, term.net, unit, term.reading_moment)
    tare = support.tare_uncertainty or stated.tare_uncertainty
    tare = in_reading_unit(tare, support, weighing.local_gravity)
    yield from _stated("tare" + at, tare, support.tare, unit, -term.reading_moment)
    arm = support.arm_uncertainty or stated.arm
    yield from _stated(NAMES["arm"] + at, arm, support.arm, "m", term.force * aft(support.side))


def _of_scatter(
    term: SupportTerm, repeatability: Stated | None, at: str, local_gravity: float
) -> Iterator[Contribution]:
    support = term.support
    for name, readings, part in (
        ("readings", support.readings, 1.0),
        ("readings, rising", support.rising, 0.5),
        ("readings, falling", support.falling, 0.5),
    ):
        if len(readings) == 1:
            own = in_reading_unit(repeatability, support, local_gravity)
            yield from _stated(
                f"repeatability, {name}{at}", own, readings[0], support.reading_unit, part * term.reading_moment
            )
        elif readings:
            scatter = type_a(readings)
            yield Contribution(
                name + at,
                scatter.standard_uncertainty or 0.0,
                support.reading_unit,
                part * term.reading_moment,
                scatter.degrees_of_freedom,
            )


def _of_calibration(weighing: Weighing, supports: tuple[SupportTerm, ...]) -> Iterator[Contribution]:
    """Add what supports on one scale share in full: their errors have one sign and do not average out."""
    stated = weighing.uncertainty.calibration
    if stated is None:
        return
    for scale in dict.fromkeys(term.support.scale for term in supports):
        terms = [term for term in supports if term.support.scale == scale]
        of = f" of {scale}" if scale and len({t.support.scale for t in supports}) > 1 else ""
        yield _shared(NAMES["calibration"] + of, stated, terms, weighing.local_gravity)


def _shared(source: str, stated: Stated, terms: list[SupportTerm], local_gravity: float) -> Contribution:
    if stated.relative:
        moment = sum(term.net * term.reading_moment for term in terms)
        return Contribution(source, stated.standard, "1", moment, stated.degrees_of_freedom)
    own = [in_reading_unit(stated, term.support, local_gravity) or stated for term in terms]
    together = sum(each.standard * term.reading_moment for each, term in zip(own, terms, strict=True))
    first = own[0].standard
    sensitivity = together / first if first else terms[0].reading_moment
    return Contribution(source, first, terms[0].support.reading_unit, sensitivity, stated.degrees_of_freedom)


def _of_level(weighing: Weighing) -> list[Contribution]:
    surface, stated = weighing.surface, weighing.uncertainty.level
    if stated is None or surface.mass is None or surface.vertical_offset is None:
        return []
    sensitivity = equations.level_sensitivity(surface.mass, surface.vertical_offset, weighing.local_gravity)
    return [
        Contribution(NAMES["level"], stated.standard, "rad", -sensitivity, stated.degrees_of_freedom),
    ]


def _of_gravity(weighing: Weighing, supports: tuple[SupportTerm, ...]) -> list[Contribution]:
    stated = weighing.uncertainty.gravity
    if stated is None:
        return []
    by_mass = sum(term.moment for term in supports if term.support.reading_unit == "kg")
    by_mass += sum(term.moment for term in (*hung_terms(weighing), *part_terms(weighing)))
    per_gravity = by_mass / weighing.local_gravity
    return list(_stated("local gravity", stated, weighing.local_gravity, "m/s^2", per_gravity))


def in_reading_unit(stated: Stated | None, support: Support, local_gravity: float) -> Stated | None:
    """Turn what was stated as a mass into a force, or back, so that it fits the support's readings."""
    if stated is None or stated.relative or stated.unit == support.reading_unit:
        return stated
    factor = local_gravity if support.reading_unit == "N" else 1.0 / local_gravity
    return Stated(
        stated.amount * factor,
        support.reading_unit,
        stated.shape,
        stated.coverage_factor,
        stated.degrees_of_freedom,
    )


def _stated(source: str, stated: Stated | None, value: float, unit: str, sensitivity: float) -> Iterator[Contribution]:
    if stated is not None:
        yield Contribution(source, stated.of(value), unit, sensitivity, stated.degrees_of_freedom)


def _at(term: SupportTerm, weighing: Weighing) -> str:
    return f" at {term.name}" if len(weighing.supports) > 1 else ""
