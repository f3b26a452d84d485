"""Every line and every branch of the rooms that decide is taken by the tests that notice small changes in them."""

from __future__ import annotations

import os
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT

ROOMS = tomllib.loads((ROOT / "tools" / "mutation.toml").read_text("utf-8"))


@pytest.mark.campaign
@pytest.mark.parametrize("room", sorted(ROOMS))
def test_every_branch_is_taken(room: str, tmp_path: Path) -> None:
    """Nothing of the room's files is left out, by its own tests alone."""
    there = {**os.environ, "COVERAGE_FILE": str(tmp_path / "taken")}
    files = ",".join(str(ROOT / "src" / pattern) for pattern in ROOMS[room]["files"])
    tests = [*ROOMS[room]["quick"], *ROOMS[room]["tests"]]
    asked = ["pytest", "-q", "-n0", "-p", "no:cacheprovider", "-m", "not campaign", "--doctest-modules", *tests]
    ran = _python(["coverage", "run", "--branch", "-m", *asked], there)
    assert ran.returncode == 0, ran.stdout
    told = _python(["coverage", "report", "--show-missing", "--fail-under=100", f"--include={files}"], there)
    assert told.returncode == 0, told.stdout


def _python(module: list[str], there: dict[str, str]) -> subprocess.CompletedProcess[str]:
    return subprocess.run([sys.executable, "-m", *module], cwd=ROOT, env=there, capture_output=True, text=True)
