"""Places in pictures become plunge, pitch and control angle: laws of the fits, signs, times, uncertainty.

A sentence of the form "worked by hand" says where an expected number comes from; the rest are identities.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.motion.marks import KnownLength, Mark, Marks, PixelTrack, PixelTracks, section_tracks
from hingeline.motion.marks.doubts import of_the_lines
from hingeline.motion.marks.equations import (
    Places,
    noise_of_pair,
    noise_of_place,
    noise_of_rigid,
    noise_of_single,
    noise_of_turn,
    rigid,
    similarity,
)
from hingeline.motion.marks.lines import at_one_time, lateness
from hingeline.motion.marks.results import SectionTracks
from hingeline.motion.marks.solve import file_rate, time_scale

REAL = st.floats(-1000.0, 1000.0)
PLACES = st.lists(st.tuples(REAL, REAL), min_size=2, max_size=6, unique=True)
RATE = 120.0


def places(points: list[tuple[float, float]]) -> Places:
    """Give points as complex numbers."""
    return np.array([complex(x, y) for x, y in points])


@given(PLACES, st.floats(-3.0, 3.0), st.floats(0.1, 10.0), REAL, REAL)
def test_a_similarity_is_found_exactly(
    points: list[tuple[float, float]], turn: float, stretch: float, x: float, y: float
) -> None:
    """Points that were turned, stretched and shifted give back exactly that, whatever they are."""
    before = places(points)
    assume(np.abs(before - before.mean()).max() >= 1e-3)
    a = stretch * np.exp(1j * turn)
    found, shift = similarity(before, (a * before + complex(x, y))[:, None])
    assert found[0] == pytest.approx(a, rel=1e-6, abs=1e-6)
    assert shift[0] == pytest.approx(complex(x, y), abs=1e-3)
    turned, _ = rigid(before, (a * before + complex(x, y))[:, None])
    assert turned[0] == pytest.approx(np.exp(1j * turn), rel=1e-6, abs=1e-6)


def test_no_other_turn_fits_better() -> None:
    """The rigid fit is the least-squares one: any other turn or shift leaves more."""
    rng = np.random.default_rng(1)
    before = rng.normal(size=5) + 1j * rng.normal(size=5)
    seen = np.exp(0.3j) * before + 2.0 + 0.1 * (rng.normal(size=5) + 1j * rng.normal(size=5))
    a, b = (each[0] for each in rigid(before, seen[:, None]))
    best = np.sum(np.abs(seen - a * before - b) ** 2)
    for turn, shift in rng.normal(0.0, 0.01, (200, 2)):
        other = np.sum(np.abs(seen - a * np.exp(1j * turn) * before - b - shift) ** 2)
        assert other >= best


def test_a_lost_point_leaves_the_others() -> None:
    """A point that was lost takes no part; one point alone tells a shift; none tells nothing."""
    before = places([(0.0, 0.0), (1.0, 0.0), (0.0, 1.0)])
    seen = np.repeat((1j * before + 5.0)[:, None], 3, axis=1)
    seen[2, 0] = seen[1:, 1] = seen[:, 2] = np.nan
    a, b = similarity(before, seen)
    assert a[:2] == pytest.approx([1j, 1.0])
    assert b[0] == pytest.approx(5.0)
    assert np.isnan(a[2])


def test_noise_is_found_and_carried_on() -> None:
    """Noise put on points is found within 5 %, and the turn and place scatter by what the equations say."""
    rng = np.random.default_rng(2)
    before = places([(0.0, 0.0), (200.0, 10.0), (90.0, 70.0)])
    noise = 0.05 * (rng.normal(size=(3, 4000)) + 1j * rng.normal(size=(3, 4000)))
    seen = before[:, None] + noise
    assert noise_of_rigid(before, seen) == pytest.approx(0.05, rel=0.05)
    assert noise_of_pair(seen[0], seen[1]) == pytest.approx(0.05, rel=0.07)
    assert noise_of_single(seen[0]) == pytest.approx(0.05, rel=0.05)
    a, b = rigid(before, seen)
    assert np.std(np.angle(a)) == pytest.approx(noise_of_turn(before, 0.05), rel=0.05)
    point = 300.0 - 40.0j
    assert np.std((a * point + b).imag) == pytest.approx(noise_of_place(before, 0.05, point), rel=0.05)


def test_two_points_tell_a_turn_as_well_as_their_distance_lets_them() -> None:
    """Worked by hand: sqrt(2) 0.02 px / 60 px = 0.027 degrees."""
    assert np.degrees(noise_of_turn(places([(0.0, 0.0), (60.0, 0.0)]), 0.02)) == pytest.approx(0.0270, abs=5e-5)


# -------------------------------------------------------------------- the shutter


@pytest.mark.parametrize(("turn", "place", "late"), [
    (0, 10 + 99j, 0.005), (0, 10 + 0j, -0.005), (180, 10 + 0j, 0.0049), (90, 99 + 3j, 0.0049), (270, 0j, 0.0049),
])  # fmt: skip
def test_low_lines_are_read_late(turn: int, place: complex, late: float) -> None:
    """Worked by hand for 100 lines in 10 ms: the last line 5 ms after the middle, the first 5 ms before."""
    assert lateness(np.array([[place]]), 0.010, 100.0, turn)[0, 0] == pytest.approx(late, abs=1.1e-4)


def test_late_places_are_brought_to_one_time() -> None:
    """A sine that is seen 4 ms late in turn comes back within a thousandth of its height; gaps stay gaps."""
    times = np.arange(200) / RATE
    late = np.full((1, 200), 0.004)
    seen = 100.0 * np.sin(2 * np.pi * 5.0 * (times + 0.004))[None, :].astype(complex)
    seen[0, 50:53] = np.nan
    found = at_one_time(times, seen, late)[0]
    there = ~np.isnan(found)
    assert np.flatnonzero(~there).tolist() == [50, 51, 52]
    inner = there & (np.abs(np.arange(200) - 51) > 3)
    assert np.abs(found - 100.0 * np.sin(2 * np.pi * 5.0 * times))[inner][:-1].max() < 0.1


# -------------------------------------------------------------------- times


def test_the_rate_of_a_file_counts_what_was_left_out() -> None:
    """A tenth of the pictures left out, or times rounded to milliseconds, change the rate by less than 0.1 %."""
    rng = np.random.default_rng(3)
    times = np.arange(600) / 30.0
    assert file_rate(times[rng.random(600) > 0.1]) == pytest.approx(30.0, rel=1e-3)
    assert file_rate(np.round(times, 3)) == pytest.approx(30.0, rel=1e-3)


@pytest.mark.parametrize(("stored", "taken", "scale"), [
    (30.0, 30.0, 1.0), (29.97, 30.0, 1.0), (30.0, 240.0, 1 / 8), (29.97, 240.0, 1 / 8), (30.0, 1000.0, 0.03),
    (25.0, 120.0, 25 / 120), (240.0, 240.0, 1.0), (30.0, 960.0, 1 / 32),
])  # fmt: skip
def test_the_scale_of_time_is_the_rate_stored_over_the_rate_taken(stored: float, taken: float, scale: float) -> None:
    """Worked by hand; a whole factor is taken where one is near, for 30 stands for 29.97 too."""
    times = np.arange(300) / stored
    assert time_scale(times, None, taken).true_over_file == pytest.approx(scale, rel=1e-9)
    assert time_scale(times, taken, None).from_ == "metadata"


@pytest.mark.parametrize("rate", [0.0, -30.0, 1e9, float("nan")])
def test_a_rate_that_is_none_is_refused(rate: float) -> None:
    """It names the option, the value, and what would have been accepted."""
    with pytest.raises(InputRefused, match="captured-at"):
        time_scale(np.arange(9) / 30.0, None, rate)


# -------------------------------------------------------------------- all together


def filmed(turn: float = 0.0, down: float = 0.0, **changes: object) -> PixelTracks:
    """Give the places of two marks on a section and two on the wall; the section turns by 0, then ``turn``."""
    count = 40
    angle, below = np.linspace(0.0, turn, count), np.linspace(0.0, down, count)
    centre = 300.0 + 200.0j
    section = [centre + (arm * np.exp(1j * angle)) + 1j * below for arm in (-100.0, 100.0)]
    wall = [np.full(count, place) for place in (50.0 + 50.0j, 600.0 + 350.0j)]
    marks = Marks(
        (Mark("forward", "dot", "section", (200.0, 200.0)), Mark("aft", "dot", "section", (400.0, 200.0)),
         Mark("high", "dot", "background", (50.0, 50.0)), Mark("low", "dot", "background", (600.0, 350.0))),
        "left", KnownLength(0.2, ("forward", "aft")), (300.0, 200.0),
    )  # fmt: skip
    tracks = tuple(
        PixelTrack(mark.name, tuple(z.real.tolist()), tuple(z.imag.tolist()), 20.0, 150.0)
        for mark, z in zip(marks.marks, [*section, *wall], strict=True)
    )
    given = {"marks": marks, "ticks": tuple(range(count)), "tick": (1, 120), "tracks": tracks}
    return PixelTracks(**(given | {"width": 640.0, "height": 400.0} | changes))  # type: ignore[arg-type]


def last(tracks: PixelTracks, name: str) -> float:
    """Give the last value of a channel."""
    (found,) = (each for each in section_tracks(tracks, 120.0).recording.channels if each.quantity == name)
    value = found.values[-1]
    assert value is not None
    return value


def test_clockwise_with_the_nose_on_the_left_is_nose_up() -> None:
    """Worked by hand: the left end rises when the picture turns clockwise, y down; 200 px are 200 mm."""
    assert last(filmed(turn=0.1), "pitch") == pytest.approx(0.1, rel=1e-9)
    assert last(filmed(turn=0.1), "plunge") == pytest.approx(0.0, abs=1e-12)


def test_down_in_the_picture_is_plunge_down() -> None:
    """Worked by hand: 25 px at 1 mm a pixel."""
    assert last(filmed(down=25.0), "plunge") == pytest.approx(0.025, rel=1e-9)
    assert last(filmed(down=25.0), "pitch") == pytest.approx(0.0, abs=1e-12)


@pytest.mark.slow
@given(st.floats(-0.5, 0.5), st.floats(0.8, 1.25), REAL, REAL)
def test_whatever_the_camera_does_in_its_plane_is_taken_out(turn: float, zoom: float, x: float, y: float) -> None:
    """A camera that turns, shifts and zooms during the recording changes neither pitch nor plunge."""
    plain = filmed(turn=0.1, down=10.0)
    a = 1.0 + np.linspace(0.0, 1.0, 40) * (zoom * np.exp(1j * turn) - 1.0)
    b = np.linspace(0.0, 1.0, 40) * complex(x, y)
    moved = tuple(
        replace(track, x=tuple(z.real.tolist()), y=tuple(z.imag.tolist()))
        for track in plain.tracks
        for z in [a * (np.array(track.x, dtype=float) + 1j * np.array(track.y, dtype=float)) + b]
    )
    shaken = replace(plain, tracks=moved)
    assert last(shaken, "pitch") == pytest.approx(0.1, abs=1e-9)
    assert last(shaken, "plunge") == pytest.approx(0.010, abs=1e-9)


def test_a_mark_that_jumps_to_another_thing_is_a_gap() -> None:
    """Two marks of one body that suddenly stand elsewhere to each other are not believed."""
    plain = filmed(turn=0.1)
    x = list(plain.tracks[0].x)
    x[20] = 230.0
    jumped = replace(plain, tracks=(replace(plain.tracks[0], x=tuple(x)), *plain.tracks[1:]))
    (pitch,) = (each for each in section_tracks(jumped).recording.channels if each.quantity == "pitch")
    assert [index for index, value in enumerate(pitch.values) if value is None] == [20]


def test_without_a_scale_only_angles_are_told() -> None:
    """Pixels are no metres: without a known length there is no plunge, and no guess."""
    tracks = filmed(turn=0.1)
    found = section_tracks(replace(tracks, marks=replace(tracks.marks, scale=None)))
    assert [each.quantity for each in found.recording.channels] == ["pitch"]
    assert found.plunge_uncertainty is None


def test_small_marks_and_damage_are_said() -> None:
    """Small marks widen; a damaged file with missing frames cannot tell."""
    small = filmed()
    small = replace(small, tracks=(replace(small.tracks[0], size=9.0), *small.tracks[1:]))
    assert "small marks" in {doubt.about for doubt in section_tracks(small).doubts}
    torn = filmed(doubts=("3 frames could not be decoded: the file is damaged there.",), missing=3)
    assert ("the file", "cannot tell") in {(doubt.about, doubt.weight) for doubt in section_tracks(torn).doubts}


def test_a_readout_that_cannot_be_used_widens_as_an_unknown_one() -> None:
    """In true seconds it is of no use while nothing says how long a second of the file is; with the rate it is used.

    A readout of nothing is one at any rate.
    """
    tracks = filmed(turn=0.6, down=60.0)

    def seen(readout: float | None, rate: float | None) -> SectionTracks:
        return section_tracks(replace(tracks, marks=replace(tracks.marks, readout=readout), capture_rate=rate))

    unknown, useless, used, at_once = seen(None, None), seen(0.005, None), seen(0.005, 120.0), seen(0.0, None)
    assert useless.pitch_uncertainty == unknown.pitch_uncertainty
    assert useless.recording.row_skew == unknown.recording.row_skew > 0.0
    assert used.recording.row_skew == at_once.recording.row_skew == 0.0
    assert used.pitch_uncertainty is not None
    assert unknown.pitch_uncertainty is not None
    assert used.pitch_uncertainty < unknown.pitch_uncertainty


def test_what_a_shutter_does_is_told_with_what_would_mend_it() -> None:
    """Half a degree by lines: an unknown readout is asked for, beside a known one the rate; a tenth is not told."""
    (asked,), (beside,) = (tuple(of_the_lines(np.radians(0.5), known)) for known in (False, True))
    assert "moves the angle by 0.50 degrees" in asked.sentence
    assert "Say its readout time" in asked.sentence
    assert "may move the angle by 0.50 degrees" in beside.sentence
    assert "how many pictures a second were taken" in beside.sentence
    assert tuple(of_the_lines(np.radians(0.1), known=False)) == ()


def test_marks_that_are_never_seen_together_are_refused() -> None:
    """Without one picture that shows every mark there is nothing to measure against."""
    plain = filmed()
    lost = replace(plain.tracks[0], x=(None,) * 40, y=(None,) * 40)
    with pytest.raises(InputRefused, match="every mark"):
        section_tracks(replace(plain, tracks=(lost, *plain.tracks[1:])))
    with pytest.raises(InputRefused, match="at least 8"):
        section_tracks(replace(plain, ticks=(0, 1)))


def test_a_document_gives_back_the_same_tracks() -> None:
    """What is kept as a document comes back to the last digit."""
    tracks = filmed(turn=0.123, down=4.5)
    assert from_document(to_document(tracks), PixelTracks) == tracks
