"""Rendered videos in good conditions: frequency within 0.5 %, damping ratio within 0.005, angle within 0.2°.

The motion is known because the tests draw it: decays of 6.4 Hz, zeta 0.035 (pitch, 4°) and 3.2 Hz, zeta 0.041
(plunge, 12 mm). Even light and a square view: a real video is several times worse.
"""

from __future__ import annotations

from pathlib import Path

import numpy as np
import pytest

from hingeline.motion.marks import section_tracks
from hingeline_app.recordings.follow import follow
from tests.hingeline_app.recordings.marked import Compared, channel, compared, marks_of, rms
from tests.hingeline_app.recordings.rendered import Scene, rendered, tone

HAND = {"shake_pixels": 3.0, "shake_degrees": 0.2}
QUICK = {"dots": (Scene(**HAND), 120.0), "markers": (Scene(kind="marker", **HAND), 120.0)}
SLOW = {
    "1280 by 720": (Scene(width=1280, height=720, **HAND), 120.0),
    "markers, 1280 by 720": (Scene(kind="marker", width=1280, height=720, **HAND), 120.0),
    "30 a second": (Scene(rate=30.0, **HAND), 30.0),
    "60 a second": (Scene(rate=60.0, **HAND), 60.0),
    "a hand that shakes four times as much": (Scene(shake_pixels=12.0, shake_degrees=0.6), 120.0),
    "grainy": (Scene(noise=12.0, **HAND), 120.0),
    "a slow shutter": (Scene(rate=60.0, shutter=1.0, **HAND), 60.0),
    "little contrast": (Scene(contrast=0.35, **HAND), 120.0),
    "H.265": (Scene(codec="libx265", seconds=2.0, options={"x265-params": "log-level=none"}, **HAND), 120.0),
    "ten bits": (Scene(codec="libx265", pixels="yuv420p10le", seconds=2.0, **HAND), 120.0),
}


def good(found: Compared) -> None:
    """Hold what was followed to what is promised, and its own uncertainty to what it is worth."""
    assert found.angle < 0.2
    assert max(map(abs, found.frequencies)) < 0.005
    assert max(map(abs, found.dampings)) < 0.005
    assert found.plunge < 0.3
    section = found.section
    assert section.pitch_uncertainty is not None
    assert section.plunge_uncertainty is not None
    assert found.angle < 2.0 * np.degrees(section.pitch_uncertainty)
    assert found.plunge < 2.0 * 1000.0 * section.plunge_uncertainty
    assert not [doubt for doubt in section.doubts if doubt.weight == "cannot tell"]


@pytest.mark.slow
@pytest.mark.parametrize("name", QUICK)
def test_good_conditions(name: str, tmp_path: Path) -> None:
    """Dots and printed markers in the hand keep what is promised."""
    good(compared(tmp_path / "video.mp4", *QUICK[name]))


@pytest.mark.slow
@pytest.mark.parametrize("name", SLOW)
def test_more_good_conditions(name: str, tmp_path: Path) -> None:
    """So do other sizes, rates, hands, lights and codecs."""
    good(compared(tmp_path / "video.mp4", *SLOW[name]))


@pytest.mark.slow
@pytest.mark.parametrize(
    ("suffix", "codec"),
    [(".mkv", "libx264"), (".webm", "libvpx-vp9"), (".avi", "mjpeg"), (".mov", "mpeg4"), (".mov", "prores_ks")],
)
def test_every_container_is_followed(suffix: str, codec: str, tmp_path: Path) -> None:
    """Each container that is promised is read to the last frame, with codecs that live in it."""
    pixels = {"mjpeg": "yuvj420p", "prores_ks": "yuv422p10le"}.get(codec, "yuv420p")
    scene = Scene(rate=60.0, seconds=2.0, codec=codec, pixels=pixels, options={"b": "4000000"})
    found = compared(tmp_path / f"video{suffix}", scene, 60.0)
    assert len(found.section.recording.times) == 120
    assert found.angle < 0.2
    assert max(map(abs, found.frequencies)) < 0.005


@pytest.mark.slow
def test_a_control_is_told_relative_to_its_section(tmp_path: Path) -> None:
    """The angle of a control is positive trailing edge down, and the section's own pitch is taken out of it."""
    scene = Scene(rate=60.0, seconds=2.0, surface=tone(5.0, np.radians(6.0)))
    section = section_tracks(follow(rendered(tmp_path / "video.mp4", scene), marks_of(scene)), 60.0)
    assert np.degrees(rms(channel(section, "surface"), scene.surface(scene.true_times))) < 0.2
    assert np.degrees(rms(channel(section, "pitch"), scene.pitch(scene.true_times))) < 0.2


@pytest.mark.slow
def test_the_nose_on_the_right_turns_the_signs_round(tmp_path: Path) -> None:
    """What is nose up with the nose on the left is nose down with the nose on the right; down stays down."""
    scene = Scene(rate=60.0, seconds=1.0)
    path = rendered(tmp_path / "video.mp4", scene)
    left = section_tracks(follow(path, marks_of(scene)), 60.0)
    right = section_tracks(follow(path, marks_of(scene, nose="right")), 60.0)
    assert np.allclose(channel(left, "pitch"), -channel(right, "pitch"))
    assert np.allclose(channel(left, "plunge"), channel(right, "plunge"))


@pytest.mark.slow
def test_a_patch_is_followed_where_nothing_is_printed(tmp_path: Path) -> None:
    """A patch that somebody points at is followed by its looks; the result says that it is worth less."""
    scene = Scene(rate=60.0, seconds=2.0)
    dots = rendered(tmp_path / "video.mp4", scene)
    patches = marks_of(Scene(rate=60.0, seconds=2.0, kind="patch"), off=0.0)
    section = section_tracks(follow(dots, patches), 60.0)
    assert np.degrees(rms(channel(section, "pitch"), scene.pitch(scene.true_times))) < 0.2
    assert "patch" in {doubt.about for doubt in section.doubts}


@pytest.mark.slow
@pytest.mark.parametrize("turn", [90, 180, -90])
def test_a_telephone_held_upright_is_followed_as_it_is_shown(turn: int, tmp_path: Path) -> None:
    """A picture that is stored lying is followed in the pixels that a viewer shows."""
    plain = Scene(rate=60.0, seconds=0.5)
    turned = Scene(rate=60.0, seconds=0.5, rotation=turn)
    stored = follow(rendered(tmp_path / "plain.mp4", plain), marks_of(plain))
    wide, high = plain.width - 1.0, plain.height - 1.0
    shown = {
        90: lambda x, y: (y, wide - x),
        180: lambda x, y: (wide - x, high - y),
        -90: lambda x, y: (high - y, x),
    }[turn]
    marks = marks_of(plain)
    moved = type(marks)(
        tuple(type(m)(m.name, m.kind, m.on, shown(*m.at)) for m in marks.marks),  # type: ignore[misc]
        scale=marks.scale,
    )
    seen = follow(rendered(tmp_path / "turned.mp4", turned), moved)
    assert (seen.width, seen.height) == ((360.0, 640.0) if turn != 180 else (640.0, 360.0))
    for before, after in zip(stored.tracks, seen.tracks, strict=True):
        expected = shown(np.array(before.x), np.array(before.y))
        assert np.allclose(expected, (after.x, after.y), atol=1e-6)
