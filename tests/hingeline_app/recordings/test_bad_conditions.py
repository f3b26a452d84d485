"""Rendered videos in bad conditions: wider, or "cannot tell", and said in words."""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hingeline.motion.marks import section_tracks
from hingeline_app.recordings.follow import follow
from tests.hingeline_app.recordings.marked import channel, compared, marks_of, rms
from tests.hingeline_app.recordings.rendered import Array, Scene, rendered, tone

HAND = {"shake_pixels": 3.0, "shake_degrees": 0.2}


def scattered_times() -> Array:
    """Give times as a busy camera takes them: 1.5 ms of scatter, one picture in twenty left out."""
    rng = np.random.default_rng(3)
    times = np.arange(360) / 120.0 + rng.normal(0.0, 0.0015, 360)
    return np.sort(times[rng.random(360) > 0.05] - times.min())


@pytest.mark.slow
def test_a_hand_without_a_still_mark_cannot_be_told_from_the_section(tmp_path: Path) -> None:
    """Without a mark on the background the hand's motion is in the tracks: nothing can be told; on a stand, it can."""
    scene = Scene(rate=60.0, seconds=1.5, **HAND)
    path = rendered(tmp_path / "video.mp4", scene)
    held = marks_of(scene, bodies=("section", "section", "", ""))
    section = section_tracks(follow(path, held), 60.0)
    assert ("shake", "cannot tell") in {(doubt.about, doubt.weight) for doubt in section.doubts}
    assert np.degrees(rms(channel(section, "pitch"), scene.pitch(scene.true_times))) > 0.1
    stand = marks_of(scene, bodies=("section", "section", "", ""), camera="on a stand")
    assert "shake" not in {doubt.about for doubt in section_tracks(follow(path, stand), 60.0).doubts}


@pytest.mark.slow
def test_a_very_strong_shake_is_said(tmp_path: Path) -> None:
    """A camera that shakes by 4 % of the picture is said to, though still marks take most of it out."""
    scene = Scene(rate=60.0, seconds=1.5, shake_pixels=26.0, shake_degrees=0.5)
    section = section_tracks(follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene)), 60.0)
    assert "strong shake" in {doubt.about for doubt in section.doubts}


def test_one_still_mark_takes_out_no_turn(tmp_path: Path) -> None:
    """With one still mark the camera's turn stays in the angle, and the result says so."""
    scene = Scene(rate=60.0, seconds=1.0, shake_degrees=1.0)
    marks = marks_of(scene, bodies=("section", "section", "background", ""))
    section = section_tracks(follow(rendered(tmp_path / "video.mp4", scene), marks), 60.0)
    assert "One still mark" in " ".join(doubt.sentence for doubt in section.doubts)


def test_a_motion_near_half_the_rate_cannot_be_told(tmp_path: Path) -> None:
    """13 Hz at 30 pictures a second: fewer than two and a half pictures a cycle tell nothing."""
    scene = Scene(rate=30.0, seconds=2.0, shutter=0.1, pitch=tone(13.0, np.radians(3.0)), plunge=tone(13.0, 0.002))
    section = section_tracks(follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene)), 30.0)
    assert ("near half the rate", "cannot tell") in {(doubt.about, doubt.weight) for doubt in section.doubts}


@pytest.mark.slow
@pytest.mark.fault("F24")
def test_slow_motion_of_unknown_scale_is_never_assumed(tmp_path: Path) -> None:
    """Where neither the file nor a person says how fast it was filmed, the scale of time is unknown."""
    scene = Scene(rate=240.0, seconds=0.5, stored_rate=30.0)
    followed = follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene))
    unknown, given = section_tracks(followed), section_tracks(followed, 240.0)
    assert (unknown.recording.time_scale.true_over_file, unknown.recording.time_scale.from_) == (None, "unknown")
    assert "slow motion unknown" in {doubt.about for doubt in unknown.doubts}
    assert (given.recording.time_scale.true_over_file, given.recording.time_scale.from_) == (1.0 / 8.0, "given")


@pytest.mark.slow
def test_slow_motion_is_read_from_the_file(tmp_path: Path) -> None:
    """A camera that writes its rate of capture is believed, and the person who was there before it."""
    tag = {"com.android.capture.fps": "240.0"}
    scene = Scene(rate=240.0, seconds=0.5, stored_rate=30.0, metadata=tag)
    followed = follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene))
    read, told = section_tracks(followed).recording.time_scale, section_tracks(followed, 120.0).recording.time_scale
    assert (read.true_over_file, read.from_) == (1.0 / 8.0, "metadata")
    assert (told.true_over_file, told.from_) == (1.0 / 4.0, "given")


