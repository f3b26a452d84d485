"""Two processes serve, two workers follow: a killed one's video is taken over by another, and followed once."""

from __future__ import annotations

import json
import os
import re
import sqlite3
import subprocess
import sys
import time
from collections.abc import Callable
from contextlib import closing
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from hingeline.flutter.scatter import scatter_onsets
from hingeline_app.evidence import runs
from hingeline_app.evidence.answer import read_tracks, write_tracks
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.files.marks_file import read_marks
from hingeline_app.recordings.follow import follow
from hingeline_app.studies import runs as studies
from hingeline_app.studies.runs import Study
from tests.browser.conftest import answers, served
from tests.doors.checkouts import ROOT
from tests.hingeline_app.cli.test_motion_video import SCENE, marks_file
from tests.hingeline_app.longwork import by_workers
from tests.hingeline_app.recordings.rendered import rendered
from tests.private_postgresql import Server


def processes_with(*words: str) -> list[int]:
    """Give the numbers of the processes whose command holds these words."""
    found = []
    for each in Path("/proc").glob("[0-9]*/cmdline"):
        try:
            said = each.read_bytes().decode(errors="replace")
        except OSError:
            continue
        if all(word in said for word in words):
            found.append(int(each.parent.name))
    return found


def until(holds: Callable[[], bool], seconds: float = 60.0) -> bool:
    end = time.monotonic() + seconds
    while not holds() and time.monotonic() < end:
        time.sleep(0.05)
    return holds()


def asked_by_a_page(data: Path, video: Path, marks: Path) -> dict[str, Any]:
    done = subprocess.run(
        [sys.executable, by_workers.__file__, str(data), str(video), str(marks)], capture_output=True, text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src"), "DJANGO_SETTINGS_MODULE": "hingeline_app.settings.server"},
        timeout=300, check=False,
    )  # fmt: skip
    assert done.returncode == 0, done.stderr
    told: dict[str, Any] = json.loads(done.stdout)
    return told


@pytest.mark.fault("F25")
@pytest.mark.slow
def test_a_worker_that_is_killed_and_a_server_that_stops_lose_nothing(
    postgresql: Server, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """One command starts all; a second start of a video is refused; what a killed worker had is done by another.

    What was under way when the server stopped waits, and is done after the next start. Every track is that of one go.
    What falls over three times is set aside, and the others go on.
    """
    video = rendered(tmp_path / "long.mp4", replace(SCENE, seconds=40.0))
    marks, data = marks_file(tmp_path), tmp_path / "records"
    monkeypatch.setenv("HINGELINE_DATABASE", postgresql.create("workers"))
    with served(data, "--loopback") as found:
        assert answers(found.address)
        assert "Served by 2 processes; 2 workers" in found.said
        assert until(lambda: len(processes_with("work", str(data), "--with-the-pages")) == 2)
        told = asked_by_a_page(data, video, marks)
    assert processes_with("--with-the-pages", str(data)) == []
    assert "stop it first" in told["refused"]
    assert told["cut_off"] in ("follows", "waits")
    ended = {"one": "done", "two": "done", "study": "done", "bad": "interrupted", "three": "stopped"}
    assert told["words"] == ended
    rows = {key: tuple(row) for key, row in told["rows"].items()}
    assert rows["following/one"] == ("SUCCESSFUL", 2)
    assert rows["following/two"] == ("SUCCESSFUL", 1)
    assert rows["following/three"] == ("SUCCESSFUL", 1)
    assert rows["studies/a-model-3000-5"] == ("SUCCESSFUL", 2)
    assert rows["following/bad"] == ("FAILED", 3)
    assert rows["following/four"][0] == "RUNNING"
    study = studies.found(data, Study("a-model", "strip.toml", 3000, 5))
    here = scatter_onsets(read_flutter(by_workers.STRIP.read_bytes()), 3000, seed=5)
    assert study is not None
    assert here is not None
    quantiles = [each["value"] for each in study["speed_distribution"]["quantiles"].values()]
    assert quantiles == [here.quantiles.low, here.quantiles.middle, here.quantiles.high]
    with served(data, "--loopback"):
        assert until(lambda: _word(data, "four") == "done")
    one_go = read_tracks(write_tracks(follow(video, read_marks(marks.read_bytes()))))
    for key in ("one", "two", "four"):
        tracks = runs.followed(data, key)
        assert tracks is not None
        assert replace(tracks, name=one_go.name) == one_go
    _moved_back_without_the_queue(data, tmp_path / "moved")


def _moved_back_without_the_queue(data: Path, folder: Path) -> None:
    """A file that the records are moved to has the records' tables alone, and is taken by the program as its own."""
    surroundings = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    surroundings.pop("DJANGO_SETTINGS_MODULE", None)
    program = [sys.executable, "-m", "hingeline_app"]
    command = [*program, "move", "--data", str(data), "--to", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, env=surroundings, check=False)
    assert done.returncode == 0, done.stderr
    with closing(sqlite3.connect(folder / "records.sqlite3")) as there:
        names = {name for (name,) in there.execute("SELECT name FROM sqlite_master WHERE type = 'table'")}
    assert "records_job" in names
    assert not {name for name in names if "task" in name and not name.startswith("records_")}
    surroundings.pop("HINGELINE_DATABASE")
    command = [*program, "ledger", "verify", "--data", str(folder)]
    done = subprocess.run(command, capture_output=True, text=True, env=surroundings, check=False)
    assert done.returncode == 0, done.stdout + done.stderr


def _word(data: Path, key: str) -> str:
    run = runs.look(data, key)
    assert run is not None
    return run.word


def test_a_worker_without_a_server_is_refused(tmp_path: Path) -> None:
    """Records in a file: the pages do the long work themselves, and a worker says so."""
    surroundings = {name: value for name, value in os.environ.items() if name != "HINGELINE_DATABASE"}
    for words in (["work", "--data", str(tmp_path)], ["serve", "--data", str(tmp_path), "--workers", "2"]):
        done = subprocess.run(
            [sys.executable, "-m", "hingeline_app", *words], capture_output=True, text=True, timeout=60, check=False,
            env=surroundings | {"PYTHONPATH": str(ROOT / "src")},
        )  # fmt: skip
        assert done.returncode == 2, done.stderr
        assert re.search(r"HINGELINE_DATABASE", done.stderr)
        assert "Traceback" not in done.stderr
