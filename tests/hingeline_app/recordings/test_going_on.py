"""Progress is told, a stop is heard, and a later run goes on where the earlier one stopped."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.document import from_document, to_document
from hingeline.errors import InputRefused
from hingeline.motion.marks import Marks, PixelTracks
from hingeline_app.recordings.follow import Progress, follow
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Scene, rendered


@pytest.fixture(scope="module")
def filmed(tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, Scene]:
    """Give a video with differences between its pictures: several can only be decoded after others."""
    scene = Scene(width=320, height=184, rate=60.0, seconds=4.0, dot=0.016, options={"g": "40", "bf": "2"})
    return rendered(tmp_path_factory.mktemp("going on") / "video.mp4", scene), scene


def followed_until(path: Path, marks: Marks, pictures: int) -> PixelTracks:
    """Follow a video until so many pictures have been reported."""
    seen: list[Progress] = []
    return follow(path, marks, seen.append, lambda: bool(seen) and seen[-1].followed >= pictures)


@pytest.mark.slow
def test_progress_rises_to_the_end(filmed: tuple[Path, Scene]) -> None:
    """Each report says how many of how many pictures were followed, up to all of them."""
    seen: list[Progress] = []
    follow(filmed[0], marks_of(filmed[1]), seen.append)
    counts = [each.followed for each in seen]
    assert counts == sorted(counts)
    assert (counts[-1], seen[-1].expected) == (240, 240)
    assert len(set(counts)) > 5


@pytest.mark.slow
@pytest.mark.parametrize("kind", ["dot", "patch"])
@pytest.mark.parametrize("pictures", [32, 90, 170])
def test_going_on_gives_what_one_run_gives(filmed: tuple[Path, Scene], kind: str, pictures: int) -> None:
    """Stopped and gone on, even through a document in between, the result is the same to the last digit."""
    marks = marks_of(replace(filmed[1], kind=kind), off=0.0)
    whole = follow(filmed[0], marks)
    part = followed_until(filmed[0], marks, pictures)
    assert 0 < len(part.ticks) < len(whole.ticks)
    assert not part.finished
    kept = from_document(to_document(part), PixelTracks)
    assert follow(filmed[0], marks, before=kept) == whole


@pytest.mark.slow
def test_going_on_with_markers_gives_what_one_run_gives(tmp_path: Path) -> None:
    """The same for printed markers."""
    scene = Scene(rate=60.0, seconds=2.0, kind="marker")
    path = rendered(tmp_path / "video.mp4", scene)
    part = followed_until(path, marks_of(scene), 64)
    assert not part.finished
    assert follow(path, marks_of(scene), before=part) == follow(path, marks_of(scene))


def test_a_stop_is_heard_at_once(filmed: tuple[Path, Scene]) -> None:
    """A stop before anything was followed ends it with a sentence, before a single report."""
    seen: list[Progress] = []
    with pytest.raises(InputRefused, match="stopped"):
        follow(filmed[0], marks_of(filmed[1]), seen.append, lambda: True)
    assert seen == []


def test_only_the_same_video_and_marks_are_gone_on_with(filmed: tuple[Path, Scene], tmp_path: Path) -> None:
    """Another file, or other marks, cannot be gone on with: the check sum says so."""
    marks = marks_of(filmed[1])
    part = followed_until(filmed[0], marks, 64)
    other = tmp_path / "other.mp4"
    other.write_bytes(filmed[0].read_bytes() + b"\0\0\0\x08free")
    with pytest.raises(InputRefused, match="begun with"):
        follow(other, marks, before=part)
    with pytest.raises(InputRefused, match="begun with"):
        follow(filmed[0], replace(marks, nose="right"), before=part)
