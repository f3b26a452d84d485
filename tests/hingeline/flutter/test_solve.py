"""The whole answer: an onset, or honestly none; and the cautions that go with either."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused, RoutesDisagree
from hingeline.flutter import solve
from hingeline.flutter.model import Air, FlutterResult, FlutterTask, Wing
from hingeline.flutter.neutral_points import find_neutral_points
from hingeline.flutter.solve import analyse
from tests.hingeline.flutter.models import LAGGING_TAB, RIG, STRIP, WITH_TAB, task


@pytest.fixture(scope="module")
def rig() -> FlutterResult:
    """The rig, with roots and sensitivities."""
    return analyse(task(RIG), roots_at=(5.0, 15.0, 23.8, 24.0, 35.0), with_sensitivities=True)


def test_an_onset_is_given_with_its_mode(rig: FlutterResult) -> None:
    """The rig flutters at 23.892 m/s and 6.0915 Hz in its first mode, of plunge and pitch; k is ω b/U."""
    assert rig.flutter is not None
    assert (rig.flutter.speed, rig.flutter.frequency) == pytest.approx((23.8922136, 6.09146034), rel=1e-8)
    assert rig.flutter.reduced_frequency == pytest.approx(2 * 3.141592653589793 * 6.09146034 * 0.127 / 23.8922136)
    assert rig.flutter.mode.number == 1
    assert rig.flutter.mode.words == "plunge with some pitch (17° behind)"
    assert max(part.magnitude for part in rig.flutter.mode.shape) == 1.0
    assert [part.freedom for part in rig.flutter.mode.shape] == ["plunge", "pitch", "surface"]
    assert rig.natural_frequencies == pytest.approx((4.448977, 9.209009, 19.4417), abs=1e-5)


def test_roots_change_the_sign_of_their_damping_at_the_onset(rig: FlutterResult) -> None:
    """One mode's damping ratio is above 0 at 23.8 m/s and below at 24.0; numbers stay with their modes."""
    assert rig.roots is not None
    below, above = rig.roots[2], rig.roots[3]
    assert all(root.damping_ratio > 0 for root in below.roots)
    assert [root.mode for root in above.roots if root.damping_ratio < 0] == [1]
    assert [row.speed for row in rig.roots] == [5.0, 15.0, 23.8, 24.0, 35.0]
    for first, second in zip(below.roots, above.roots, strict=True):
        assert first.mode == second.mode
        assert first.frequency == pytest.approx(second.frequency, rel=0.02)


def test_sensitivities_come_largest_first(rig: FlutterResult) -> None:
    """The pitch stiffness leads, with an elasticity of 0.82876."""
    assert rig.sensitivities is not None
    assert rig.sensitivities[0].field == "section.pitch_stiffness"
    assert rig.sensitivities[0].elasticity == pytest.approx(0.828760539, rel=1e-7)


def test_none_found_is_a_finding_with_a_range() -> None:
    """Without flutter in the range the answer is null, and says for which range; never that it is safe."""
    result = analyse(task(RIG, (0.5, 20.0)))
    assert result.flutter is None
    assert not result.growing_at_lowest_speed
    assert result.crossings == ()
    assert any(
        "from 0.5 to 20 m/s: a finding for this range and this model, not safety" in one for one in result.cautions
    )
    assert any(
        note.startswith("No flutter speed: no mode starts to grow between 0.5 and 20 m/s") for note in result.notes
    )


def test_a_mode_that_grows_from_the_start_is_its_own_answer() -> None:
    """Tab and control free: flutter is null, growing_at_lowest_speed true, and the note says there is no crossing."""
    both = replace(WITH_TAB, surface_stiffness=0.0)
    result = analyse(task(both, (2.0, 150.0), structural_damping=(0.02,)))
    assert result.flutter is None
    assert result.growing_at_lowest_speed
    assert "no crossing to find; something grows at every speed that was looked at" in result.notes[0]
    assert result.notes[1].startswith("At 2 m/s: surface")
    assert "grows already at 2 m/s" in " ".join(result.cautions)


def test_an_undamped_control_mode_unstable_from_nearly_zero_speed_is_said_to_be() -> None:
    """With g = 0 the free tail-heavy control grows at the lowest speed searched; with g = 0.03 it has an onset."""
    heavy = replace(
        RIG, freedoms=("plunge", "surface"), semichord=0.38, mass=9.0, plunging_mass=9.0, hinge_line=0.4,
        surface_static_moment=0.0836, surface_inertia=0.013471, plunge_stiffness=22739.6, surface_stiffness=13.295,
    )  # fmt: skip
    bare = analyse(task(heavy, (2.0, 60.0)))
    damped = analyse(task(heavy, (2.0, 60.0), structural_damping=(0.03,)))
    assert bare.growing_at_lowest_speed
    assert bare.flutter is None
    assert damped.flutter is not None
    assert damped.flutter.speed == pytest.approx(14.839, abs=2e-3)
    assert any("g = 0.03" in one for one in damped.assumptions)


