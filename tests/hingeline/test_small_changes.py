"""The rooms that decide are spoiled one small change at a time: their tests notice nine of ten."""

from __future__ import annotations

import subprocess
import sys
import tomllib

import pytest

from tests.doors.checkouts import ROOT

ROOMS = tomllib.loads((ROOT / "tools" / "mutation.toml").read_text("utf-8"))


@pytest.mark.campaign
@pytest.mark.parametrize("room", sorted(ROOMS))
def test_nine_of_ten_small_changes_are_noticed(room: str) -> None:
    """Of four hundred that are drawn, in every file of the room."""
    spoiled = subprocess.run(
        [sys.executable, str(ROOT / "tools" / "mutation.py"), room, "--sample", "400", "--seed", "7"],
        cwd=ROOT, capture_output=True, text=True,
    )  # fmt: skip
    assert spoiled.returncode == 0, spoiled.stdout + spoiled.stderr
