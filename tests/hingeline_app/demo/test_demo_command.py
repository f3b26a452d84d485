"""``hingeline demo`` as its user runs it: people and PINs on the console, pages that answer, a ledger that is whole."""

from __future__ import annotations

import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from pathlib import Path

import pytest

from tests.browser.conftest import answers, free_port
from tests.doors.checkouts import ROOT

pytestmark = pytest.mark.slow
STARTED = "Stop with Ctrl-C."


def surroundings() -> dict[str, str]:
    kept = {**os.environ, "PYTHONPATH": str(ROOT / "src"), "PYTHONUNBUFFERED": "1"}
    for name in ("DJANGO_SETTINGS_MODULE", "DJANGO_ALLOW_ASYNC_UNSAFE", "HINGELINE_DATA"):
        kept.pop(name, None)
    return kept


def hingeline(*words: str) -> list[str]:
    return [sys.executable, "-m", "hingeline_app", *words]


def test_the_demonstration_opens_says_who_can_sign_in_and_leaves_a_whole_ledger(tmp_path: Path) -> None:
    """It starts on an empty folder, shows the people on the enrolled bench, and a second start there is refused."""
    data, port = tmp_path / "demo data", free_port()
    command = hingeline("demo", "--data", str(data), "--port", str(port))
    with (tmp_path / "said").open("w") as heard:
        process = subprocess.Popen(command, stdout=heard, stderr=heard, env=surroundings())
    try:
        text = _wait(process, tmp_path / "said")
        assert len(re.findall(r"^ {4}[0-9]{6} {3}\w+ \w+: ", text, re.M)) == 5
        assert answers(f"http://localhost:{port}", 60.0)
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        page = opener.open(f"http://localhost:{port}/demo", timeout=20).read().decode()
        assert "Mara Tarrow" in page
        assert "Nothing here is approved data" in page
    finally:
        process.send_signal(signal.SIGTERM)
        process.wait(40)
    verified = subprocess.run(hingeline("ledger", "verify", "--data", str(data)), capture_output=True, text=True,
                              env=surroundings(), check=False)  # fmt: skip
    assert verified.returncode == 0, verified.stdout + verified.stderr
    again = subprocess.run(command, capture_output=True, text=True, env=surroundings(), check=False)
    assert again.returncode == 2
    assert "an empty folder" in again.stderr


def _wait(process: subprocess.Popen[bytes], said: Path, seconds: float = 120.0) -> str:
    until = time.monotonic() + seconds
    while process.poll() is None and time.monotonic() < until:
        text = said.read_text()
        if STARTED in text:
            return text
        time.sleep(0.2)
    raise AssertionError(said.read_text())