def test_an_answer_from_above_an_onset_is_growing_at_its_lowest_speed() -> None:
    """A range that begins above the onset reports growth at its lowest speed, and the later end of the hump."""
    result = analyse(task(replace(RIG, surface_stiffness=0.0), (10.0, 40.0)))
    assert result.growing_at_lowest_speed
    assert result.flutter is None
    assert [(round(one.speed, 2), one.direction) for one in result.crossings] == [(26.64, "out of")]


def test_divergence_is_named_inside_the_range_and_noted_outside() -> None:
    """The lagging tab diverges at 60.37 m/s: null with a note up to 60 m/s, a number up to 70."""
    short, long = (analyse(task(LAGGING_TAB, (2.0, top), structural_damping=(0.02,))) for top in (60.0, 70.0))
    assert short.divergence is None
    assert "Divergence at 60.37 m/s, above the range searched." in short.notes
    assert long.divergence is not None
    assert long.divergence.speed == pytest.approx(60.375, abs=1e-3)
    assert any("damping as part of a stiffness is doubtful" in caution for caution in short.cautions)


def test_every_divergence_is_told_whether_in_the_range_or_not() -> None:
    """A uniform wing's torsion diverges at U, 3 U, 5 U, 7 U: strip theory, sin((2n - 1) π y/2L) of each of four shapes.

    Worked by hand: the n-th shape's stiffness grows with (2n - 1)², and the shapes do not couple (common practice,
    no source). Divergence lies above this wing's flutter, a second one above that.
    """
    wing = Wing(6.0, 0.9, -0.34, 33.0, 0.18, 7.8, 9.6e6, 1.0e6, 4, 4)
    given = FlutterTask(Air(density=1.225), (20.0, 900.0), wing=wing, structural_damping=(0.02,))
    whole, later = analyse(given), analyse(replace(given, speeds=(300.0, 700.0)))
    speeds = [each.speed for each in whole.divergences]
    assert speeds == pytest.approx([speeds[0] * odd for odd in (1, 3, 5, 7)], rel=1e-12)
    assert whole.divergence == whole.divergences[0]
    assert whole.flutter is not None
    assert whole.flutter.speed < speeds[0]
    assert f"A further divergence, of another shape, at {speeds[1]:.4g} m/s." in whole.notes
    assert later.divergence is None
    assert later.divergences == whole.divergences
    assert any(note.startswith(f"Already diverged at {speeds[0]:.4g} m/s, below the range") for note in later.notes)


@pytest.mark.slow
def test_every_answer_says_what_it_is_worth() -> None:
    """Each result says: a model, true airspeed, strip theory's gaps, the wake, the lift slope, the damping assumed."""
    for model in (task(RIG), task(STRIP, (2.0, 20.0)), task(RIG, wake="two-lag", damping_ratios=(0.01, 0.01, 0.01))):
        said = " ".join((*analyse(model).assumptions, *analyse(model).cautions))
        for words in ("model, not a proof", "true airspeed", "Strip theory", "compressibility", "gaps", "Lift slope",
                      "Damping assumed"):  # fmt: skip
            assert words in said


def test_an_unusable_task_is_refused() -> None:
    """Neither density nor altitude is refused with its field."""
    with pytest.raises(InputRefused, match="either a density or an altitude") as refused:
        analyse(replace(task(RIG), air=Air()))
    assert [one.field for one in refused.value.refusals] == ["air"]


def test_no_result_when_the_search_misses_a_point(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were the search to lose its first point, no statement would be made."""

    def losing(*arguments: object) -> object:
        return find_neutral_points(*arguments)[1:]  # type: ignore[arg-type]

    monkeypatch.setattr(solve, "find_neutral_points", losing)
    with pytest.raises(RoutesDisagree, match="number of growing roots"):
        analyse(task(RIG))


def test_no_result_when_a_point_is_wrong(monkeypatch: pytest.MonkeyPatch) -> None:
    """Were the search to give a speed 0.01 % too high, no statement would be made."""

    def high(*arguments: object) -> object:
        return tuple(replace(one, speed=one.speed * 1.0001) for one in find_neutral_points(*arguments))  # type: ignore[arg-type]

    monkeypatch.setattr(solve, "find_neutral_points", high)
    with pytest.raises(RoutesDisagree, match="flutter speed"):
        analyse(task(RIG))


def test_a_result_is_a_document_and_comes_back(rig: FlutterResult) -> None:
    """The document is strict JSON, without NaN or Infinity, and gives the same record again."""
    text = json.dumps(to_document(rig), allow_nan=False)
    assert from_document(json.loads(text), FlutterResult) == rig


def test_twice_the_same_answer() -> None:
    """The same task gives the same result to the last digit."""
    assert analyse(task(STRIP, (2.0, 100.0))) == analyse(task(STRIP, (2.0, 100.0)))


def test_altitude_is_density() -> None:
    """At the height where the standard density is met, altitude and density give the same answer."""
    high = analyse(replace(task(RIG), air=Air(altitude=2438.4)))
    same = analyse(replace(task(RIG), air=Air(density=high.density)))
    assert high.flutter == same.flutter
    assert high.flutter is not None
    assert high.flutter.speed > 23.9
