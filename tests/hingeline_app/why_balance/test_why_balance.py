"""The page that explains balance: its numbers are the command's, its presets' claims hold, no word comforts."""

from __future__ import annotations

import re
import threading
from collections.abc import Mapping
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from hingeline.errors import InputRefused
from hingeline.flutter import FlutterTask, build_system
from hingeline.flutter.checks import refuse_unusable
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.said import reading_in, says
from hingeline_app.why_balance import compiled_way
from hingeline_app.why_balance.answers import (
    curve_of,
    damping_over_speed,
    draw_by_compiled_loops,
    motion_of,
    point_of,
    points_of,
    proved,
)
from hingeline_app.why_balance.job_file import job_file
from hingeline_app.why_balance.pictures import onset_picture, section_picture
from hingeline_app.why_balance.presets import PRESETS, Preset, marched_words, sentences_of
from hingeline_app.why_balance.sentences import (
    change_sentence,
    headline,
    moment_sentence,
    motion_sentence,
    range_sentence,
    why_sentence,
)
from hingeline_app.why_balance.shown import show
from hingeline_app.why_balance.state import State, read_state, start_of
from hingeline_app.why_balance.surfaces import SURFACES, know
from hingeline_app.why_balance.surfaces.surface import Surface

COMFORT = re.compile(
    r"\b(safe|safely|safety|stable|clear|cleared|good|fine|ok|okay|pass|passed|airworthy|harmless)\b", re.I
)
each_surface = pytest.mark.parametrize("surface", SURFACES.values(), ids=SURFACES)
each_preset = pytest.mark.parametrize("preset", PRESETS, ids=[preset.name for preset in PRESETS])


@st.composite
def states(draw: st.DrawFn) -> State:
    surface = draw(st.sampled_from(list(SURFACES.values())))
    moved = {knob.name: draw(st.sampled_from(knob.values(12))) for knob in surface.knobs}
    return start_of(surface).moved(**moved)


@pytest.mark.slow
@given(states())
@settings(max_examples=60)
def test_a_state_survives_its_address(state: State) -> None:
    """What the address says is read back as the same state."""
    from urllib.parse import parse_qsl

    assert read_state(dict(parse_qsl(state.query))) == state


@given(states())
@settings(max_examples=40)
def test_the_job_file_is_the_same_model(state: State) -> None:
    """The file that is offered beside the page is read by the command as the very model of the page."""
    assert read_flutter(job_file(state).encode()) == state.surface.model(state.settings)


@each_surface
def test_no_place_of_any_knob_is_refused(surface: Surface) -> None:
    """Each knob can be moved over its whole range, and every pair of ends makes a model."""
    start = start_of(surface)
    ends = [start.moved(**{knob.name: value}) for knob in surface.knobs for value in knob.values(9)]
    low = start.moved(**{knob.name: knob.low for knob in surface.knobs})
    high = start.moved(**{knob.name: knob.high for knob in surface.knobs})
    for state in [*ends, low, high]:
        refuse_unusable(state.surface.model(state.settings))


@pytest.mark.slow
@each_preset
def test_the_point_is_what_the_command_proves(preset: Preset) -> None:
    """The quick onset is the command's, which is found three ways and proved by counting."""
    point, result = point_of(preset.state), proved(preset.state)
    assert point.from_the_start is result.growing_at_lowest_speed
    assert (point.speed is None) is (result.flutter is None)
    if result.flutter is not None:
        assert point.speed == pytest.approx(result.flutter.speed, rel=1e-8)


@pytest.mark.slow
@each_surface
def test_points_along_the_curve_are_what_the_command_proves(surface: Surface) -> None:
    """At every sixth place of the curve too."""
    start = start_of(surface)
    for value in surface.knob(start.axis).values(7):
        state = start.moved(**{start.axis: value})
        result = proved(state)
        found = point_of(state).speed
        assert (found is None) is (result.flutter is None)
        assert found is None or found == pytest.approx(result.flutter.speed, rel=1e-8)  # type: ignore[union-attr]


@pytest.mark.parametrize("name", ["tailplane", "bench"])
def test_the_motion_grows_just_above_the_onset_and_dies_just_below(name: str) -> None:
    """Motion and onset tell one story."""
    state = start_of(SURFACES[name]).moved(weight=0.0)
    onset = point_of(state).speed
    assert onset is not None
    knob = state.surface.knob("speed")
    below, above = (motion_of(state.moved(speed=factor * onset / knob.to_si)) for factor in (0.95, 1.05))
    assert below is not None
    assert above is not None
    assert below.growth_rate < 0.0 < above.growth_rate


