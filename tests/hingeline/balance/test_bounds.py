"""Every bound of a weighing from both sides: the last number that is taken, and the first that is refused.

The bounds are our own choice (common practice, no source): no surface of a light aircraft and no bench scale goes
beyond them. Each is typed here anew and not taken from the program.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest

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
)
from hingeline.balance.checks import refuse_unusable
from hingeline.errors import InputRefused, Refusal
from hingeline.surface import BalanceWeight

SUPPORT = Support(arm=0.255, readings=(0.84, 0.845), tare=0.1)
SOUND = Weighing(Surface("elevator", mass=4.1, vertical_offset=-0.02), (SUPPORT,), limits=Limits(0.0, 2.1))
FIVE_DEGREES = 5.0 * math.pi / 180.0


def refusals_of(weighing: Weighing) -> list[Refusal]:
    """Give what a weighing is refused for; nothing where it is taken."""
    try:
        refuse_unusable(weighing)
    except InputRefused as refused:
        return list(refused.refusals)
    return []


def support(**changes: Any) -> Weighing:
    return replace(SOUND, supports=(replace(SUPPORT, **changes),))


def surface(**changes: Any) -> Weighing:
    return replace(SOUND, surface=replace(SOUND.surface, **changes))


def stated(**changes: Any) -> Weighing:
    return replace(SOUND, uncertainty=StatedUncertainty(**changes))


def limits(**changes: Any) -> Weighing:
    return replace(SOUND, limits=Limits(**changes))


def weight(mass: float, arm: float) -> Weighing:
    return surface(balance_weights=(BalanceWeight(mass, arm, "forward"),))


def forward(weighing: Weighing) -> Weighing:
    return replace(weighing, supports=(replace(SUPPORT, side="forward"),))


def above(value: float) -> float:
    return math.nextafter(value, math.inf)


def below(value: float) -> float:
    return math.nextafter(value, -math.inf)


Changed = Callable[[float], Weighing]
# what is changed, the field that is refused, taken at the least, taken at the most
BETWEEN: list[tuple[Changed, str, float, float]] = [
    (lambda x: replace(SOUND, local_gravity=x), "local_gravity", 9.7, 9.9),
    (lambda x: surface(mass=x), "surface.mass", 0.001, 1000.0),
    (lambda x: support(arm=x), "support[0].arm", 0.001, 10.0),
    (lambda x: forward(surface(hinge_to_trailing_edge=x)), "surface.hinge_to_trailing_edge", 0.001, 10.0),
    (lambda x: surface(vertical_offset=x), "surface.vertical_offset", -10.0, 10.0),
    (lambda x: weight(x, 0.1), "surface.balance_weight[0].mass", above(0.0), 1000.0),
    (lambda x: weight(0.1, x), "surface.balance_weight[0].arm", 0.001, 10.0),
    (lambda x: support(readings=(x, 0.9), tare=0.0), "support[0].readings[0]", 0.0, 1000.0),
    (lambda x: support(readings=(x, 0.9), tare=0.0, reading_unit="N"), "support[0].readings[0]", 0.0, 10_000.0),
    (lambda x: support(readings=(), rising=(x,), falling=(0.9,)), "support[0].rising[0]", 0.0, 1000.0),
    (lambda x: support(readings=(), rising=(0.9,), falling=(x,)), "support[0].falling[0]", 0.0, 1000.0),
    (lambda x: support(tare=x), "support[0].tare", 0.0, 0.845),
    (lambda x: support(tare=x, readings=(), rising=(0.7,), falling=(0.8,)), "support[0].tare", 0.0, 0.8),
    (lambda x: replace(SOUND, hung=(HungMass(x, 0.2),)), "hung[0].mass", above(0.0), 1000.0),
    (lambda x: replace(SOUND, hung=(HungMass(0.1, x),)), "hung[0].arm", 0.001, 10.0),
    (lambda x: replace(SOUND, parts=(Part("tab", "not fitted", x, 0.1),)), "part[0].mass", above(0.0), 1000.0),
    (lambda x: replace(SOUND, parts=(Part("tab", "not fitted", 0.1, x),)), "part[0].arm", 0.001, 10.0),
    (lambda x: stated(scale=Stated(x, "kg")), "uncertainty.scale.limit", 0.0, below(1000.0)),
    (lambda x: stated(scale=Stated(x, "N")), "uncertainty.scale.limit", 0.0, below(10_000.0)),
    (lambda x: stated(scale=Stated(x, "1")), "uncertainty.scale.limit", 0.0, below(1.0)),
    (lambda x: stated(arm=Stated(x, "m", "triangular")), "uncertainty.arm.limit", 0.0, below(1.0)),
    (lambda x: stated(gravity=Stated(x, "m/s^2", "standard")), "uncertainty.gravity.standard", 0.0, below(0.1)),
    (lambda x: stated(level=Stated(x, "rad")), "uncertainty.level", 0.0, FIVE_DEGREES),
    (lambda x: stated(air=Stated(0.01, "kg", "expanded", x)), "uncertainty.air.k", 0.1, 10.0),
    (lambda x: stated(air=Stated(0.01, "kg", "limit", None, x)), "uncertainty.air.degrees_of_freedom", 1.0, 1e9),
    (lambda x: stated(coverage=x), "uncertainty.coverage", 0.5, 0.9999),
    (lambda x: stated(k=x), "uncertainty.k", 0.1, 10.0),
    (lambda x: limits(upper=x), "limits.upper", above(-10_000.0), below(10_000.0)),
    (lambda x: limits(lower=x), "limits.lower", above(-10_000.0), below(10_000.0)),
    (lambda x: limits(lower=x, upper=1.0), "limits.lower", above(-10_000.0), 1.0),
    (lambda x: limits(mass=MassLimits(x, None)), "limits.mass.lower", 0.0, below(10_000.0)),
    (lambda x: limits(mass=MassLimits(None, x)), "limits.mass.upper", 0.0, below(10_000.0)),
    (lambda x: limits(mass=MassLimits(x, 4.0)), "limits.mass.lower", 0.0, 4.0),
    (lambda x: limits(reading=ReadingLimits(x, None)), "limits.reading.lower", above(-10_000.0), below(10_000.0)),
    (lambda x: limits(upper=2.0, friction_fraction=x), "limits.friction_fraction", above(0.0), 1.0),
    (lambda x: limits(bands=(MomentBand(x, 5.0, 0.0, 1.0),)), "limits.band[0].mass.lower", 0.0, 5.0),
    (lambda x: limits(bands=(MomentBand(3.0, 5.0, x, 1.0),)), "limits.band[0].lower", above(-10_000.0), 1.0),
]
NAMES = [f"{field}-{number}" for number, (_, field, _, _) in enumerate(BETWEEN)]


@pytest.mark.parametrize(("changed", "field", "least", "most"), BETWEEN, ids=NAMES)
def test_a_bound_is_taken_and_what_lies_beyond_is_refused(
    changed: Changed, field: str, least: float, most: float
) -> None:
    """The least and the most are taken; the next float beyond is refused, by that field alone."""
    assert refusals_of(changed(least)) == []
    assert refusals_of(changed(most)) == []
    for beyond in (below(least), above(most), math.nan, math.inf, -math.inf):
        refused = refusals_of(changed(beyond))
        assert refused, beyond
        assert all(each.field.startswith(field) for each in refused), beyond


def test_a_part_on_the_hinge_line_is_taken() -> None:
    """What hangs on the hinge line itself turns nothing; a support there would show nothing."""
    assert refusals_of(replace(SOUND, parts=(Part("horn", "not fitted", 0.1, 0.0),))) == []
    assert [each.field for each in refusals_of(support(arm=0.0))] == ["support[0].arm"]


# ------------------------------------------------------------------ the depth of the surface


def deep(depth: float | None, arm: float, **changes: Any) -> list[Refusal]:
    """A surface so deep, and a support so far aft."""
    return refusals_of(replace(surface(hinge_to_trailing_edge=depth), supports=(replace(SUPPORT, arm=arm, **changes),)))


def test_a_support_may_stand_a_twentieth_beyond_the_trailing_edge() -> None:
    """Of 0.2 m: 0.21 m is taken and 0.2101 m is not; forward of the hinge line, or without a depth, no edge is near."""
    assert deep(0.2, 0.2 * 1.05) == []
    (refusal,) = deep(0.2, 0.2101)
    assert (refusal.field, refusal.value) == ("support[0].arm", "0.2101")
    assert "200 mm aft of the hinge line" in refusal.expected
    assert deep(0.2, 0.3, side="forward") == deep(None, 0.3) == []


@pytest.mark.parametrize(
    ("depth", "arm", "meant"),
    [
        # Three times as far is still the number that is asked about; farther off, the unit or the point is guessed.
        (0.27, 0.81, None),
        (0.27, 0.82, "82 mm"),
        (0.27, 2.5, "250 mm"),
        (0.27, 9.0, "90 mm"),
    ],
)
def test_far_beyond_the_edge_a_slip_of_the_point_is_guessed(depth: float, arm: float, meant: str | None) -> None:
    (refusal,) = deep(depth, arm)
    said = f"Did you mean {meant}?" if meant else "Check the number and its unit."
    assert refusal.remedy.startswith(said)
    assert refusal.remedy.endswith("leave surface.hinge_to_trailing_edge out.")


@pytest.mark.parametrize(
    ("arm", "remedy"),
    [
        (255.0, "Did you mean 255 mm?"),
        (2000.0, "Did you mean 2000 mm?"),
        (2001.0, "Check the number and its unit."),
        (20.0, "Did you mean 20 mm?"),
        (19.9, "Did you mean 1990 mm?"),
        (0.0009, "Did you mean 900 mm?"),
        (0.00001, "Check the number and its unit."),
    ],
)
def test_an_arm_in_another_unit_is_guessed(arm: float, remedy: str) -> None:
    """Millimetres typed as metres first, then the point: what comes out between 20 mm and 2 m is asked about."""
    (refusal,) = refusals_of(support(arm=arm))
    assert refusal.remedy == remedy


def test_a_mass_that_puts_the_centre_behind_the_edge_is_refused() -> None:
    """At the trailing edge itself it is taken; a tenth of a millimetre farther it is not, on either side."""
    from hingeline.balance.checks import refuse_impossible_centre

    shallow = surface(hinge_to_trailing_edge=0.27)
    for centre in (0.27, -0.27, None):
        refuse_impossible_centre(shallow, centre)
    refuse_impossible_centre(SOUND, 5.0)
    for centre, side in ((0.2701, "aft"), (-0.2701, "forward")):
        with pytest.raises(InputRefused, match=f"it would lie 270.1 mm {side}: one of mass") as refused:
            refuse_impossible_centre(shallow, centre)
        assert "within 270 mm of the hinge line" in refused.value.refusals[0].expected


def test_a_band_without_a_limit_is_refused() -> None:
    """A band, a mass or a reading without a limit could never be outside."""
    for nothing, field in (
        (limits(bands=(MomentBand(3.0, 5.0, None, None),)), "limits.band[0]"),
        (limits(reading=ReadingLimits(None, None)), "limits.reading"),
    ):
        (refusal,) = refusals_of(nothing)
        assert (refusal.field, refusal.expected) == (field, "a lower or an upper limit")


def test_a_negative_reading_is_told_what_it_means() -> None:
    """A support only pushes; a reading that is too large has no such reason."""
    negative, large = support(readings=(-0.1,), tare=0.0), support(readings=(1001.0,), tare=0.0)
    assert 'a hook with pushes = "down"' in refusals_of(negative)[0].remedy
    assert refusals_of(large)[0].remedy == "Check the number and its unit."


def test_a_size_with_a_sign_and_one_too_large_are_told_apart() -> None:
    assert refusals_of(stated(arm=Stated(-0.1, "m")))[0].remedy == "Give the size without a sign."
    (large,) = refusals_of(stated(arm=Stated(1.0, "m")))
    assert (large.remedy, large.expected) == ("Check the number and its unit.", "0 or more, and less than 1 m")
