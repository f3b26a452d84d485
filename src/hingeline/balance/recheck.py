"""The second computation of a weighing: exact fractions, and fifty-digit decimals for U.

It shares no arithmetic with :mod:`hingeline.balance.solve` and its helpers: the
typed text is read again by :mod:`hingeline.exact`, the sum and every variance
are exact fractions, and the root and the coverage factor are taken in decimals.
What it cannot catch is a limit misread from the manual, or a wrong idea shared
by both ways.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, fields, is_dataclass
from decimal import Decimal
from fractions import Fraction
from typing import Any

from hingeline.balance.model import Comparison, HungMass, Part, Support, Weighing
from hingeline.errors import RoutesDisagree
from hingeline.exact import CannotRead, fraction, was_typed
from hingeline.uncertainty import Statement, guarded
from hingeline.uncertainty.decimals import combine_decimal, squared_contribution
from hingeline.uncertainty.stated import Stated

ALLOWED = Fraction(1, 10**12)
ROOT_KNOWN_TO = Fraction(1, 10**40)
"""Of U in decimals: fifty digits, less those that rounding on the way may take."""

# Square of standard uncertainty over stated amount: the shapes of GUM 4.3.7, 4.3.9 and F.2.2.1, squared.
_SQUARED = {
    "limit": Fraction(1, 3),
    "triangular": Fraction(1, 6),
    "standard": Fraction(1),
    "resolution": Fraction(1, 12),
}

Variance = tuple[Fraction, Fraction | None]


@dataclass(frozen=True, slots=True)
class ExactWeighing:
    """What the second route found: exact [N m], U to fifty digits.

    ``sum_of_terms`` counts every term with its size, reading and tare apart: rounding grows with what
    was added up, not with the little that may be left of it.
    """

    moment: Fraction
    sum_of_terms: Fraction
    lower: Fraction | None
    upper: Fraction | None
    expanded: Decimal | Fraction | None

    @property
    def allowed(self) -> Fraction:
        """The largest difference of the moments that rounding explains [N m]."""
        return ALLOWED * self.sum_of_terms

    @property
    def allowed_expanded(self) -> Fraction:
        """The same for the expanded uncertainty, which is there even where the moment is exactly zero [N m]."""
        return self.allowed + ALLOWED * Fraction(self.expanded or 0)

    @property
    def guarded(self) -> Statement | None:
        """The guarded statement: what U, a root, is known to is given to it, so that touching stays touching."""
        widened = Fraction(self.expanded or 0) * (1 + ROOT_KNOWN_TO)
        return guarded(self.moment, widened, self.lower, self.upper)  # type: ignore[arg-type]

    @property
    def from_touching(self) -> Fraction:
        """How far the nearer end of value ± U lies from a limit [N m]."""
        expanded = Fraction(self.expanded or 0)
        ends = (self.moment - expanded, self.moment + expanded)
        return min(abs(end - bound) for bound in (self.lower, self.upper) if bound is not None for end in ends)


def recheck(weighing: Weighing, lower: float | None, upper: float | None) -> ExactWeighing:
    """Compute moment, limits and expanded uncertainty anew.

    Parameters
    ----------
    weighing : Weighing
    lower, upper : float, optional
        The limits that hold, as typed [N m].

    Raises
    ------
    RoutesDisagree
        The second reader does not know what the first one read.
    """
    try:
        return _recheck(weighing, lower, upper)
    except CannotRead as fault:
        raise RoutesDisagree("typed text", "read", f"not known: {fault}", "no difference") from fault


def recheck_reading(weighing: Weighing, exact: ExactWeighing) -> ExactWeighing:
    """Give the reading at the document's own point, its limits and its U, in the limits' unit.

    Parameters
    ----------
    weighing : Weighing
        With one support and limits of the reading.
    exact : ExactWeighing
        The same weighing, as :func:`recheck` found it.

    Raises
    ------
    RoutesDisagree
        The second reader does not know what the first one read.
    """
    limits, (support,) = weighing.limits.reading, weighing.supports
    assert limits is not None
    try:
        per_unit = fraction(support.arm) * (fraction(weighing.local_gravity) if limits.unit == "kg" else 1)
        lower, upper = (None if bound is None else fraction(bound) for bound in (limits.lower, limits.upper))
    except CannotRead as fault:
        raise RoutesDisagree("typed text", "read", f"not known: {fault}", "no difference") from fault
    expanded = None if exact.expanded is None else Fraction(exact.expanded) / per_unit
    return ExactWeighing(exact.moment / per_unit, exact.sum_of_terms / per_unit, lower, upper, expanded)


def recheck_mass(weighing: Weighing, lower: float | None, upper: float | None) -> ExactWeighing:
    """Give the surface's mass, its limits and its U [kg].

    Parameters
    ----------
    weighing : Weighing
        Of a surface whose mass is known.
    lower, upper : float, optional
        The limits that hold, as typed [kg].

    Raises
    ------
    RoutesDisagree
        The second reader does not know what the first one read.
    """
    surface = weighing.surface
    assert surface.mass is not None
    try:
        mass = fraction(surface.mass)
        low, high = (None if bound is None else fraction(bound) for bound in (lower, upper))
        variance = _stated(surface.mass_uncertainty, mass, Fraction(1))
        return ExactWeighing(mass, mass, low, high, _expanded(weighing, [variance] if variance[0] else []))
    except CannotRead as fault:
        raise RoutesDisagree("typed text", "read", f"not known: {fault}", "no difference") from fault


def _recheck(weighing: Weighing, lower: float | None, upper: float | None) -> ExactWeighing:
    gravity = fraction(weighing.local_gravity)
    variances = [each for each in _variances(weighing, gravity) if each[0]]
    return ExactWeighing(
        moment=sum(_terms(weighing, gravity), Fraction(0)),
        sum_of_terms=sum(_sizes(weighing, gravity), Fraction(0)),
        lower=None if lower is None else fraction(lower, gravity),
        upper=None if upper is None else fraction(upper, gravity),
        expanded=_expanded(weighing, variances),
    )


def compare(
    exact: ExactWeighing, moment: float, expanded: float | None, lower: float | None, upper: float | None
) -> Fraction:
    """Give the largest difference between the two routes [N m].

    Raises
    ------
    RoutesDisagree
        One number differs by more than rounding explains: there is no statement.
    """
    pairs = [
        ("static moment", moment, exact.moment, exact.allowed),
        ("expanded uncertainty", expanded, exact.expanded, exact.allowed_expanded),
        ("lower limit", lower, exact.lower, _rounding(exact.lower)),
        ("upper limit", upper, exact.upper, _rounding(exact.upper)),
    ]
    differences = [_difference(name, first, second, allowed) for name, first, second, allowed in pairs]
    return max(differences)


def _rounding(limit: Fraction | None) -> Fraction:
    return Fraction(0) if limit is None else ALLOWED * abs(limit)


def comparison(weighing: Weighing, exact: ExactWeighing, largest: Fraction) -> Comparison:
    """Say from what the second route was computed, and how close both came."""
    typed = [was_typed(number) for number in _numbers(weighing)]
    route = "from typed text and floats"
    if all(typed):
        route = "from the typed text"
    elif not any(typed):
        route = "from the floats given"
    return Comparison(route, float(largest), float(exact.allowed))  # type: ignore[arg-type]


def _difference(name: str, first: float | None, second: Any, allowed: Fraction) -> Fraction:
    if first is None and second is None:
        return Fraction(0)
    if first is None or second is None:
        raise RoutesDisagree(name, str(first), str(second), "0 N m")
    difference = abs(Fraction(first) - Fraction(second))
    if difference > allowed:
        raise RoutesDisagree(name, f"{first!r} N m", f"{float(second)!r} N m", f"{float(allowed):.1e} N m")
    return difference


def _terms(weighing: Weighing, gravity: Fraction) -> Iterator[Fraction]:
    for support in weighing.supports:
        yield _per_reading(support, gravity) * _net(support)
    yield from _of_known_masses(weighing, gravity)


def _sizes(weighing: Weighing, gravity: Fraction) -> Iterator[Fraction]:
    for support in weighing.supports:
        yield abs(_per_reading(support, gravity)) * (_middle(support) + fraction(support.tare))
    yield from map(abs, _of_known_masses(weighing, gravity))


def _of_known_masses(weighing: Weighing, gravity: Fraction) -> Iterator[Fraction]:
    for item, sign in _known_masses(weighing):
        yield sign * gravity * fraction(item.mass) * fraction(item.arm) * _sign(item.side)


def _sign(side: str) -> int:
    return {"aft": 1, "forward": -1}[side]


def _counted(part: Part) -> int:
    return {"not fitted": 1, "fitted, not counted": -1}[part.state]


def _per_reading(support: Support, gravity: Fraction) -> Fraction:
    """Give the moment of one unit of net reading."""
    force = gravity if support.reading_unit == "kg" else Fraction(1)
    upward = {"up": 1, "down": -1}[support.pushes]
    return upward * force * _sign(support.side) * fraction(support.arm)


def _net(support: Support) -> Fraction:
    return _middle(support) - fraction(support.tare)


def _middle(support: Support) -> Fraction:
    series = [each for each in (support.readings, support.rising, support.falling) if each]
    return sum((_mean(each) for each in series), Fraction(0)) / len(series)


def _mean(readings: Sequence[float]) -> Fraction:
    return sum((fraction(reading) for reading in readings), Fraction(0)) / len(readings)


def _variances(weighing: Weighing, gravity: Fraction) -> Iterator[Variance]:
    """Go through every cause: the variance it brings to the moment, and its degrees of freedom."""
    for support in weighing.supports:
        yield from _of_support(support, weighing, gravity)
    yield from _of_calibration(weighing, gravity)
    for item, sign in _known_masses(weighing):
        mass, arm = fraction(item.mass), fraction(item.arm)
        stated = weighing.uncertainty
        yield _stated(item.mass_uncertainty or stated.mass_uncertainty, mass, sign * gravity * arm)
        yield _stated(item.arm_uncertainty or stated.arm, arm, sign * gravity * mass)
    yield _of_level(weighing, gravity)
    yield _of_gravity(weighing, gravity)


def _known_masses(weighing: Weighing) -> Iterator[tuple[HungMass | Part, int]]:
    yield from ((hung, -1) for hung in weighing.hung)
    yield from ((part, _counted(part)) for part in weighing.parts)


def _of_support(support: Support, weighing: Weighing, gravity: Fraction) -> Iterator[Variance]:
    stated, net, each = weighing.uncertainty, _net(support), _per_reading(support, gravity)
    series = [s for s in (support.readings, support.rising, support.falling) if s]
    for readings in series:
        share = each / len(series)
        if len(readings) > 1:
            middle = _mean(readings)
            squares = sum(((fraction(r) - middle) ** 2 for r in readings), Fraction(0))
            freedom = len(readings) - 1
            yield squares / freedom / len(readings) * share**2, Fraction(freedom)
        else:
            yield _stated(stated.repeatability, fraction(readings[0]), share, _change(support, gravity))
    for cause in (stated.scale, stated.friction, stated.air):
        yield _stated(cause, net, each, _change(support, gravity))
    tare = support.tare_uncertainty or stated.tare_uncertainty
    yield _stated(tare, fraction(support.tare), each, _change(support, gravity))
    arm = fraction(support.arm)
    yield _stated(support.arm_uncertainty or stated.arm, arm, each * net / arm)


def _of_calibration(weighing: Weighing, gravity: Fraction) -> Iterator[Variance]:
    stated = weighing.uncertainty.calibration
    if stated is None:
        return
    together: dict[str | None, Fraction] = {}
    for support in weighing.supports:
        size = _net(support) if stated.unit == "1" else _change(support, gravity)[stated.unit]
        together[support.scale] = together.get(support.scale, Fraction(0)) + size * _per_reading(support, gravity)
    for sensitivity in together.values():
        yield _squared(stated) * sensitivity**2, _freedom(stated)


def _of_level(weighing: Weighing, gravity: Fraction) -> Variance:
    surface, stated = weighing.surface, weighing.uncertainty.level
    if stated is None or surface.mass is None or surface.vertical_offset is None:
        return Fraction(0), None
    return _stated(stated, Fraction(1), fraction(surface.mass) * gravity * fraction(surface.vertical_offset))


def _of_gravity(weighing: Weighing, gravity: Fraction) -> Variance:
    stated = weighing.uncertainty.gravity
    if stated is None:
        return Fraction(0), None
    forces = (s for s in weighing.supports if s.reading_unit == "N")
    by_force = sum((_per_reading(s, gravity) * _net(s) for s in forces), Fraction(0))
    by_mass = sum(_terms(weighing, gravity), Fraction(0)) - by_force
    return _stated(stated, gravity, by_mass / gravity)


def _change(support: Support, gravity: Fraction) -> dict[str, Fraction]:
    """Give how many units of reading one unit of what was stated makes."""
    if support.reading_unit == "kg":
        return {"kg": Fraction(1), "N": 1 / gravity}
    return {"kg": gravity, "N": Fraction(1)}


def _stated(
    stated: Stated | None, value: Fraction, sensitivity: Fraction, change: dict[str, Fraction] | None = None
) -> Variance:
    if stated is None:
        return Fraction(0), None
    size = value if stated.unit == "1" else (change or {}).get(stated.unit, Fraction(1))
    return _squared(stated) * (size * sensitivity) ** 2, _freedom(stated)


def _squared(stated: Stated) -> Fraction:
    amount = fraction(stated.amount)
    if stated.shape == "expanded":
        return (amount / _coverage_factor(stated)) ** 2
    return amount**2 * _SQUARED[stated.shape]


def _coverage_factor(stated: Stated) -> Fraction:
    if stated.coverage_factor is None:
        raise CannotRead("an expanded uncertainty without its coverage factor")
    return Fraction(stated.coverage_factor)


def _freedom(stated: Stated) -> Fraction | None:
    return None if stated.degrees_of_freedom is None else Fraction(stated.degrees_of_freedom)


def _expanded(weighing: Weighing, variances: list[Variance]) -> Decimal | None:
    if not variances:
        return None
    contributions = [squared_contribution(squared, freedom) for squared, freedom in variances]
    stated = weighing.uncertainty
    return combine_decimal(contributions, coverage=stated.coverage, k=stated.k).expanded_uncertainty


def _numbers(record: Any) -> Iterator[float]:
    """Go through every number that enters the sum; zeros and defaults carry no text and need none."""
    if is_dataclass(record):
        for field in fields(record):
            if field.name not in {"coverage", "k", "coverage_factor", "degrees_of_freedom", "friction_fraction"}:
                yield from _numbers(getattr(record, field.name))
    elif isinstance(record, tuple):
        for item in record:
            yield from _numbers(item)
    elif isinstance(record, float) and (was_typed(record) or record not in (0.0, 9.80665)):
        yield record
