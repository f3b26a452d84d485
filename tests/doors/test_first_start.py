"""The true first start: a clean copy, an empty home, packages from the registry."""

from __future__ import annotations

import os
import signal
import subprocess
import time
from pathlib import Path

import pytest

import hingeline
from tests.doors.checkouts import Run

pytestmark = pytest.mark.slow


def test_two_first_starts_at_once_both_succeed(clean_checkout: Path, run: Run, tmp_path: Path) -> None:
    """Two first starts at once install once, both give the version, and a later start is silent."""
    starts = [start(clean_checkout, tmp_path) for _ in range(2)]
    said = [process.communicate(timeout=400) for process in starts]
    assert [process.returncode for process in starts] == [0, 0]
    assert all(hingeline.__version__ in words for words, _ in said)
    progress = "".join(errors for _, errors in said)
    assert progress.count("installing") == 1
    assert progress.count("hingeline: ready\n") == 1
    later = run(clean_checkout / "hingeline", "--version", HOME=os.fspath(tmp_path))
    assert (later.returncode, later.stderr) == (0, "")
    assert (clean_checkout / ".venv/stamp").read_bytes() == (clean_checkout / "requirements/app.txt").read_bytes()


@pytest.mark.campaign
def test_a_killed_install_is_repaired(clean_checkout: Path, run: Run, tmp_path: Path) -> None:
    """An install that was killed half way leaves no stamp, and the next start makes it anew."""
    killed = start(clean_checkout, tmp_path)
    packages = clean_checkout / ".venv" / "lib"
    until(lambda: any(packages.glob("python3.*/site-packages/numpy*")))
    os.killpg(killed.pid, signal.SIGKILL)
    killed.communicate()
    assert not (clean_checkout / ".venv/stamp").exists()
    again = run(clean_checkout / "hingeline", "--version", HOME=os.fspath(tmp_path))
    assert again.returncode == 0
    assert again.stderr.endswith("hingeline: ready\n")
    assert hingeline.__version__ in again.stdout


def test_without_a_network_it_says_so(clean_checkout: Path, run: Run, tmp_path: Path) -> None:
    """Where the packages cannot be had, the last lines say why and where the rest is; status 1."""
    nowhere = {"PIP_CONFIG_FILE": os.devnull, "PIP_INDEX_URL": "", "PIP_EXTRA_INDEX_URL": ""}
    off = {"PIP_NO_INDEX": "1", "PIP_FIND_LINKS": os.fspath(tmp_path), "PIP_NO_CACHE_DIR": "1"}
    done = run(clean_checkout / "hingeline", "--version", HOME=os.fspath(tmp_path), **nowhere, **off)
    assert (done.returncode, done.stdout) == (1, "")
    assert "could not be installed. Is there a network?" in done.stderr
    assert "run the same command again to try again" in done.stderr
    assert "Traceback" not in done.stderr
    assert not (clean_checkout / ".venv/stamp").exists()


def start(checkout: Path, home: Path) -> subprocess.Popen[str]:
    """Start the door in a process group of its own, so that it can be killed whole."""
    return subprocess.Popen(
        [checkout / "hingeline", "--version"],
        cwd="/",
        stdin=subprocess.DEVNULL,
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        text=True,
        env=os.environ | {"HOME": os.fspath(home)},
        start_new_session=True,
    )


def until(holds: object, seconds: float = 300.0) -> None:
    """Wait until something holds."""
    assert callable(holds)
    end = time.monotonic() + seconds
    while not holds():
        assert time.monotonic() < end, "it never came to hold"
        time.sleep(0.02)