@pytest.mark.slow
def test_slow_motion_of_known_scale_is_true(tmp_path: Path) -> None:
    """240 a second stored at 30 gives the true frequency and damping, once somebody says so."""
    found = compared(tmp_path / "video.mp4", Scene(rate=240.0, seconds=2.0, stored_rate=30.0, **HAND), 240.0)
    assert max(map(abs, found.frequencies)) < 0.005
    assert max(map(abs, found.dampings)) < 0.005


@pytest.mark.fault("F24")
@pytest.mark.slow
def test_a_changing_rate_is_measured_by_its_own_times(tmp_path: Path) -> None:
    """Scattered times and lost pictures leave frequency and damping true, and are said."""
    times = scattered_times()
    found = compared(tmp_path / "video.mp4", Scene(times=tuple(times), **HAND), 120.0)
    assert {"variable rate", "frames left out"} <= found.about
    assert max(map(abs, found.frequencies)) < 0.005
    assert max(map(abs, found.dampings)) < 0.005
    assert found.angle < 0.2


@pytest.mark.slow
def test_a_rolling_shutter_widens_the_uncertainty(tmp_path: Path) -> None:
    """A readout of 20 ms at 30 pictures a second spoils the angle; the uncertainty covers it, known or not."""
    scene = Scene(rate=30.0, readout=0.020, shake_pixels=6.0, shake_degrees=0.4)
    unknown = compared(tmp_path / "video.mp4", scene, 30.0)
    known = compared(tmp_path / "video.mp4", scene, 30.0, readout=0.020)
    assert unknown.section.pitch_uncertainty is not None
    assert known.angle < 0.05 < unknown.angle < 2.0 * np.degrees(unknown.section.pitch_uncertainty)
    assert unknown.section.recording.row_skew > 0.0
    assert known.section.recording.row_skew == 0.0
    assert "rolling shutter" in unknown.about
    assert "rolling shutter" not in known.about


@pytest.mark.slow
def test_heavy_compression_is_wider(tmp_path: Path) -> None:
    """A clip that was sent through a messenger has more noise, and says so."""
    fine = compared(tmp_path / "fine.mp4", Scene(**HAND), 120.0)
    coarse = compared(tmp_path / "coarse.mp4", Scene(crf=38, **HAND), 120.0)
    assert coarse.section.noise > 2.0 * fine.section.noise
    assert coarse.section.pitch_uncertainty is not None
    assert coarse.angle < 2.0 * np.degrees(coarse.section.pitch_uncertainty)


def test_a_mark_that_is_covered_leaves_a_gap(tmp_path: Path) -> None:
    """While something covers a dot its track has a gap, never a place; afterwards it is found again."""
    from tests.hingeline_app.recordings.rendered import picture, wall_of, written

    scene = Scene(rate=60.0, seconds=1.0)
    rng, wall = np.random.default_rng(1), wall_of(scene)
    covered = range(20, 30)

    def pictures() -> list[object]:
        drawn = [picture(scene, time, rng, wall) for time in scene.true_times]
        places = scene.seen(scene.true_times)[0]
        for index in covered:
            x, y = (int(v) for v in places[index, 0])
            drawn[index][y - 40 : y + 40, x - 40 : x + 40] = 180
        return list(drawn)

    path = written(tmp_path / "video.mp4", pictures(), scene.file_times, scene)
    section = section_tracks(follow(path, marks_of(scene)), 60.0)
    pitch = channel(section, "pitch")
    assert np.flatnonzero(np.isnan(pitch)).tolist() == list(covered)
    assert "marks lost" in {doubt.about for doubt in section.doubts}
    assert np.degrees(rms(pitch, scene.pitch(scene.true_times))) < 0.2


@pytest.mark.fault("F24")
def test_two_pictures_at_one_time_cannot_be_used(tmp_path: Path) -> None:
    """A file whose pictures do not rise in time is flagged, never read by a guessed rate."""
    from hingeline.motion.marks.doubts import of_the_file

    scene = Scene(rate=60.0, seconds=0.5)
    followed = follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene))
    changed = {"doubts": ("Several frames carry the same time.",)}
    repeated = type(followed)(**{name: getattr(followed, name) for name in followed.__slots__} | changed)
    assert [doubt.weight for doubt in of_the_file(repeated)] == ["cannot tell"]
