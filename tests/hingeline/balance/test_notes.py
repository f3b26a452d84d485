"""Each note appears when it should, and only then.

One sound weighing has every uncertainty stated, limits with a source, and nothing to be said: its only
note is none at all. Each case changes one thing and must bring exactly one sentence.
"""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from hingeline.balance import (
    HungMass,
    Limits,
    MomentBand,
    Part,
    Stated,
    StatedUncertainty,
    Support,
    Surface,
    Weighing,
    weigh,
)
from hingeline.balance.notes import CAUTIONS
from hingeline.units import read

STEP = Stated(0.005, "kg", "resolution")
SMALL = Stated(0.001, "kg", "standard")
SOUND_UNCERTAINTY = StatedUncertainty(
    scale=STEP,
    calibration=Stated(0.01, "kg", "expanded", 2.0),
    arm=Stated(0.001, "m"),
    friction=SMALL,
    air=SMALL,
    level=Stated(0.001, "rad"),
    gravity=None,
    mass_uncertainty=SMALL,
    tare_uncertainty=SMALL,
)
SUPPORT = Support(arm=0.255, readings=(0.840, 0.845, 0.840, 0.845, 0.840))
SOUND = Weighing(
    surface=Surface("elevator", mass=4.1, mass_uncertainty=SMALL, vertical_offset=-0.02),
    supports=(SUPPORT,),
    uncertainty=SOUND_UNCERTAINTY,
    limits=Limits(0.0, 3.0, source="Merle T2 maintenance manual, page 27-4, revision 2"),
)
FEW = (
    "Few readings, and their scatter leads: y ± U holds the true value somewhat less often than its coverage says. "
    "Take five readings or more."
)
GRAVITY_IS_EXACT = "Taken as exact, since nothing is stated: local gravity."


def stated(**changes: Any) -> Weighing:
    return replace(SOUND, uncertainty=replace(SOUND_UNCERTAINTY, **changes))


def read_as(**changes: Any) -> Weighing:
    return replace(SOUND, supports=(replace(SUPPORT, **changes),))


def limited(**changes: Any) -> Weighing:
    return replace(SOUND, limits=replace(SOUND.limits, **changes))


def across(rising: tuple[float, ...], falling: tuple[float, ...], **changes: Any) -> Weighing:
    """Read rising and falling, without a stated friction."""
    weighing = stated(friction=None, **changes)
    return replace(weighing, supports=(Support(arm=0.255, rising=rising, falling=falling),))


def notes_of(weighing: Weighing) -> set[str]:
    """What is said beside what the sound weighing says."""
    notes = weigh(weighing).notes
    assert len(set(notes)) == len(notes)
    return set(notes) - {GRAVITY_IS_EXACT}


def missing(*names: str) -> str:
    return f"Not stated, so counted as nothing: {', '.join(names)}. The real uncertainty is larger."


def exact(*names: str) -> str:
    return f"Taken as exact, since nothing is stated: {', '.join(names)}."


NO_UNCERTAINTY = (
    "No uncertainty can be given, and so no statement by the guarded rule. State the scale's resolution "
    "and calibration, the arm's uncertainty and the friction. Or take several readings, lifting and "
    "resetting the surface each time."
)
ONE_READING = "One reading: its repeatability is not known and not counted. Lift, reset, read again."
ONE_PAIR = "One pair of rising and falling readings: their repeatability is not known and not counted."
SWAPPED = "The falling readings lie above the rising ones: are they swapped?"
FAR = "Reading 5 stands far from the rest. It is kept: give the reason, or weigh again."
OFF_STEP = "A reading is no whole number of the scale's steps of 0.005 kg: check the reading or the step."
NO_LIMITS = "No limits are given, so no statement is made."
NO_SOURCE = "No source is given for the limits: name document, page and issue before anyone relies on this."
EMPTY = (
    "The guarded band is empty: the uncertainty is as wide as the limits, so nothing measured this way "
    "can be shown to be inside."
)
GRAVITY = (
    "The uncertainty of local gravity is counted in full; against limits in kg cm or in-lb it cancels, "
    "so there U is somewhat too large."
)
COVERS_ZERO = "The interval covers zero: whether the surface is tail-heavy or nose-heavy is not shown."
TOO_MUCH_FRICTION = (
    "The friction moment is larger than the approved data allows: free the bearings and weigh again "
    "before relying on this statement."
)
NOT_ACROSS = "A friction allowance is given but no rising and falling readings: the friction is not checked."
NO_ALLOWANCE = "A friction allowance is given but no moment limit that it is a part of: the friction is not checked."
EDGE = "The surface's mass lies on the edge of two mass bands: the tighter limits of both are used."
NO_BAND = "The surface's mass lies in none of the mass bands: the approved data gives no moment limit for it."
ONLY_SCATTER = stated(
    scale=None, calibration=None, friction=None, air=None, arm=None, level=None, tare_uncertainty=None
)
BANDS = Limits(bands=(MomentBand(3.0, 4.1, 0.0, 3.0), MomentBand(4.1, 5.0, 0.0, 3.0)), source="page 27-4")
STEPPED = replace(BANDS, bands=(MomentBand(3.0, 4.1, 0.0, 3.0), MomentBand(4.1, 5.0, 0.0, 2.5)))
NEXT_BAND = (
    "Give or take its uncertainty, the surface's mass may lie in another mass band: look whether the moment keeps the "
    "limits there too."
)

