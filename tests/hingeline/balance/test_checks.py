"""What a caller's records are refused for. Files and their faults stand in tests/faults."""

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
    weigh,
)
from hingeline.balance.checks import refuse_unusable
from hingeline.errors import InputRefused, Refusal
from hingeline.units import read

SUPPORT = Support(arm=0.255, readings=(0.84, 0.845), tare=0.1)
SOUND = Weighing(
    surface=Surface("elevator", mass=4.1, hinge_to_trailing_edge=0.27, vertical_offset=-0.02),
    supports=(SUPPORT,),
    hung=(HungMass(0.1, 0.2),),
    parts=(Part("tab", "not fitted", 0.04, 0.12),),
    limits=Limits(0.0, 2.1),
)


def support(**changes: Any) -> Weighing:
    return replace(SOUND, supports=(replace(SUPPORT, **changes),))


def surface(**changes: Any) -> Weighing:
    return replace(SOUND, surface=replace(SOUND.surface, **changes))


def hung(**changes: Any) -> Weighing:
    return replace(SOUND, hung=(replace(SOUND.hung[0], **changes),))


def part(**changes: Any) -> Weighing:
    return replace(SOUND, parts=(replace(SOUND.parts[0], **changes),))


def stated(**changes: Any) -> Weighing:
    return replace(SOUND, uncertainty=StatedUncertainty(**changes))


def limits(**changes: Any) -> Weighing:
    return replace(SOUND, limits=Limits(**changes))


def refusals_of(weighing: Weighing) -> tuple[Refusal, ...]:
    with pytest.raises(InputRefused) as caught:
        weigh(weighing)
    return caught.value.refusals


