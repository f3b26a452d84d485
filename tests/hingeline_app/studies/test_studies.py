"""A study is the command's answer, whether it was worked in one go, stopped and gone on with, or cut off."""

from __future__ import annotations

import json
import time
from collections.abc import Callable
from pathlib import Path

import pytest

from hingeline.errors import InputRefused
from hingeline.flutter.scatter import ChunkOutcome
from hingeline_app.cli.main import main
from hingeline_app.longwork.folder import Far, ask, held, look
from hingeline_app.studies import runs
from hingeline_app.studies.resumed import resumed
from hingeline_app.studies.runs import Study
from tests.doors.checkouts import ROOT

STRIP = ROOT / "examples" / "flutter" / "01-elevator-strip.toml"
STUDY = Study("a-model", "strip.toml", 3000, 5)


def wait(data: Path, study: Study, enough: Callable[[Far], bool]) -> Far:
    until = time.monotonic() + 120
    while time.monotonic() < until:
        far = runs.look(data, study)
        assert far is not None
        if enough(far):
            return far
        time.sleep(0.03)
    raise AssertionError(far)


@pytest.mark.slow
def test_stopped_and_gone_on_with_a_study_is_the_commands(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Stopped after the first chunk and gone on with, the numbers are those of one go, and are written once."""
    runs.start(tmp_path, STUDY, STRIP.read_bytes())
    wait(tmp_path, STUDY, lambda far: far.done > 0)
    runs.stop(tmp_path, STUDY)
    far = wait(tmp_path, STUDY, lambda far: not far.goes_on)
    assert (far.word, far.of) == ("stopped", STUDY.draws)
    assert runs.found(tmp_path, STUDY) is None
    runs.start(tmp_path, STUDY, STRIP.read_bytes())
    assert wait(tmp_path, STUDY, lambda far: not far.goes_on).word == "done"
    answer = runs.found(tmp_path, STUDY)
    assert main(["flutter", str(STRIP), "--scatter", "3000", "--seed", "5", "--json"]) == 0
    said = json.loads(capsys.readouterr().out)
    assert answer is not None
    assert answer["speed_distribution"] == said["speed_distribution"]
    assert answer["flutter"] == said["flutter"]
    written = (STUDY.folder(tmp_path) / runs.RESULT).stat().st_mtime_ns
    runs.start(tmp_path, STUDY, STRIP.read_bytes())
    assert (STUDY.folder(tmp_path) / runs.RESULT).stat().st_mtime_ns == written


def test_a_line_that_was_cut_off_is_worked_again_and_no_other(tmp_path: Path) -> None:
    path, worked = tmp_path / "chunks", []

    def work(number: int) -> ChunkOutcome:
        worked.append(number)
        return ChunkOutcome((0.1 * number, 1 / 3), 1000, number, 0)

    whole = list(resumed(path)(work, [1, 2, 3]))
    path.write_text(path.read_text()[:-9])
    worked.clear()
    assert list(resumed(path)(work, [1, 2, 3])) == whole
    assert worked == [3]


def test_a_model_without_uncertain_numbers_is_refused(tmp_path: Path) -> None:
    plain = STRIP.with_name("02-elevator-tab-rod-broken.toml").read_bytes()
    with pytest.raises(InputRefused, match=r"\[scatter\]"):
        runs.start(tmp_path, STUDY, plain)


class NobodyTakesItUp:
    """A line in which a piece waits, and no worker."""

    def __init__(self) -> None:
        self.line: list[Path] = []

    def take_on(self, folder: Path, alive: int) -> None:
        if not self.has(folder):
            self.line.append(folder)

    def has(self, folder: Path) -> bool:
        return folder in self.line


def test_a_study_that_was_asked_to_stop_while_nobody_has_it_has_stopped_and_can_go_on(tmp_path: Path) -> None:
    """Without any worker it was being stopped for ever, with no way on."""
    way = NobodyTakesItUp()
    runs.start(tmp_path, STUDY, STRIP.read_bytes(), way)
    said = []
    for act in (lambda: None, lambda: runs.stop(tmp_path, STUDY)):
        act()
        said.append(runs.look(tmp_path, STUDY, way))
    runs.start(tmp_path, STUDY, STRIP.read_bytes(), way)
    said.append(runs.look(tmp_path, STUDY, way))
    assert [(each.word, each.is_stopping) for each in said if each] == [
        ("waits", False),
        ("stopped", False),
        ("waits", False),
    ]
    assert way.line == [STUDY.folder(tmp_path)], "in the line once"
    with pytest.raises(InputRefused, match="not under way"):
        runs.start(tmp_path, STUDY, STRIP.read_bytes(), way)


def test_a_study_that_somebody_has_and_was_asked_to_stop_says_so(tmp_path: Path) -> None:
    """Until its last word it is being stopped: not one that waits for what was asked for before it."""
    folder = STUDY.folder(tmp_path)
    folder.mkdir(parents=True)
    ask(folder, {"name": STUDY.name, "draws": STUDY.draws, "seed": STUDY.seed})
    with held(folder, STUDY.name):
        waiting = look(folder)
        runs.stop(tmp_path, STUDY)
        asked = look(folder)
    assert waiting is not None
    assert asked is not None
    assert (waiting.word, waiting.is_stopping, asked.word, asked.is_stopping) == ("waits", False, "waits", True)
    (folder / "state.json").write_text('{"word": "stopped"}')
    ended = look(folder)
    assert ended is not None
    assert (ended.word, ended.is_stopping) == ("stopped", False)
