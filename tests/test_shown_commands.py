"""Every command that README, guide or a page of the documentation shows is run, in the order of its page."""

from __future__ import annotations

import re
import shlex
import shutil
import tomllib
import wave
from importlib import import_module
from pathlib import Path

import numpy as np
import pytest

from hingeline_app.cli.main import COMMANDS, main
from tests.doors.checkouts import ROOT

pytestmark = pytest.mark.slow

PAGES = [ROOT / "README.md", *sorted((ROOT / "docs").glob("*.md")), *sorted((ROOT / "docs" / "guide").glob("*.md"))]
FENCE = re.MULTILINE | re.DOTALL
SHOWN = re.compile(r"\./hingeline ([^`\n|]+)")
ALONE = ("selftest", "explain")
# What stands for the reader's own file, by the command that reads it.
OWN = {
    "weigh": "01-elevator-left-half.toml",
    "limits": "07-limits-that-disagree.toml", "ballast": "09-elevator-correction.toml",
    "coating": "12-aileron-repaint.toml", "swing": "14-rudder-swung-with-a-mass.toml",
    "dynamic": "15-aileron-dynamic-balance.toml", "flutter": "flutter/01-elevator-strip.toml",
    "due": "due/01-checks-of-a-merle.toml", "stick": "16-elevator-at-the-stick.toml",
    "arm": "arm/04-elevator-arm-wall-readings.toml", "motion": "motion/03-steady.csv",
}  # fmt: skip
# These need a workshop or a second machine: run there, with one of their own.
WITH_A_WORKSHOP = {
    "demo": "tests/browser/demonstration.py",
    "serve": "tests/browser/demonstration.py",
    "ledger": "tests/hingeline_app/records/test_out_and_in.py",
    "backup": "tests/hingeline_app/records/test_out_and_in.py",
    "restore": "tests/hingeline_app/records/test_out_and_in.py",
    "tables": "tests/hingeline_app/records/test_from_the_command_line.py",
    "move": "tests/hingeline_app/records/test_out_and_in.py",
    "work": "tests/hingeline_app/longwork/test_workers.py",
    "--cluster": "tests/hingeline_app/longwork/test_sharing.py",
}


def shown(page: Path) -> list[list[str]]:
    """Give the commands of a page as words, in order; a command's name alone is a mention, and no call."""
    lines = [line.partition("  #")[0].strip() for line in SHOWN.findall(page.read_text("utf-8").replace("\\\n", " "))]
    found = [shlex.split(line) for line in lines]
    return [
        words for words in found if words[0] in COMMANDS and (len(words) > 1 or words[0] in ("selftest", "explain"))
    ]


def run_here(words: list[str]) -> bool:
    """Whether a command needs no workshop and no second machine."""
    return WITH_A_WORKSHOP.keys().isdisjoint(words)


PAGES_WITH_COMMANDS = [page for page in PAGES if any(map(run_here, shown(page)))]


@pytest.fixture
def bench(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A folder with the examples and the recordings that the pages speak of."""
    shutil.copytree(ROOT / "examples", tmp_path / "examples")
    motion = tmp_path / "examples" / "motion"
    for name in ("k1", "k2", "k3", "bare", "w1", "w2"):
        shutil.copy2(motion / "06-tap-on-the-ground.csv", tmp_path / f"{name}.csv")
    shutil.copy2(motion / "03-steady.csv", tmp_path / "slow.csv")
    times = np.arange(600) / 60.0
    values = np.sin(2.0 * np.pi * 6.4 * times)
    rows = [f"{1000.0 * time:.1f},{value:.4f}" for time, value in zip(times, values, strict=True)]
    (tmp_path / "phone.csv").write_text("\n".join(["Zeit,Linear Z", *rows, ""]), "utf-8")
    with wave.open(str(tmp_path / "buzz.wav"), "wb") as sound:
        sound.setparams((1, 2, 8000, 0, "NONE", ""))
        sound.writeframes((9000 * np.sin(2.0 * np.pi * 60.0 * np.arange(16000) / 8000)).astype("<i2").tobytes())
    monkeypatch.chdir(tmp_path)
    return tmp_path


def filled_in(words: list[str]) -> list[str]:
    """Put a file of ours for the reader's own; draw hundreds where the page draws many thousands."""
    own = f"examples/{OWN.get(words[0], '')}"
    places = {"FILE": own, "job.toml": own, "rows.toml": own, "200000": "10000", "1000000": "100", "1000": "100"}
    return [places.get(word, word) for word in words]


@pytest.mark.parametrize("where", PAGES_WITH_COMMANDS, ids=lambda page: str(page.relative_to(ROOT)))
def test_every_command_of_a_page_ends_well(where: Path, bench: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """Typed as it stands, each is computed and reported, and writes the file that it names."""
    for words in filter(run_here, shown(where)):
        status = main(filled_in(words))
        heard = capsys.readouterr()
        assert status == 0, (words, heard.err)
        assert heard.out or heard.err, words
        written = [word for word in words if re.fullmatch(r"[\w-]+\.(pdf|svg|ics)", word, re.IGNORECASE)]
        assert [word for word in written if not (bench / word).is_file()] == [], words


FILES = [(page, text) for page in PAGES for text in re.findall(r"^```toml\n(.*?)^```", page.read_text("utf-8"), FENCE)]


@pytest.mark.parametrize(("where", "text"), FILES, ids=[page.stem for page, _ in FILES])
def test_every_file_that_a_page_shows_is_read(where: Path, text: str) -> None:
    """A whole file between fences is taken by the reader of its format, as the command takes it."""
    kind = tomllib.loads(text)["format"].split("/")[1]
    reader = import_module(f"hingeline_app.files.{kind}_file")
    assert getattr(reader, f"read_{kind}")(text.encode()), where


def test_no_example_in_python_is_left_out() -> None:
    """Python between fences stands in the README alone, where tests/doors/test_docs.py runs it; and there is a file."""
    assert [page.name for page in PAGES if "```python" in page.read_text("utf-8")] == ["README.md"]
    assert FILES


def test_there_are_many() -> None:
    """So that the test above is not empty: dozens of calls, on many pages, and every command that needs no workshop."""
    calls = [words for page in PAGES_WITH_COMMANDS for words in filter(run_here, shown(page))]
    assert len(calls) > 45
    assert len(PAGES_WITH_COMMANDS) > 8
    assert {words[0] for words in calls} == COMMANDS.keys() - WITH_A_WORKSHOP.keys()


@pytest.mark.parametrize("name", WITH_A_WORKSHOP)
def test_what_needs_a_workshop_is_run_elsewhere(name: str) -> None:
    """Each command that is not run here is run by the test that is named for it."""
    assert f'"{name}"' in (ROOT / WITH_A_WORKSHOP[name]).read_text("utf-8")
