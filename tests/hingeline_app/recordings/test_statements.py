"""From a rendered video to the statement: the whole way that the command and the page go."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest

from hingeline.motion import MotionResult
from hingeline.motion.marks import Doubt, judge_section, section_tracks
from hingeline_app.recordings.follow import follow
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Motion, Scene, decay, rendered

HAND = {"shake_pixels": 2.0, "shake_degrees": 0.1}


def scene_of(damping: float, pitch: float, seconds: float = 4.0) -> Scene:
    """Film one mode in which plunge and pitch move together."""
    pitching: Motion = decay(5.0, damping, np.radians(pitch))
    plunging: Motion = decay(5.0, damping, pitch * 0.002)
    small = Scene(width=480, height=272, rate=60.0, seconds=seconds, dot=0.014)
    return replace(small, pitch=pitching, plunge=plunging, **HAND)


def said_of(path: Path, scene: Scene) -> MotionResult:
    """Go the whole way."""
    return judge_section(section_tracks(follow(rendered(path, scene), marks_of(scene)), scene.rate))


@pytest.mark.slow
def test_a_free_decay_dies_out(tmp_path: Path) -> None:
    """A filmed decay of 5 Hz and zeta 0.03 is said to die out, with both numbers inside their intervals."""
    found = said_of(tmp_path / "video.mp4", scene_of(0.03, 4.0))
    assert found.statement == "dying out"
    assert found.frequency is not None
    assert found.damping_ratio is not None
    assert found.frequency.value == pytest.approx(5.0, rel=0.005)
    assert found.damping_ratio.value == pytest.approx(0.03, abs=0.005)
    assert "Standard uncertainty of one value" in " ".join(found.notes)


@pytest.mark.slow
def test_a_growing_motion_is_growing(tmp_path: Path) -> None:
    """A filmed growth is never called anything milder."""
    found = said_of(tmp_path / "video.mp4", scene_of(-0.02, 0.4))
    assert found.statement == "growing"
    assert found.growth_rate is not None
    assert found.growth_rate.value == pytest.approx(0.02 * 2 * np.pi * 5.0, rel=0.1)


@pytest.mark.slow
def test_an_unknown_scale_of_time_gives_no_frequency(tmp_path: Path) -> None:
    """Without a word about slow motion the statement stands, and the frequency is one of the file."""
    scene = scene_of(0.03, 4.0)
    followed = follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene))
    found = judge_section(section_tracks(followed))
    assert found.statement == "dying out"
    assert (found.frequency, found.growth_rate) == (None, None)
    assert found.frequency_per_file_second == pytest.approx(5.0, rel=0.01)
    assert found.time_scale.from_ == "unknown"


@pytest.mark.slow
def test_a_grave_doubt_takes_the_statement_back_and_keeps_the_warning(tmp_path: Path) -> None:
    """Filmed from the hand without a still mark nothing can be told; that it looked like growing is still said."""
    scene = scene_of(-0.02, 0.4)
    followed = follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene))
    section = replace(section_tracks(followed, 60.0), doubts=(Doubt("shake", "The hand is in it.", "cannot tell"),))
    found = judge_section(section)
    assert found.statement == "cannot tell"
    assert (found.frequency, found.damping_ratio, found.growth_rate) == (None, None, None)
    assert found.reasons[0] == "The hand is in it."
    assert 'would be called "growing": treat it as self-excited' in found.reasons[1]
    assert "self-excitation is not excluded" in found.reasons[-1]
    assert {one.role for one in found.evidence} == {"shown"}
