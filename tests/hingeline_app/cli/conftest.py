"""A way to run the command that keeps its fault records in the test's own folder."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.faults.running import Runner


@pytest.fixture
def runner(tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch) -> Runner:
    """Runs commands in this process."""
    monkeypatch.setenv("XDG_STATE_HOME", str(tmp_path / "state"))
    return Runner(tmp_path, capsys)