HEAVIER = replace(SOUND.surface, mass=4.2)

CASES: dict[str, tuple[Weighing, set[str]]] = {
    "all is stated": (SOUND, set()),
    "no scale's step": (stated(scale=None), {missing("scale's step")}),
    "no calibration": (stated(calibration=None), {missing("scale calibration")}),
    "no friction": (stated(friction=None), {missing("friction in the bearings")}),
    "no air": (stated(air=None), {missing("air currents")}),
    "no arm": (stated(arm=None), {missing("arm")}),
    "the arm at the support": (
        replace(stated(arm=None), supports=(replace(SUPPORT, arm_uncertainty=Stated(0.001, "m")),)),
        set(),
    ),
    "no level": (stated(level=None), {missing("level")}),
    "only the readings scatter": (
        ONLY_SCATTER,
        {missing("scale's step", "scale calibration", "friction in the bearings", "air currents", "arm", "level")},
    ),
    "one reading, nothing stated": (
        replace(ONLY_SCATTER, supports=(replace(SUPPORT, readings=(0.84,)),)),
        {NO_UNCERTAINTY, ONE_READING},
    ),
    "a hung mass whose arm is not stated": (
        replace(stated(arm=None), supports=(), hung=(HungMass(0.4, 0.32),)),
        {missing("arm")},
    ),
    "a hung mass whose mass is not stated": (
        replace(stated(mass_uncertainty=None), hung=(HungMass(0.1, 0.32),)),
        {exact("hung masses and parts", "local gravity")},
    ),
    "a part whose mass is stated": (
        replace(stated(mass_uncertainty=None), parts=(Part("tab", "not fitted", 0.04, 0.1, mass_uncertainty=SMALL),)),
        set(),
    ),
    "a tare that is not stated": (
        replace(stated(tare_uncertainty=None), supports=(replace(SUPPORT, tare=0.1),)),
        {exact("tare", "local gravity")},
    ),
    "a tare that is stated for one support of two": (
        replace(
            stated(tare_uncertainty=None),
            supports=(replace(SUPPORT, tare=0.1), replace(SUPPORT, tare=0.1, tare_uncertainty=SMALL)),
        ),
        {exact("tare", "local gravity")},
    ),
    "a tare that is stated for each support": (
        replace(stated(tare_uncertainty=None), supports=(replace(SUPPORT, tare=0.1, tare_uncertainty=SMALL),) * 2),
        set(),
    ),
    "no tare, none stated": (stated(tare_uncertainty=None), set()),
    "a surface's mass that is not stated": (
        replace(SOUND, surface=replace(SOUND.surface, mass_uncertainty=None)),
        {exact("local gravity", "the surface's mass")},
    ),
    "one reading": (read_as(readings=(0.84,)), {ONE_READING}),
    "one reading, repeatability stated": (
        replace(stated(repeatability=SMALL), supports=(replace(SUPPORT, readings=(0.84,)),)),
        set(),
    ),
    "two readings": (read_as(readings=(0.84, 0.845)), set()),
    "one pair": (across((0.845,), (0.84,)), {ONE_PAIR}),
    "one pair, repeatability stated": (across((0.845,), (0.84,), repeatability=SMALL), set()),
    "two pairs": (across((0.845, 0.85), (0.84, 0.84)), set()),
    "falling above rising": (across((0.835, 0.84), (0.845, 0.845)), {SWAPPED}),
    "one reading far off": (read_as(readings=(0.840, 0.845, 0.840, 0.845, 0.880)), {FAR}),
    "one far off equal ones": (read_as(readings=(0.840, 0.840, 0.840, 0.840, 0.880)), {FAR}),
    "one step off equal ones": (read_as(readings=(0.840, 0.840, 0.840, 0.840, 0.845)), set()),
    "three readings tell no outlier": (read_as(readings=(0.840, 0.840, 0.880)), {FEW}),
    "a reading between two steps": (read_as(readings=(0.840, 0.842, 0.840)), {OFF_STEP}),
    "a rising reading between two steps": (across((0.846, 0.845), (0.84, 0.84)), {OFF_STEP}),
    "no limits": (limited(lower=None, upper=None), {NO_LIMITS}),
    "no source": (limited(source=""), {NO_SOURCE}),
    "a band narrower than U": (limited(lower=2.09, upper=2.12), {EMPTY}),
    "uncertain gravity": (stated(gravity=Stated(0.001, "m/s^2")), {GRAVITY}),
    "a moment of about nothing": (read_as(readings=(0.005, 0.0, 0.005)), {COVERS_ZERO}),
    "a moment of just nothing": (read_as(readings=(0.0, 0.0, 0.0)), set()),
    "friction beyond what is allowed": (
        replace(across((0.90, 0.90), (0.80, 0.80)), limits=replace(SOUND.limits, friction_fraction=0.02)),
        {TOO_MUCH_FRICTION},
    ),
    "friction within what is allowed": (
        replace(across((0.845, 0.845), (0.84, 0.84)), limits=replace(SOUND.limits, friction_fraction=0.02)),
        set(),
    ),
    "a friction allowance, plain readings": (limited(friction_fraction=0.02), {NOT_ACROSS}),
    "a friction allowance without limits": (
        replace(across((0.845, 0.845), (0.84, 0.84)), limits=Limits(friction_fraction=0.02)),
        {NO_LIMITS, NO_ALLOWANCE},
    ),
    "on the edge of two bands": (replace(SOUND, limits=BANDS), {EDGE}),
    "near the edge of two bands whose limits differ": (
        replace(SOUND, limits=STEPPED, surface=replace(SOUND.surface, mass=4.099)),
        {NEXT_BAND},
    ),
    "in no band": (
        replace(SOUND, limits=replace(BANDS, bands=BANDS.bands[:1]), surface=HEAVIER),
        {NO_BAND},
    ),
}


