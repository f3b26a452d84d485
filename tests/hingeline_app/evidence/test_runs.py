"""A video followed by a process of its own: gone on with, it gives what one go gives; cut off, it says so."""

from __future__ import annotations

import fcntl
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest

from hingeline.errors import InputRefused
from hingeline_app.evidence import runs
from hingeline_app.evidence.answer import answer_of_tracks, read_tracks, write_tracks
from hingeline_app.evidence.asked import Asked
from hingeline_app.files.marks_file import read_marks
from hingeline_app.longwork.folder import TURN
from hingeline_app.longwork.ways import at_once
from hingeline_app.recordings.follow import follow
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.test_motion_video import SCENE, marks_file
from tests.hingeline_app.recordings.rendered import rendered

KEY = "a-recording"


@pytest.fixture(scope="module")
def long_video(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return rendered(tmp_path_factory.mktemp("video") / "long.mp4", replace(SCENE, seconds=40.0))


def asked(folder: Path) -> Asked:
    return Asked(captured_at=60.0, marks=marks_file(folder).read_text())


def wait(data: Path, enough: Callable[[runs.Run], bool], seconds: float = 90.0) -> runs.Run:
    """Look until it is enough."""
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        run = runs.look(data, KEY)
        assert run is not None
        if enough(run):
            return run
        time.sleep(0.03)
    raise AssertionError(run)


@pytest.mark.slow
def test_stopped_and_gone_on_with_it_gives_what_one_go_gives(tmp_path: Path, long_video: Path) -> None:
    """Stopped on the way, what was followed is kept; gone on with, every place is that of one go."""
    wanted = asked(tmp_path)
    runs.start(tmp_path, KEY, long_video, "long.mp4", wanted)
    wait(tmp_path, lambda run: run.followed > 0)
    runs.stop(tmp_path, KEY)
    run = wait(tmp_path, lambda run: not run.goes_on)
    assert (run.word, 0 < run.followed < run.expected) == ("stopped", True), run
    part = runs.followed(tmp_path, KEY)
    assert part is not None
    assert len(part.ticks) == run.followed
    runs.start(tmp_path, KEY, long_video, "long.mp4", wanted)
    assert wait(tmp_path, lambda run: not run.goes_on).word == "done"
    whole, one_go = runs.followed(tmp_path, KEY), follow(long_video, read_marks(wanted.marks.encode()))
    assert whole == read_tracks(write_tracks(one_go))
    runs.forget(tmp_path, KEY)
    assert runs.look(tmp_path, KEY) is None


@pytest.mark.slow
def test_a_second_start_is_refused_while_it_goes_on(tmp_path: Path, long_video: Path) -> None:
    runs.start(tmp_path, KEY, long_video, "long.mp4", asked(tmp_path))
    with pytest.raises(InputRefused, match="stop it first"):
        runs.start(tmp_path, KEY, long_video, "long.mp4", asked(tmp_path))
    runs.stop(tmp_path, KEY)
    wait(tmp_path, lambda run: not run.goes_on)


@pytest.mark.fault("F25")
def test_one_video_is_followed_at_a_time_and_a_waiting_one_can_be_stopped(tmp_path: Path, long_video: Path) -> None:
    """While somebody has the turn it waits; stopped there, nothing was followed and nothing is wrong with the file."""
    (tmp_path / runs.FOLDER).mkdir()
    with (tmp_path / runs.FOLDER / TURN).open("w") as turn:
        fcntl.flock(turn, fcntl.LOCK_EX)
        runs.start(tmp_path, KEY, long_video, "long.mp4", asked(tmp_path))
        time.sleep(1.5)
        run = runs.look(tmp_path, KEY)
        assert run is not None
        assert run.word == "waits"
        runs.stop(tmp_path, KEY)
        assert wait(tmp_path, lambda run: not run.goes_on).word == "stopped"


@pytest.mark.slow
@pytest.mark.fault("F25")
def test_a_process_that_is_killed_is_known_as_interrupted(tmp_path: Path, long_video: Path) -> None:
    """Killed without a last word: the page says that it was interrupted, and it can be started again."""
    runs.start(tmp_path, KEY, long_video, "long.mp4", asked(tmp_path))
    wait(tmp_path, lambda run: run.word == "follows")
    os.kill(at_once.started[-1].pid, signal.SIGKILL)
    assert wait(tmp_path, lambda run: not run.goes_on).word == "interrupted"
    runs.start(tmp_path, KEY, long_video, "long.mp4", asked(tmp_path))
    assert wait(tmp_path, lambda run: not run.goes_on).word == "done"


SERVER = """
import sys, time
from pathlib import Path
from hingeline_app.evidence import runs
from hingeline_app.evidence.asked import Asked
data, video, marks = map(Path, sys.argv[1:])
runs.start(data, "a-recording", video, "long.mp4", Asked(captured_at=60.0, marks=marks.read_text()))
while runs.look(data, "a-recording").word != "follows":
    time.sleep(0.02)
print("follows", flush=True)
time.sleep(60)
"""


@pytest.mark.slow
@pytest.mark.fault("F25")
def test_when_the_server_ends_its_run_ends_and_keeps_what_it_has(tmp_path: Path, long_video: Path) -> None:
    """The process that started it is killed: the run stops by itself, is called interrupted, and goes on from there."""
    marks, path = marks_file(tmp_path), {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    command = [sys.executable, "-c", SERVER, str(tmp_path), str(long_video), str(marks)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, env=path) as server:
        assert server.stdout is not None
        assert server.stdout.readline() == b"follows\n"
        server.kill()
    run = wait(tmp_path, lambda run: not run.goes_on)
    assert run.word == "interrupted"
    runs.start(tmp_path, KEY, long_video, "long.mp4", run.asked)
    assert wait(tmp_path, lambda run: not run.goes_on).word == "done"


@pytest.mark.slow
def test_with_unknown_time_the_files_own_rate_is_not_used(tmp_path: Path) -> None:
    """Time called unknown by a person stays unknown, whatever the file says of its rate."""
    path = rendered(tmp_path / "video.mp4", SCENE)
    tracks = replace(follow(path, read_marks(marks_file(tmp_path).read_bytes())), capture_rate=60.0)
    assert answer_of_tracks(tracks, Asked()).document["time_scale"]["from"] == "metadata"
    unknown = answer_of_tracks(tracks, Asked(captured_at=60.0, time_unknown=True)).document
    assert unknown["time_scale"] == {"true_over_file": None, "from": "unknown"}
    assert unknown["frequency"] is None