def test_the_band_holds_the_line() -> None:
    """Where both exist the onset lies inside its band, and the ends are in order."""
    for point in points_of(
        [start_of(SURFACES["tailplane"]).moved(weight=value) for value in (0.0, 1.0, 2.0)], band=True
    ):
        assert point.speed is not None
        assert point.low is not None
        assert point.low <= point.speed
        assert point.high is None or point.speed <= point.high


@pytest.mark.slow
def test_the_band_is_the_same_by_compiled_loops(monkeypatch: pytest.MonkeyPatch) -> None:
    """Once a server has made the loops ready its bands come sooner, and are the same to a part in 10^10."""
    states = [start_of(SURFACES["tailplane"]).moved(weight=value) for value in (0.0, 1.0, 2.0)]
    by_numpy = points_of(states, band=True)
    ready = threading.Event()
    monkeypatch.setattr(compiled_way, "_asked", threading.Event())
    monkeypatch.setattr(compiled_way, "_ready", ready)
    thread = compiled_way.make_ready(lambda: draw_by_compiled_loops(states[:1]))
    assert thread is not None
    assert compiled_way.make_ready(lambda: None) is None
    thread.join(120)
    assert compiled_way.is_ready()
    for one, other in zip(by_numpy, points_of(states, band=True), strict=True):
        assert (one.low, one.high) == pytest.approx((other.low, other.high), rel=1e-10)


@pytest.mark.slow
def test_the_band_is_the_scatter_of_the_library() -> None:
    """Its ends agree with the library's own scatter of many draws, within what sixty cases can tell."""
    from hingeline.flutter import scatter_onsets

    state = start_of(SURFACES["tailplane"]).moved(weight=0.0)
    (point,) = points_of([state], band=True)
    found = scatter_onsets(state.surface.model(state.settings), 4000, seed=3)
    assert found is not None
    low, middle, high = found.quantiles.low, found.quantiles.middle, found.quantiles.high
    assert low is not None
    assert middle is not None
    assert high is not None
    assert point.low is not None
    assert point.high is not None
    assert abs(point.low - low) < 0.35 * (high - low)
    assert abs(point.high - high) < 0.35 * (high - low)
    assert point.low < middle < point.high


def test_weight_put_on_in_steps_lowers_the_onset_first() -> None:
    """The claim of the preset: 1 kg is lower than none, 2.9 kg leaves no growth in the range."""
    bare, little, enough = (point_of(start_of(SURFACES["tailplane"]).moved(weight=value)) for value in (0.0, 1.0, 2.9))
    assert bare.speed is not None
    assert little.speed is not None
    assert little.speed < bare.speed
    assert enough.speed is None


def test_the_same_balance_flutters_lower_with_its_weight_inboard() -> None:
    """The claim of the preset: three places, one static moment of nothing, three speeds in order."""
    places = [start_of(SURFACES["aileron"]).moved(place=value) for value in (4.6, 5.25, 5.95)]
    speeds = [point_of(state).speed for state in places]
    assert [state.surface.static_moment(state.settings) for state in places] == pytest.approx([0.0] * 3, abs=1e-12)
    assert speeds == sorted(speed for speed in speeds if speed is not None)


def test_a_soft_arm_a_second_coat_and_a_loose_tab_each_bring_an_onset() -> None:
    """The claims of three presets: none before, growth after."""
    for name in ("arm-gone-soft", "tab-rod-broken"):
        preset = next(each for each in PRESETS if each.name == name)
        assert point_of(start_of(SURFACES[preset.surface])).speed is None
        assert point_of(preset.state).speed is not None or point_of(preset.state).from_the_start
    paint = next(each for each in PRESETS if each.name == "overpainted").state
    assert point_of(paint.moved(paint=0.0)).speed is None
    assert point_of(paint).speed is not None


@pytest.mark.slow
def test_a_bigger_knock_misses_the_cycle() -> None:
    """The claim of the preset: marched anew, the small knock cycles at the stated size and the large one dies out."""
    preset = next(each for each in PRESETS if each.name == "circuit-slack")
    assert marched_words(preset.state) == preset.marched
    assert preset.marched["knocked"] == "dies out"


