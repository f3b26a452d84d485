"""Whole random but valid weighings, for the laws.

The limits are drawn about the value that the weighing has, so that every
statement comes up, and values on a limit too.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import fields, is_dataclass, replace
from typing import Annotated, Any, get_args, get_origin, get_type_hints

from hypothesis import assume
from hypothesis import strategies as st

from hingeline.balance import (
    HungMass,
    Limits,
    MassLimits,
    MomentBand,
    Part,
    ReadingLimits,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    WeighingResult,
    weigh,
)
from hingeline.balance.decide import applicable_limits
from hingeline.document import _DIMENSIONS
from hingeline.errors import InputRefused
from hingeline.fields import Unit
from hingeline.surface import BalanceWeight
from hingeline.units import express, read, units_of, write

Draw = Callable[[st.SearchStrategy[Any]], Any]

SIDES = st.sampled_from(["aft", "forward"])
GRAVITIES = st.just(9.80665) | st.floats(9.76, 9.84)
SCALES = st.sampled_from([None, "HL-1", "HL-2"])


def sizes(low: float, high: float) -> st.SearchStrategy[float]:
    """Numbers as they are typed, with four decimals, and any float."""
    typed = st.integers(round(low * 1e4), round(high * 1e4)).map(lambda number: number / 1e4)
    return typed | st.floats(max(low, 1e-6), high)


FURTHEST_LIMIT = 4900.0
ARMS = sizes(0.02, 2.0)
PROBABILITIES = st.sampled_from([0.5, 0.68, 0.9, 0.95, 0.99, 0.9999]) | st.floats(0.5, 0.9999)
DEGREES = st.none() | st.integers(1, 60).map(float) | st.floats(1.0, 1e4)


@st.composite
def stated(draw: Draw, unit: str, largest: float) -> Stated:
    """An uncertainty of any shape, absolute in ``unit`` or as a fraction."""
    shape = draw(st.sampled_from(["limit", "triangular", "standard", "expanded", "resolution"]))
    relative = unit != "rad" and draw(st.integers(0, 3)) == 0
    amount = draw(sizes(0.0001, 0.1) if relative else sizes(0.0, largest))
    k = draw(st.sampled_from([1.0, 2.0, 3.0])) if shape == "expanded" else None
    return Stated(amount, "1" if relative else unit, shape, k, draw(DEGREES))


def perhaps(strategy: st.SearchStrategy[Any]) -> st.SearchStrategy[Any]:
    """Give something, or nothing."""
    return st.none() | strategy


def reading_uncertainty(largest: float = 0.2) -> st.SearchStrategy[Stated]:
    """Of readings: as a mass, a force or a fraction."""
    return stated("kg", largest) | stated("N", 10.0 * largest)


@st.composite
def supports(draw: Draw, *, pairs: bool = True) -> Support:
    """A support that lies under or pulls at the surface, read some times or across friction."""
    unit = draw(st.sampled_from(["kg", "N"]))
    top = 20.0 if unit == "kg" else 200.0
    tare = draw(st.just(0.0) | sizes(0.0, top / 10.0))
    middle = draw(st.just(0.0) | sizes(0.001, top))
    series = st.lists(sizes(0.0, top / 100.0), min_size=1, max_size=6)

    def shown() -> tuple[float, ...]:
        return tuple(tare + middle + more for more in draw(series))

    across = pairs and draw(st.integers(0, 2)) == 0
    return Support(
        arm=draw(ARMS),
        side=draw(SIDES),
        readings=() if across else shown(),
        rising=shown() if across else (),
        falling=shown() if across else (),
        reading_unit=unit,
        pushes=draw(st.sampled_from(["up", "down"])),
        tare=tare,
        scale=draw(SCALES),
        arm_uncertainty=draw(perhaps(stated("m", 0.01))),
        tare_uncertainty=draw(perhaps(reading_uncertainty())),
    )


HUNG = st.builds(
    HungMass,
    mass=sizes(0.001, 20.0),
    arm=ARMS,
    side=SIDES,
    mass_uncertainty=perhaps(stated("kg", 0.1)),
    arm_uncertainty=perhaps(stated("m", 0.01)),
)
PARTS = st.builds(
    Part,
    name=st.sampled_from(["tab pushrod", "fairing", "static wick"]),
    state=st.sampled_from(["not fitted", "fitted, not counted"]),
    mass=sizes(0.001, 5.0),
    arm=st.just(0.0) | ARMS,
    side=SIDES,
    mass_uncertainty=perhaps(stated("kg", 0.1)),
    arm_uncertainty=perhaps(stated("m", 0.01)),
)


@st.composite
def uncertainties(draw: Draw, *, across_friction: bool, level: bool) -> StatedUncertainty:
    """What is stated of the means of measurement; perhaps nothing."""
    return StatedUncertainty(
        scale=draw(perhaps(reading_uncertainty())),
        calibration=draw(perhaps(reading_uncertainty())),
        arm=draw(perhaps(stated("m", 0.01))),
        friction=None if across_friction else draw(perhaps(reading_uncertainty())),
        air=draw(perhaps(reading_uncertainty())),
        level=draw(perhaps(stated("rad", 0.08))) if level else None,
        gravity=draw(perhaps(stated("m/s^2", 0.02))),
        mass_uncertainty=draw(perhaps(stated("kg", 0.1))),
        tare_uncertainty=draw(perhaps(reading_uncertainty())),
        repeatability=draw(perhaps(reading_uncertainty())),
        coverage=draw(PROBABILITIES),
        k=draw(st.none() | st.sampled_from([1.0, 2.0, 3.0])),
    )


@st.composite
def surfaces(draw: Draw) -> Surface:
    """A surface, weighed as a whole or not."""
    return Surface(
        name="elevator, left half",
        mass=draw(perhaps(sizes(0.2, 60.0))),
        mass_uncertainty=draw(perhaps(stated("kg", 0.1))),
        vertical_offset=draw(perhaps(st.floats(-0.2, 0.2))),
        balance_weights=tuple(draw(st.lists(st.builds(BalanceWeight, sizes(0.01, 2.0), ARMS, SIDES), max_size=2))),
    )


@st.composite
def weighings(
    draw: Draw,
    *,
    fewest_supports: int = 1,
    most_supports: int = 3,
    pairs: bool = True,
    limited: bool = False,
) -> Weighing:
    """A whole weighing that is accepted.

    Parameters
    ----------
    fewest_supports, most_supports : int
    pairs : bool
        Whether supports may be read rising and falling.
    limited : bool
        Whether there must be moment limits.
    """
    surface = draw(surfaces())
    held = tuple(draw(st.lists(supports(pairs=pairs), min_size=fewest_supports, max_size=most_supports)))
    hung = tuple(draw(st.lists(HUNG, min_size=0 if held else 1, max_size=2)))
    level = surface.mass is not None and surface.vertical_offset is not None
    across = any(support.rising for support in held)
    bare = Weighing(
        surface=surface,
        supports=held,
        hung=hung,
        parts=tuple(draw(st.lists(PARTS, max_size=2))),
        uncertainty=draw(uncertainties(across_friction=across, level=level)),
        local_gravity=draw(GRAVITIES),
    )
    found = weigh(bare)
    bare = draw(_with_depth(bare, found))
    return replace(bare, limits=draw(_limits(bare, found, limited)))


@st.composite
def _with_depth(draw: Draw, weighing: Weighing, found: WeighingResult) -> Weighing:
    """Say perhaps where the trailing edge is: behind every aft support and the centre of gravity."""
    if draw(st.booleans()):
        return weighing
    arms = [support.arm for support in weighing.supports if support.side == "aft"]
    centre = found.centre_of_gravity
    least = max([0.05, *arms, 0.0 if centre is None else 1.01 * abs(centre.value)])
    if least > 9.0:
        return weighing
    depth = draw(st.floats(least, 10.0))
    return replace(weighing, surface=replace(weighing.surface, hinge_to_trailing_edge=depth))


@st.composite
def _limits(draw: Draw, weighing: Weighing, found: WeighingResult, limited: bool) -> Limits:
    kinds = ["both", "lower", "upper"] + ([] if limited else ["none"])
    mass = weighing.surface.mass
    kind = draw(st.sampled_from(kinds if mass is None else [*kinds, "bands"]))
    lower, upper = draw(_range_about(found.static_moment.value, found.static_moment.expanded_uncertainty or 0.1, kind))
    one_support = len(weighing.supports) == 1
    return Limits(
        lower=lower,
        upper=upper,
        rule=draw(st.sampled_from(["simple", "guarded"])),
        friction_fraction=draw(perhaps(st.floats(0.001, 1.0))),
        source=draw(st.sampled_from(["", "Merle T2 maintenance manual, page 27-4, revision 2"])),
        bands=draw(_bands(mass, found, limited)) if kind == "bands" and mass is not None else (),
        mass=None if mass is None or draw(st.booleans()) else draw(_mass_limits(mass)),
        reading=draw(_reading_limits(weighing, found)) if one_support and draw(st.booleans()) else None,
    )


@st.composite
def _mass_limits(draw: Draw, mass: float) -> MassLimits:
    lower, upper = draw(_range_about(mass, 0.1, "both"))
    return MassLimits(max(0.0, lower), max(0.0, upper))


@st.composite
def _range_about(draw: Draw, value: float, width: float, kind: str) -> tuple[float | None, float | None]:
    """A range near a value, in steps of its U: on the limit, touching, clearly inside or outside."""
    steps = st.integers(-3, 3).map(float) | st.floats(-4.0, 4.0)
    low = draw(steps)
    high = low + draw(st.integers(0, 6).map(float) | st.floats(0.0, 8.0))
    lower = _within(value + low * width) if kind in ("both", "lower") else None
    upper = _within(value + high * width) if kind in ("both", "upper") else None
    return lower, upper


def _within(bound: float) -> float:
    """Stay where limits are accepted, also doubled."""
    return max(-FURTHEST_LIMIT, min(FURTHEST_LIMIT, bound))


@st.composite
def _bands(draw: Draw, mass: float, found: WeighingResult, limited: bool) -> tuple[MomentBand, ...]:
    """Mass bands in a row; the surface's mass within, on an edge, in a gap or beyond all of them."""
    lowest = 0.0 if limited else 0.25
    first = mass * draw(st.sampled_from([0.5, 0.9, 1.0]) | st.floats(0.5, 1.0 + lowest))
    steps = draw(st.lists(st.floats(0.05, 1.0), min_size=1, max_size=3))
    bands, edge = [], first
    for step in steps:
        heaviest = max(edge * (1.0 + step), mass if limited and not bands else 0.0)
        moment = found.static_moment
        bounds = draw(_range_about(moment.value, moment.expanded_uncertainty or 0.1, "both"))
        bands.append(MomentBand(edge, heaviest, *bounds))
        edge = heaviest + (0.0 if limited else draw(st.sampled_from([0.0, 0.2])))
    try:
        applicable_limits(Limits(bands=tuple(bands)), mass)
    except InputRefused:  # on an edge of two bands that exclude each other
        assume(False)
    return tuple(bands)


