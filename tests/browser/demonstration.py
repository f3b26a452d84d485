"""``hingeline demo`` as its user starts it, for browser tests that look at a workshop in full swing."""

from __future__ import annotations

import contextlib
import os
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path

from tests.doors.checkouts import ROOT

STARTED = "Stop with Ctrl-C."
PINS = {"Ruth Fenholt": "204081", "Mara Tarrow": "730418", "Jon Ashby": "518290", "Ines Holt": "946137",
        "Dora Lind": "385502"}  # fmt: skip
PASSWORD = "hinge line before lunch"


@contextlib.contextmanager
def demonstration(folder: Path, port: int, **surroundings: str) -> Iterator[str]:
    """Run the demonstration in a folder until the block ends; give its address."""
    kept = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1", **surroundings}
    for name in ("DJANGO_SETTINGS_MODULE", "DJANGO_ALLOW_ASYNC_UNSAFE", "HINGELINE_DATA"):
        kept.pop(name, None)
    said = folder.with_name(f"{folder.name}.said")
    command = [sys.executable, "-m", "hingeline_app", "demo", "--data", str(folder), "--port", str(port)]
    with said.open("w") as heard:
        process = subprocess.Popen(command, stdout=heard, stderr=heard, env=kept)
    try:
        _wait(process, said)
        yield f"http://localhost:{port}"
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
