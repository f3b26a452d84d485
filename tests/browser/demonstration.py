"""The invented workshop for browser tests: filled once for a run, and a copy of it for every test file that asks.

Filling it goes through the write door like all work, and takes half a minute of a core.
``tests/hingeline_app/demo`` starts the command from an empty folder, as its user does.
"""

from __future__ import annotations

import contextlib
import fcntl
import os
import shutil
import signal
import subprocess
import sys
import time
import urllib.request
from collections.abc import Iterator
from http.cookiejar import CookieJar
from pathlib import Path

from hingeline_app.demo.cast import CAST, PASSWORD
from tests.browser.ports import answers, free_port
from tests.doors.checkouts import ROOT
from tests.one_run import SHARED

__all__ = ["PASSWORD", "PINS", "copied", "demonstration", "running"]

STARTED = "Stop with Ctrl-C."
PINS = {each.name: each.pin for each in CAST}


@contextlib.contextmanager
def demonstration(folder: Path, port: int, **surroundings: str) -> Iterator[str]:
    """Serve a copy of the invented workshop, made in a folder, until the block ends; give its address."""
    token = copied(folder)
    command = ["serve", "--loopback", "--data", str(folder), "--port", str(port)]
    with running(command, folder.with_name(f"{folder.name}.said"), HINGELINE_DEMO_TABLET=token, **surroundings):
        yield f"http://localhost:{port}"


def copied(folder: Path) -> str:
    """Copy the invented workshop into a folder; give the secret of its enrolled tablet."""
    source = SHARED["folder"] / "invented"
    with (SHARED["folder"] / "invented.lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not (source / "token").exists():
            (source / "token").write_text(_fill(source / "records"))
    shutil.copytree(source / "records", folder)
    return (source / "token").read_text()


def _fill(folder: Path) -> str:
    shutil.rmtree(folder.parent, ignore_errors=True)
    folder.parent.mkdir(parents=True)
    port = free_port()
    command = ["demo", "--data", str(folder), "--port", str(port)]
    with running(command, folder.with_name("said")):
        jar = CookieJar()
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor(jar))
        opener.open(f"http://localhost:{port}/demo", timeout=30).read()
    return next(str(each.value) for each in jar if each.name == "tablet")


@contextlib.contextmanager
def running(words: list[str], said: Path, **surroundings: str) -> Iterator[subprocess.Popen[bytes]]:
    """Run a serving command until the block ends; it has started when the block begins."""
    kept = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1", **surroundings}
    for name in ("DJANGO_SETTINGS_MODULE", "DJANGO_ALLOW_ASYNC_UNSAFE", "HINGELINE_DATA"):
        kept.pop(name, None)
    with said.open("w") as heard:
        process = subprocess.Popen(
            [sys.executable, "-m", "hingeline_app", *words], stdout=heard, stderr=heard, env=kept
        )
    try:
        _wait(process, said)
        assert answers(f"http://localhost:{words[words.index('--port') + 1]}")
        yield process
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(40)


def _wait(process: subprocess.Popen[bytes], said: Path, seconds: float = 150.0) -> None:
    until = time.monotonic() + seconds
    while process.poll() is None and time.monotonic() < until:
        if STARTED in said.read_text():
            return
        time.sleep(0.2)
    raise AssertionError(said.read_text())
