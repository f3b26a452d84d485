"""The typesetter fails: the failure is told, no half sheet is left, and what was worked out stays."""

from __future__ import annotations

import errno
import json
import subprocess
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
import typst

from hingeline_app.cli.main import main
from hingeline_app.report import typesetters, typesetting
from tests.doors.checkouts import ROOT

EXAMPLE = str(ROOT / "examples" / "01-elevator-left-half.toml")


@pytest.mark.fault("F26")
@pytest.mark.parametrize("fault", [RuntimeError("typesetter-detail"), MemoryError()], ids=["fails", "no memory"])
def test_a_typesetter_that_fails_leaves_no_half_sheet(
    fault: BaseException, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """Status 1 and a sentence; the sheet of before is as it was; without a sheet the weighing is worked out as ever."""

    def fails(*_arguments: Any, **_named: Any) -> None:
        raise fault

    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    before = tmp_path / "sheet.pdf"
    before.write_bytes(b"the sheet of before")
    monkeypatch.setattr(typst, "compile", fails)
    assert main(["weigh", EXAMPLE, "--pdf", str(before)]) == 1
    said = capsys.readouterr().err
    assert "Traceback" not in said
    assert "were written to" in said
    assert before.read_bytes() == b"the sheet of before"
    assert [path.name for path in tmp_path.iterdir() if path.name != "state"] == ["sheet.pdf"]
    assert main(["weigh", EXAMPLE, "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["statement"] == "outside"


@pytest.mark.fault("F26", "F44")
def test_a_sheet_that_cannot_be_put_in_its_place_leaves_nothing(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    """The disk is full at the last step: status 2 with the reason, the sheet of before as it was, nothing beside it."""

    def full(*_arguments: Any) -> None:
        raise OSError(errno.ENOSPC, "No space left on device")

    before = tmp_path / "sheet.pdf"
    before.write_bytes(b"the sheet of before")
    monkeypatch.setattr("hingeline_app.cli.whole_file.os.replace", full)
    assert main(["weigh", EXAMPLE, "--pdf", str(before)]) == 2
    assert "No space left on device" in capsys.readouterr().err
    assert [path.name for path in tmp_path.iterdir()] == ["sheet.pdf"]
    assert before.read_bytes() == b"the sheet of before"


SLEEPS = "import time; time.sleep(600)"
READS_AND_SLEEPS = "import sys, time; sys.stdin.readline(); time.sleep(600)"
HALF = "import sys, time; sys.stdin.readline(); sys.stdout.write('+'); sys.stdout.flush(); time.sleep(600)"
CRASHES = "import os, sys; sys.stdin.readline(); os.abort()"


@pytest.fixture
def limited() -> Iterator[Callable[[float], None]]:
    """Name a limit for as long as the test lasts."""
    yield typesetting.limit_typesetting
    typesetting.limit_typesetting(None)


@pytest.mark.fault("F26")
@pytest.mark.parametrize("program", [SLEEPS, READS_AND_SLEEPS, HALF, CRASHES], ids=["deaf", "hangs", "half", "crashes"])
def test_a_typesetter_that_does_not_end_is_cut_off(
    program: str, limited: Callable[[float], None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """At the limit its process is ended, whatever it was doing, and what was asked is refused as not made."""
    started: list[subprocess.Popen[bytes]] = []
    start = typesetters._started
    monkeypatch.setattr(typesetters, "START", program)
    monkeypatch.setattr(typesetters, "_started", lambda: started.append(start()) or started[-1])
    limited(1.0)
    began = time.monotonic()
    with pytest.raises(typesetters.SheetNotMade, match=r"stopped after 1 s|crashed"):
        typesetting.typeset(b"= Sheet " + b"x" * 400_000, {}, "a-3a")
    assert time.monotonic() - began < 30
    assert [each.poll() is not None for each in started] == [True]


@pytest.mark.fault("F26")
@pytest.mark.slow
def test_a_sheet_set_by_a_process_of_its_own_is_the_same(limited: Callable[[float], None]) -> None:
    """To the last byte, twice by the same process; a fault of the sheet itself comes back as one, and it goes on."""
    source = (
        b'#set document(date: datetime(year: 2027, month: 3, day: 12))\n#sys.inputs.at("word") #metadata(7) <seven>'
    )
    here = typesetting.typeset(source, {"word": "Merle"}, "2.0")
    limited(300.0)
    assert typesetting.typeset(source, {"word": "Merle"}, "2.0") == here
    with pytest.raises(RuntimeError, match="TypstError"):
        typesetting.typeset(b"#nothing-of-this-name", {}, "2.0")
    assert json.loads(typesetting.asked(source, "<seven>", {"word": "T2"})) == [7]
    assert typesetting.typeset(source, {"word": "Merle"}, "2.0") == here


def test_two_threads_never_ask_one_process_and_neither_finds_that_there_is_none(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Eight threads serve pages: another one may take the waiting process between a look and a grasp."""

    class TakenMeanwhile(list[Any]):
        def __bool__(self) -> bool:
            return True

    started = object()
    monkeypatch.setattr(typesetters, "_started", lambda: started)
    monkeypatch.setattr(typesetters, "_asked", lambda process, *_rest: (typesetters.ANSWER, repr(process).encode()))
    pool = typesetters.Typesetters(1.0)
    monkeypatch.setattr(pool, "_idle", TakenMeanwhile())
    assert pool.ask({}) == repr(started).encode()