@st.composite
def _reading_limits(draw: Draw, weighing: Weighing, found: WeighingResult) -> ReadingLimits:
    unit = draw(st.sampled_from(["kg", "N"]))
    per_unit = weighing.supports[0].arm * (weighing.local_gravity if unit == "kg" else 1.0)
    kind = draw(st.sampled_from(["both", "lower", "upper"]))
    width = (found.static_moment.expanded_uncertainty or 0.1) / per_unit
    return ReadingLimits(*draw(_range_about(found.static_moment.value / per_unit, width, kind)), unit)


@st.composite
def typed_weighings(draw: Draw) -> Weighing:
    """A weighing whose every number remembers its text, in any unit that the table knows."""
    plain = draw(weighings())
    try:
        retyped: Weighing = draw(_retyped(plain, plain.local_gravity))
        weigh(retyped)
    except InputRefused:  # the last digit of a typed number put lower above upper, or tare above the readings
        assume(False)
        raise
    return retyped


@st.composite
def _retyped(draw: Draw, record: Any, gravity: float) -> Any:
    hints = get_type_hints(type(record), include_extras=True)
    return replace(
        record,
        **{
            field.name: draw(_value(getattr(record, field.name), hints[field.name], record, gravity))
            for field in fields(record)
        },
    )


@st.composite
def _value(draw: Draw, value: Any, hint: Any, record: Any, gravity: float) -> Any:
    unit = _unit_of(hint)
    if isinstance(value, float) and unit is not None:
        dimension = _DIMENSIONS[unit.of(record)]
        own = draw(st.sampled_from(units_of(dimension)))
        text = write(express(value, own, gravity, dimension=dimension), own)
        return read(text, dimension, local_gravity=gravity)
    if isinstance(value, tuple):
        inner = next((each for each in get_args(_bare(hint)) if each is not Ellipsis), None)
        return tuple(draw(_value(item, inner, record, gravity)) for item in value)
    return draw(_retyped(value, gravity)) if is_dataclass(value) else value


def _bare(hint: Any) -> Any:
    """Leave ``None`` out of a choice of types."""
    kinds = [kind for kind in get_args(hint) if kind is not type(None)]
    is_choice = type(None) in get_args(hint)
    return kinds[0] if is_choice else hint


def _unit_of(hint: Any) -> Unit | None:
    hint = _bare(hint)
    marks = get_args(hint)[1:] if get_origin(hint) is Annotated else ()
    return next((mark for mark in marks if isinstance(mark, Unit)), None)
