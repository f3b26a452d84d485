"""A checkout in a folder of its own, and a way to run its door as a user would."""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

from tests.doors.checkouts import ROOT, Run, copy_checkout, prepare


@pytest.fixture(scope="session")
def checkout(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A checkout whose path has a space, with its environment made."""
    there = copy_checkout(tmp_path_factory.mktemp("door") / "work shop" / "hinge line")
    prepare(there / ".venv", there / "requirements" / "app.txt", os.fspath(there / "src"))
    return there


@pytest.fixture
def clean_checkout(tmp_path: Path) -> Path:
    """A checkout whose path has a space, with nothing prepared."""
    return copy_checkout(tmp_path / "first start" / "hinge line")


@pytest.fixture(scope="session")
def run() -> Run:
    """Run a command with no standard input and give back what it said."""

    def run_command(
        *command: str | Path, cwd: str | Path = "/", **environment: str
    ) -> subprocess.CompletedProcess[str]:
        return subprocess.run(
            [os.fspath(part) for part in command],
            cwd=cwd,
            stdin=subprocess.DEVNULL,
            capture_output=True,
            text=True,
            env=os.environ | environment,
            timeout=400,
        )

    return run_command


@pytest.fixture(scope="session")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """Build the wheel from a clean copy, with the pinned build package, without reaching out."""
    there = copy_checkout(tmp_path_factory.mktemp("wheel") / "source")
    for name in ("README.md", "LICENSE"):
        shutil.copy2(ROOT / name, there / name)
    command = [sys.executable, "-m", "build", "--wheel", "--no-isolation", "--outdir", "out"]
    subprocess.run(command, cwd=there, check=True, stdin=subprocess.DEVNULL, capture_output=True)
    (built,) = (there / "out").glob("*.whl")
    return built


@pytest.fixture(scope="session")
def root() -> Path:
    """Where this checkout stands."""
    return ROOT


@pytest.fixture(scope="session")
def python() -> str:
    """The interpreter that runs the tests."""
    return sys.executable