NAN, INFINITY = math.nan, math.inf
STEP = Stated(0.005, "kg", "resolution")
REFUSED: list[tuple[Weighing, str, str, str]] = [
    # what, field, a part of what is expected, a part of the remedy
    (replace(SOUND, local_gravity=1.62), "local_gravity", "between 9.7 and 9.9", "Leave it out"),
    (replace(SOUND, local_gravity=NAN), "local_gravity", "between 9.7 and 9.9", "Leave it out"),
    (replace(SOUND, supports=(), hung=()), "support", "a support or a hung mass", "what holds the surface level"),
    (surface(name="  "), "surface.name", "a name", "as the records do"),
    (surface(mass=0.0), "surface.mass", "a mass", "number and its unit"),
    (surface(mass=NAN), "surface.mass", "a mass", "number and its unit"),
    (surface(hinge_to_trailing_edge=-0.27), "surface.hinge_to_trailing_edge", "a length", "number and its unit"),
    (surface(vertical_offset=INFINITY), "surface.vertical_offset", "a height", "unit"),
    (support(arm=0.0), "support[0].arm", "more than 0", 'goes into "side"'),
    (support(arm=-0.255), "support[0].arm", "more than 0", 'goes into "side"'),
    (support(arm=NAN), "support[0].arm", "more than 0", 'goes into "side"'),
    (support(arm=255.0), "support[0].arm", "between 1 mm and 10 m", "Did you mean 255 mm?"),
    (support(arm=0.4), "support[0].arm", "up to the trailing edge, 270 mm", "If a bar carries the load"),
    (support(side="Aft"), "support[0].side", "aft or forward", "one of these words"),
    (support(pushes="sideways"), "support[0].pushes", "up or down", "one of these words"),
    (support(reading_unit="lb"), "support[0].reading_unit", "kg or N", "one of these words"),
    (support(readings=()), "support[0].readings", "at least one reading", "what the scale showed"),
    (support(rising=(0.85,)), "support[0].readings", "either readings, or rising and falling", "Leave one"),
    (support(readings=(), rising=(0.85,)), "support[0].falling", "while rising and while falling", "Give falling"),
    (support(readings=(), falling=(0.85,)), "support[0].rising", "while rising and while falling", "Give rising"),
    (support(readings=(0.84, -0.1)), "support[0].readings[1]", "from 0 to 1000 kg", "A support only pushes"),
    (support(readings=(NAN,)), "support[0].readings[0]", "from 0 to 1000 kg", "number and its unit"),
    (support(readings=(), rising=(INFINITY,), falling=(0.1,)), "support[0].rising[0]", "from 0", "unit"),
    (support(tare=-0.1), "support[0].tare", "a tare from 0", "Enter 0"),
    (support(tare=0.9), "support[0].tare", "a tare below the readings", "swapped"),
    (hung(mass=0.0), "hung[0].mass", "a mass", "number and its unit"),
    (hung(arm=20.0), "hung[0].arm", "between 1 mm and 10 m", "Did you mean"),
    (hung(side="left"), "hung[0].side", "aft or forward", "one of these words"),
    (part(mass=-1.0), "part[0].mass", "a mass", "number and its unit"),
    (part(arm=-0.1), "part[0].arm", "more than 0", 'goes into "side"'),
    (part(state="off"), "part[0].state", "not fitted or fitted, not counted", "one of these words"),
    (stated(scale=Stated(-0.005, "kg")), "uncertainty.scale.limit", "0 or more", "without a sign"),
    (stated(arm=Stated(NAN, "m")), "uncertainty.arm.limit", "0 or more", "number and its unit"),
    (stated(arm=Stated(1.2, "1")), "uncertainty.arm.limit", "less than 100 %", "number and its unit"),
    (stated(arm=Stated(0.002, "kg")), "uncertainty.arm.unit", "m or 1", "a part of the value"),
    (stated(level=Stated(0.01, "1")), "uncertainty.level.unit", "rad", "a part of the value"),
    (stated(friction=Stated(0.01, "m")), "uncertainty.friction.unit", "kg or N or 1", "a part of the value"),
    (stated(air=Stated(0.01, "kg", "gaussian")), "uncertainty.air.shape", "limit or triangular", "one of these"),  # type: ignore[arg-type]
    (stated(air=Stated(0.01, "kg", "expanded")), "uncertainty.air.k", "the coverage factor", "certificate"),
    (stated(air=Stated(0.01, "kg", "expanded", 40.0)), "uncertainty.air.k", "between 0.1 and 10", "mostly 2"),
    (stated(air=Stated(0.01, "kg", "limit", None, 0.5)), "uncertainty.air.degrees_of_freedom", "1 or more", "Leave"),
    (stated(coverage=95.0), "uncertainty.coverage", "between 0.5 and 0.9999", "0.95 is usual"),
    (stated(k=0.0), "uncertainty.k", "between 0.1 and 10", "2 is usual"),
    (support(arm_uncertainty=Stated(-1.0, "m")), "support[0].arm_uncertainty.limit", "0 or more", "sign"),
    (hung(mass_uncertainty=Stated(0.01, "N")), "hung[0].mass_uncertainty.unit", "kg or 1", "a part of the value"),
    (stated(level=Stated(0.2, "rad")), "uncertainty.level", "", ""),
    (limits(lower=2.1, upper=0.0), "limits.lower", "below the upper one", "Are they swapped?"),
    (limits(upper=INFINITY), "limits.upper", "a limit of ordinary size", "number and its unit"),
    (limits(upper=2.1, rule="strict"), "limits.rule", "simple or guarded", "one of these words"),
    (limits(upper=2.1, friction_fraction=2.5), "limits.friction_fraction", "up to 1", "2.5 % is 0.025"),
    (limits(mass=MassLimits(4.0, 3.0)), "limits.mass.lower", "below the upper one", "swapped"),
    (limits(mass=MassLimits()), "limits.mass", "a lower or an upper limit", "Give one"),
    (limits(reading=ReadingLimits(1.0, 0.0)), "limits.reading.lower", "below the upper one", "swapped"),
    (limits(upper=2.1, bands=(MomentBand(3.0, 5.0, 0.0, 2.1),)), "limits.band", "mass bands, or one band", "Leave"),
    (limits(bands=(MomentBand(5.0, 3.0, 0.0, 2.1),)), "limits.band[0].mass.lower", "below the upper one", "swapped"),
    (limits(bands=(MomentBand(3.0, 5.0, 2.1, 0.0),)), "limits.band[0].lower", "below the upper one", "swapped"),
]


def test_the_sound_weighing_is_accepted() -> None:
    """What the cases below change is accepted as it is."""
    assert weigh(SOUND).statement == "inside"


@pytest.mark.parametrize(
    ("weighing", "field", "expected", "remedy"), REFUSED, ids=[f"{case[1]}-{i}" for i, case in enumerate(REFUSED)]
)
def test_refused(weighing: Weighing, field: str, expected: str, remedy: str) -> None:
    """Named by its field, with what would be accepted and what to do."""
    found = [each for each in refusals_of(weighing) if each.field.startswith(field)]
    assert found, [each.field for each in refusals_of(weighing)]
    assert expected in found[0].expected
    assert remedy in found[0].remedy
    assert found[0].expected
    assert found[0].remedy


