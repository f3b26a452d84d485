"""The command's way with a video: the same statement as the library gives, a stop that keeps what is done, a sheet."""

from __future__ import annotations

import json
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from hingeline.motion.marks import judge_section, section_tracks
from hingeline_app.cli.main import main
from hingeline_app.cli.motion_video import judged_video, write_marks_sheet
from hingeline_app.cli.run import Run
from hingeline_app.evidence.kinds import is_video
from hingeline_app.recordings import follow as door
from tests.doors.checkouts import ROOT
from tests.hingeline_app.recordings.marked import marks_of
from tests.hingeline_app.recordings.rendered import Scene, decay, rendered

SCENE = Scene(width=480, height=272, rate=60.0, seconds=4.0, dot=0.014, pitch=decay(5.0, 0.03, 0.07))


def marks_file(folder: Path) -> Path:
    """Write the marks of the scene as somebody would."""
    marks = marks_of(SCENE)
    tables = [
        f'[[mark]]\nname = "{m.name}"\nkind = "dot"\non = "{m.on}"\nat = [{m.at[0]:.1f}, {m.at[1]:.1f}]\n'
        for m in marks.marks
        if m.at is not None
    ]
    head = 'format = "hingeline/marks/1"\nnose = "left"\n[scale]\nlength = "160 mm"\nbetween = ["forward", "aft"]\n'
    path = folder / "marks.toml"
    path.write_text(head + "\n".join(tables), "utf-8")
    return path


@pytest.mark.slow
def test_a_video_with_its_marks_file_is_judged(tmp_path: Path) -> None:
    """File and marks go in, statement and tracks come out, as the library gives them."""
    path = rendered(tmp_path / "video.mp4", SCENE)
    assert is_video(path.read_bytes()[:16])
    result, tracks = judged_video(Run(), str(path), str(marks_file(tmp_path)), 60.0)
    assert result == judge_section(section_tracks(tracks, 60.0))
    assert result.source == "video"
    assert result.statement == "dying out"
    assert result.time_scale.from_ == "given"


def test_the_filmed_example_is_judged_as_it_was_drawn(capsys: pytest.CaptureFixture[str]) -> None:
    """The command of the guide: 3.2 Hz and a damping ratio of 0.041 were drawn; within 0.5 % and 0.005."""
    video, marks = (ROOT / "examples" / "motion" / f"07-section-filmed.{end}" for end in ("mp4", "marks.toml"))
    assert main(["motion", str(video), "--marks", str(marks), "--captured-at", "60", "--json"]) == 0
    found = json.loads(capsys.readouterr().out)
    assert found["statement"] == "dying out"
    assert found["frequency"]["value"] == pytest.approx(3.2 * (1.0 - 0.041**2) ** 0.5, rel=0.005)
    assert found["damping_ratio"]["value"] == pytest.approx(0.041, abs=0.005)


@pytest.mark.slow
def test_an_interrupt_keeps_what_was_followed(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Ctrl-C ends the following; what was followed is judged, and the result says that it is a part."""
    path = rendered(tmp_path / "video.mp4", SCENE)
    real = door.Kept.take

    def interrupted(self: door.Kept, message: dict[str, object]) -> None:
        real(self, message)
        if len(self.ticks) == 192:
            signal.raise_signal(signal.SIGINT)

    monkeypatch.setattr(door.Kept, "take", interrupted)
    result, tracks = judged_video(Run(), str(path), str(marks_file(tmp_path)), 60.0)
    assert not tracks.finished
    assert len(tracks.ticks) == 192
    assert "followed only in part" in " ".join(result.notes)


@pytest.mark.parametrize("head", [b"", b"time_s,pitch_deg", b"RIFF\0\0\0\0WAVEfmt ", b'format = "hing'])
def test_what_is_no_video_is_told_apart(head: bytes) -> None:
    """A table, a sound and a text are none."""
    assert not is_video(head)


def test_a_sheet_of_marks_is_written(tmp_path: Path) -> None:
    """One PDF, in its place."""
    write_marks_sheet(str(tmp_path / "marks.pdf"), 30.0, 10.0, "a4")
    assert (tmp_path / "marks.pdf").read_bytes().startswith(b"%PDF")


@pytest.mark.slow
def test_the_command_follows_a_video_and_refuses_one_without_marks(tmp_path: Path) -> None:
    """``motion FILE --marks FILE`` gives the library's statement as JSON; without marks a video is refused in words."""
    path = rendered(tmp_path / "video.mp4", SCENE)
    marked = ["motion", str(path), "--marks", str(marks_file(tmp_path)), "--captured-at", "60", "--json"]
    done = subprocess.run([sys.executable, "-m", "hingeline_app", *marked], capture_output=True, text=True, check=True)
    document = json.loads(done.stdout)
    assert (document["statement"], document["source"]) == ("dying out", "video")
    bare = subprocess.run(
        [sys.executable, "-m", "hingeline_app", "motion", str(path)], capture_output=True, text=True, check=False
    )
    assert bare.returncode == 2
    assert "--marks marks.toml" in bare.stderr