@pytest.mark.parametrize("case", CASES)
def test_notes(case: str) -> None:
    """The case brings its sentences, and no other."""
    weighing, expected = CASES[case]
    found = notes_of(weighing)
    combined_with_gravity = {note for note in expected if "local gravity" in note}
    assert found == expected, case
    if not combined_with_gravity and expected != {GRAVITY} and NO_UNCERTAINTY not in expected:
        assert GRAVITY_IS_EXACT in weigh(weighing).notes


def test_a_note_names_its_support() -> None:
    """With two supports, each sentence says at which."""
    weighing = replace(SOUND, supports=(SUPPORT, replace(SUPPORT, readings=(0.842,))))
    assert notes_of(weighing) == {
        "One reading at support 2: its repeatability is not known and not counted. Lift, reset, read again.",
        "A reading at support 2 is no whole number of the scale's steps of 0.005 kg: check the reading or the step.",
    }


def test_the_step_is_told_as_it_was_typed() -> None:
    """Typed in grams, the step is told in grams."""
    step = Stated(read("5 g", "mass"), "kg", "resolution")
    weighing = replace(stated(scale=step), supports=(replace(SUPPORT, readings=(0.842, 0.84)),))
    assert any("steps of 5 g:" in note for note in notes_of(weighing))


def test_every_result_carries_the_cautions() -> None:
    """Approved data first, no release, and flutter all the same: word for word, whatever the finding."""
    for weighing, _ in CASES.values():
        assert weigh(weighing).cautions == CAUTIONS
    assert "can still flutter" in CAUTIONS[2]
    assert "not a release" in CAUTIONS[1]
    assert CAUTIONS[0].startswith("Work to the approved data")


@pytest.mark.parametrize(
    ("readings", "told"),
    [
        ((0.80, 0.90), True),
        ((0.80, 0.90, 0.85, 0.88), True),
        ((0.80, 0.90, 0.85, 0.88, 0.82), False),
        ((0.84, 0.84, 0.84), False),
    ],
)
def test_few_readings_that_lead_are_told(readings: tuple[float, ...], told: bool) -> None:
    """Two to four readings whose scatter leads bring the note; five do not, nor few that agree."""
    assert (FEW in weigh(read_as(readings=readings)).notes) is told


def test_friction_at_a_support_that_was_not_read_across_it_is_named_as_not_counted() -> None:
    """One support read rising and falling cancels its own friction, not that of a support beside it."""
    weighing = across((0.845, 0.85), (0.84, 0.84))
    beside = replace(weighing, supports=(*weighing.supports, Support(arm=0.255, readings=(0.84, 0.845))))
    told = "Not stated, so counted as nothing: friction in the bearings. The real uncertainty is larger."
    assert told in weigh(beside).notes
    assert told not in weigh(weighing).notes