@each_preset
def test_no_sentence_comforts(preset: Preset) -> None:
    """No word of any preset or of its state says that anything is good; each sentence is in German and French too."""
    state = preset.state
    point, motion = point_of(state), motion_of(state)
    said = [
        *sentences_of(preset), headline(state, point), range_sentence(state, point), moment_sentence(state),
        motion_sentence(state, motion), why_sentence(state, motion), preset.title, state.surface.says,
        change_sentence(state, point, point_of(start_of(state.surface))), *state.surface.leaves_out,
    ]  # fmt: skip
    assert [sentence for sentence in said if COMFORT.search(sentence)] == []
    for language in ("de", "fr"):
        with reading_in(language):
            assert [sentence for sentence in said if sentence and says(sentence) is None] == []


def test_what_is_not_found_is_said_to_be_no_proof() -> None:
    """A state without an onset says up to where it was looked, and that this is no proof."""
    state = start_of(SURFACES["tailplane"])
    assert headline(state, point_of(state)) == "Model finds no growth up to 622\u00a0kn: not proof"


@each_surface
def test_pictures_are_drawn_at_both_widths(surface: Surface) -> None:
    """The start of each surface can be drawn, for tablet and phone, and its finding is in the picture."""
    state = start_of(surface)
    point, motion = point_of(state), motion_of(state)
    for width in (650.0, 348.0):
        svg = onset_picture(state, curve_of(state, band=False)[::4], point, width)
        assert headline(state, point).split(":")[0] in svg
    assert "Hz" in section_picture(state, motion)


def test_the_damping_over_speed_changes_sign_at_the_onset() -> None:
    """The least damping is above zero below the onset and below zero above it, at the places computed."""
    state = start_of(SURFACES["bench"])
    onset = point_of(state).speed
    assert onset is not None
    for speed, damping in damping_over_speed(state):
        assert damping is not None
        assert (damping < 0.0) is (speed > onset)


@pytest.mark.parametrize(
    ("query", "field"),
    [
        ({"surface": "rudder"}, "surface"),
        ({"weight": "nan"}, "weight"),
        ({"weight": "1e9"}, "weight"),
        ({"weight": "-1"}, "weight"),
        ({"colour": "3"}, "colour"),
        ({"over": "speed"}, "over"),
        ({"weight": ""}, "weight"),
    ],
)
def test_a_bad_address_is_refused_in_words(query: dict[str, str], field: str) -> None:
    """An unknown surface or knob, no number, a number out of range: each is named."""
    with pytest.raises(InputRefused) as refused:
        read_state(query)
    assert refused.value.refusals[0].field == field
    assert refused.value.refusals[0].remedy


def test_held_numbers_are_on_their_steps() -> None:
    """A knob holds a value to its range and its steps."""
    knob = SURFACES["tailplane"].knob("weight")
    assert (knob.held(1.234), knob.held(-3.0), knob.held(99.0)) == (1.2, 0.0, 5.0)


@each_surface
def test_the_start_is_a_model(surface: Surface) -> None:
    """Each start builds a system with the freedoms that its section needs."""
    assert len(build_system(surface.model(start_of(surface).settings)).freedoms) in (2, 3)


def test_a_coat_of_paint_makes_no_spring_stiffer() -> None:
    """Paint is mass on the tailplane: the rear fuselage it stands on springs as before, only slower."""
    state = start_of(SURFACES["tailplane"])
    bare, painted = (build_system(state.surface.model(state.moved(paint=paint).settings)) for paint in (0.0, 2000.0))
    assert painted.mass[0, 0] == pytest.approx(bare.mass[0, 0] + 2.0)
    assert painted.stiffness == pytest.approx(bare.stiffness, rel=1e-12)


def test_a_surface_weighed_again_under_its_name_is_computed_afresh() -> None:
    """One name, another moment: curve and comparison are the newer model's, not what was kept of the older one."""
    tailplane, found = SURFACES["tailplane"], []
    for shift in (0.0, 0.03):

        def model(held: Mapping[str, float], shift: float = shift) -> FlutterTask:
            task = tailplane.model(held)
            assert task.tailplane is not None
            return replace(task, tailplane=replace(task.tailplane, centre_of_gravity=0.42 + shift))

        known = know(replace(tailplane, name=f"own-{'0' * 32}", model=model))
        shown = show(start_of(known).moved(weight=1.0), band=False)
        found.append((shown.curve[0].speed, shown.point.speed, shown.sentences[-1]))
    assert all(one != other for one, other in zip(*found, strict=True))
