"""Swings worked by hand, what is refused, and what is said beside the number."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from hingeline.balance.swing import SwingTask, inertia_by_swing
from hingeline.errors import InputRefused
from hingeline.uncertainty.stated import Stated

# T = 2 s: T²/(4π²) = 1/π² s².
Q = 1.0 / math.pi**2
OWN = SwingTask("own weight", (2.0,), surface_mass_moment=0.2)
ADDED = SwingTask("added mass", (2.0,), surface_mass_moment=0.0, added_mass=0.5, added_arm=0.2)
WIRES = SwingTask("two wires", (2.0,), surface_mass=4.0, surface_mass_moment=0.2, wire_spacing=0.5, wire_length=2.0)
SPRING = SwingTask("spring", (2.0,), spring_rate=100.0, spring_arm=0.1)


@pytest.mark.parametrize(
    ("task", "inertia"),
    [
        (OWN, 9.80665 * 0.2 * Q),
        (ADDED, 9.80665 * 0.1 * Q - 0.02),
        (replace(ADDED, surface_mass_moment=-0.05), 9.80665 * 0.05 * Q - 0.02),
        (replace(ADDED, surface_mass_moment=0.3, added_side="forward"), 9.80665 * 0.2 * Q - 0.02),
        (WIRES, 4.0 * 9.80665 * 0.25 * Q / 8.0 + 0.01),
        (SPRING, 100.0 * 0.01 * Q),
        (replace(OWN, local_gravity=9.8), 9.8 * 0.2 * Q),
        (replace(OWN, periods=(20.0,), swings_per_period=10), 9.80665 * 0.2 * Q),
        (replace(OWN, hangs="nose down", surface_mass_moment=-0.2), 9.80665 * 0.2 * Q),
    ],
)
def test_by_hand(task: SwingTask, inertia: float) -> None:
    """Each method at T = 2 s, where T²/(4π²) is 1/π² s²."""
    assert inertia_by_swing(task).inertia.value == pytest.approx(inertia, rel=1e-14)


def test_the_scatter_of_the_times() -> None:
    """Times 20.0, 20.2, 19.8 s of ten swings: s = 0.2, u = 0.2/√3 s with 2 degrees; U of I by 2 I u/T."""
    found = inertia_by_swing(replace(OWN, periods=(20.0, 20.2, 19.8), swings_per_period=10))
    u = 0.2 / math.sqrt(3.0)
    assert found.period.value == pytest.approx(2.0)
    assert found.period.standard_uncertainty == pytest.approx(u / 10.0)
    assert found.inertia.standard_uncertainty == pytest.approx(2.0 * found.inertia.value * u / 20.0)
    assert found.inertia.degrees_of_freedom == pytest.approx(2.0)
    assert found.inertia.coverage_factor == pytest.approx(4.3027, abs=1e-4)


def test_the_timing_is_common_to_all_times() -> None:
    """A late start of every time does not average out over five of them."""
    timing = Stated(0.1, "s", "standard")
    one = inertia_by_swing(replace(OWN, timing_uncertainty=timing)).inertia
    five = inertia_by_swing(replace(OWN, periods=(2.0,) * 5, timing_uncertainty=timing)).inertia
    assert five.standard_uncertainty == pytest.approx(one.standard_uncertainty)


def test_a_coverage_factor_can_be_asked_for() -> None:
    """The factor is the one given, else it follows from the coverage."""
    sure = replace(OWN, timing_uncertainty=Stated(0.1, "s", "standard"))
    assert inertia_by_swing(replace(sure, k=2.0)).inertia.coverage_factor == 2.0
    assert inertia_by_swing(replace(sure, coverage=0.99)).inertia.coverage_factor == pytest.approx(2.5758, abs=1e-4)


def test_nothing_stated_gives_no_uncertainty() -> None:
    """One time and nothing stated: no U, and the notes say what is missing."""
    found = inertia_by_swing(OWN)
    assert found.inertia.standard_uncertainty is None
    assert found.budget == ()
    assert any("One time only" in note for note in found.notes)
    assert any("uncertainty of mass moment of the surface" in note for note in found.notes)


REFUSED = [
    (replace(OWN, surface_mass_moment=None), "surface_mass_moment", "which this method needs"),
    (replace(ADDED, added_mass=None), "added_mass", "which this method needs"),
    (replace(WIRES, wire_length=None), "wire_length", "which this method needs"),
    (replace(SPRING, spring_arm=None), "spring_arm", "which this method needs"),
    (replace(OWN, spring_rate=100.0), "spring_rate", "nothing here: the method is own weight"),
    (replace(SPRING, surface_mass_moment=0.1), "surface_mass_moment", "nothing here: the method is spring"),
    (replace(OWN, periods=()), "periods", "at least one time"),
    (replace(OWN, periods=(math.nan,)), "periods[0]", "a time from 0.02 to 60 s"),
    (replace(OWN, periods=(2.0, 0.0)), "periods[1]", "a time from 0.02 to 60 s"),
    (replace(OWN, periods=(2.0,), swings_per_period=1000), "periods[0]", "a time from 20 to 60000 s for 1000 swings"),
    (replace(OWN, swings_per_period=0), "swings_per_period", "a whole number from 1 to 1000"),
    (replace(OWN, amplitude=-0.1), "amplitude", "from 0 to 90 deg"),
    (replace(OWN, amplitude=6.0), "amplitude", "from 0 to 90 deg"),
    (replace(OWN, surface_mass=0.0), "surface_mass", "above 0 and up to 1000 kg"),
    (replace(OWN, surface_mass_moment=math.inf), "surface_mass_moment", "within ± 1000 kg m"),
    (replace(ADDED, added_arm=200.0), "added_arm", "above 0 and up to 10 m"),
    (replace(WIRES, wire_spacing=-0.4), "wire_spacing", "above 0 and up to 10 m"),
    (replace(OWN, timing_uncertainty=Stated(3.0, "s")), "uncertainty.timing", "less than 2 s"),
    (replace(OWN, surface_mass_moment_uncertainty=Stated(0.1, "kg")), "surface_mass_moment", "an uncertainty in kg m"),
    (replace(OWN, coverage=0.1), "coverage", "between 0.5 and 0.9999"),
    (replace(OWN, k=0.0), "k", "between 0.1 and 10"),
    (replace(OWN, local_gravity=0.0), "local_gravity", "between 9.7 and 9.9"),
    (replace(OWN, method="by hand"), "method", "one of own weight, added mass, two wires, spring"),  # type: ignore[arg-type]
    (replace(OWN, surface_mass_moment=0.0), "surface_mass_moment", "hangs tail down: more than 0 kg m"),
    (replace(ADDED, surface_mass_moment=-0.2), "added_mass", "hangs tail down: more than 0 kg m"),
    (replace(OWN, hangs="nose down"), "surface_mass_moment", "hangs nose down: more than 0 kg m"),
    (replace(ADDED, periods=(0.5,)), "periods", "an inertia above 0"),
    (replace(OWN, surface_mass=0.1), "surface_mass", "a mass with which"),
]


@pytest.mark.parametrize(("task", "field", "expected"), REFUSED)
def test_it_is_refused(task: SwingTask, field: str, expected: str) -> None:
    """The refusal names the field and what would do."""
    with pytest.raises(InputRefused) as caught:
        inertia_by_swing(task)
    found = {refusal.field: refusal for refusal in caught.value.refusals}
    assert field in found, list(found)
    assert expected in found[field].expected
    assert found[field].remedy.endswith((".", "?"))


@pytest.mark.parametrize(
    ("task", "words"),
    [
        (replace(OWN, surface_mass_moment=-0.2), 'if it hung nose down, write hangs = "nose down"'),
        (replace(OWN, surface_mass_moment=0.0), 'Clip a mass on further aft, with method = "added mass".'),
        (replace(ADDED, surface_mass_moment=-0.2), "Clip a mass on further aft"),
        (replace(OWN, hangs="nose down"), "Clip a mass on further forward"),
    ],
)
def test_a_pendulum_that_would_not_hang_says_what_would(task: SwingTask, words: str) -> None:
    """The remedy names the side to clip a mass on, and the other way it may have hung."""
    with pytest.raises(InputRefused) as caught:
        inertia_by_swing(task)
    assert words in caught.value.refusals[0].remedy


@pytest.mark.parametrize(
    ("words", "there", "not_there"),
    [
        ("The air that swings along", OWN, None),
        ("No amplitude is given", OWN, replace(OWN, amplitude=0.1)),
        ("The swing is wide", replace(OWN, amplitude=0.5), replace(OWN, amplitude=0.1)),
        ("One time only", OWN, replace(OWN, periods=(2.0, 2.0))),
        ("Nothing is stated of the timing", OWN, replace(OWN, timing_uncertainty=Stated(0.1, "s"))),
        ("Rods and clamps", OWN, SPRING),
        ("The clipped-on mass", ADDED, OWN),
        ("The wires are short", replace(WIRES, wire_length=0.6), WIRES),
        ("Hung with the hinge line upright", WIRES, OWN),
        ("Holds with the hinge line upright", SPRING, OWN),
        ("Local gravity is taken", OWN, SPRING),
    ],
)
def test_a_note_stands_where_it_should(words: str, there: SwingTask, not_there: SwingTask | None) -> None:
    """Each sentence appears when, and only when, it is true."""
    assert any(note.startswith(words) for note in inertia_by_swing(there).notes)
    assert not_there is None or not any(note.startswith(words) for note in inertia_by_swing(not_there).notes)


@pytest.mark.parametrize(("field", "word"), [("hangs", "Tail down"), ("added_side", "fore")])
def test_a_word_for_a_way_or_a_side_that_nothing_knows_is_refused(field: str, word: str) -> None:
    """The words "Tail down" with a capital was taken for nose down: the mass moment then counts with the other sign."""
    with pytest.raises(InputRefused) as caught:
        inertia_by_swing(replace(ADDED, **{field: word}))  # type: ignore[arg-type]
    assert [refusal.field for refusal in caught.value.refusals] == [field]
