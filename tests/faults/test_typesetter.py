"""The typesetter fails: the failure is told, no half sheet is left, and what was worked out stays."""

from __future__ import annotations

import errno
import json
from pathlib import Path
from typing import Any

import pytest
import typst

from hingeline_app.cli.main import main
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