@pytest.mark.parametrize(
    ("weighing", "field"),
    [
        (replace(stated(level=Stated(0.01, "rad")), surface=Surface("elevator", mass=4.1)), "surface.vertical_offset"),
        (replace(stated(level=Stated(0.01, "rad")), surface=Surface("elevator", vertical_offset=0.0)), "surface.mass"),
        (replace(limits(mass=MassLimits(3.0, 4.0)), surface=Surface("elevator")), "surface.mass"),
        (replace(limits(bands=(MomentBand(3.0, 4.0, 0.0, 1.0),)), surface=Surface("elevator")), "surface.mass"),
        (replace(limits(reading=ReadingLimits(0.0, 1.0)), supports=(SUPPORT, SUPPORT)), "limits.reading"),
        (
            replace(stated(friction=STEP), supports=(replace(SUPPORT, readings=(), rising=(0.9,), falling=(0.8,)),)),
            "uncertainty.friction",
        ),
    ],
)
def test_what_does_not_go_together(weighing: Weighing, field: str) -> None:
    """One thing needs another, or excludes it: the refusal stands where it can be mended."""
    assert [each.field for each in refusals_of(weighing)] == [field]


def test_a_level_error_says_of_each_what_it_acts_through() -> None:
    """Mass and height are both asked for, each with its own remedy (m g h tan of the level: test_second_opinion)."""
    found = refusals_of(replace(stated(level=Stated(0.01, "rad")), surface=Surface("elevator")))
    assert [(each.field, each.expected, each.remedy.partition(":")[0]) for each in found] == [
        ("surface.mass", "the surface's mass", "A level error acts through the mass"),
        (
            "surface.vertical_offset",
            "the height of the surface's centre of gravity",
            "A level error acts through the height of the centre of gravity",
        ),
    ]


def test_all_faults_in_one_go() -> None:
    """Six faults in six places are six refusals."""
    bad = replace(
        support(arm=-1.0, readings=(NAN,)),
        local_gravity=0.0,
        surface=Surface(""),
        uncertainty=StatedUncertainty(coverage=2.0),
        limits=Limits(2.0, 1.0),
    )
    assert {each.field for each in refusals_of(bad)} == {
        "local_gravity",
        "surface.name",
        "support[0].arm",
        "support[0].readings[0]",
        "uncertainty.coverage",
        "limits.lower",
    }


def test_what_was_typed_is_shown() -> None:
    """A refusal shows the text, not the number that was made of it."""
    (refusal,) = refusals_of(support(arm=read("25.5 km", "length")))
    assert refusal.value == "25.5 km"


def test_limits_read_for_another_place_are_refused() -> None:
    """20 in-lb read at standard gravity cannot stand beside readings weighed at 9.81 m/s²: gravity would not cancel."""
    there = replace(limits(upper=read("20 in-lb", "moment")), local_gravity=9.81)
    (refusal,) = refusals_of(there)
    assert (refusal.field, refusal.value) == ("limits.upper", "20 in-lb")
    assert "9.81 m/s^2" in refusal.expected
    assert "local_gravity" in refusal.remedy
    here = replace(limits(upper=read("20 in-lb", "moment", local_gravity=9.81)), local_gravity=9.81)
    assert weigh(here).statement == "inside"
    banded = MomentBand(3.0, 5.0, 0.0, read("20 in-lb", "moment"))
    (refusal,) = refusals_of(replace(limits(bands=(banded,)), local_gravity=9.81))
    assert refusal.field == "limits.band[0].upper"
    in_newtons = replace(limits(upper=read("2.2 N m", "moment")), local_gravity=9.81)
    assert weigh(in_newtons).statement == "inside"


def test_before_the_work_no_readings_are_asked_for() -> None:
    """A plan may lack readings; nothing else is let off."""
    unread = support(readings=())
    refuse_unusable(unread, before=True)
    with pytest.raises(InputRefused):
        refuse_unusable(unread)
    with pytest.raises(InputRefused):
        refuse_unusable(support(readings=(), arm=-1.0), before=True)


EDGES: list[Callable[[], Weighing]] = [
    lambda: support(arm=0.2835),  # 5 % beyond the trailing edge
    lambda: part(arm=0.0),
    lambda: support(tare=0.842),  # between two readings
    lambda: support(readings=(0.0,), tare=0.0),
    lambda: stated(coverage=0.5),
    lambda: limits(lower=1.0, upper=1.0),
    lambda: limits(upper=2.1, friction_fraction=1.0),
    lambda: limits(mass=MassLimits(None, 5.0)),
]


@pytest.mark.parametrize("edge", EDGES)
def test_what_is_just_allowed(edge: Callable[[], Weighing]) -> None:
    """At the edge of what is refused it is accepted, and computed."""
    assert abs(weigh(edge()).static_moment.value) < 5.0
