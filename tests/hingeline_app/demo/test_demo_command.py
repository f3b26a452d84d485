"""``hingeline demo`` as its user runs it: people and PINs on the console, pages that answer, a ledger that is whole."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import urllib.request
from pathlib import Path

import pytest

from tests.browser.demonstration import running
from tests.browser.ports import free_port
from tests.doors.checkouts import ROOT

pytestmark = pytest.mark.slow


def surroundings() -> dict[str, str]:
    kept = {**os.environ, "PYTHONPATH": str(ROOT / "src")}
    for name in ("DJANGO_SETTINGS_MODULE", "DJANGO_ALLOW_ASYNC_UNSAFE", "HINGELINE_DATA"):
        kept.pop(name, None)
    return kept


def hingeline(*words: str) -> list[str]:
    return [sys.executable, "-m", "hingeline_app", *words]


def test_the_demonstration_opens_says_who_can_sign_in_and_leaves_a_whole_ledger(tmp_path: Path) -> None:
    """It starts on an empty folder, shows the people on the enrolled bench, and a second start there is refused."""
    data, port = tmp_path / "demo data", free_port()
    words = ["demo", "--data", str(data), "--port", str(port)]
    with running(words, tmp_path / "said"):
        text = (tmp_path / "said").read_text()
        assert len(re.findall(r"^ {4}[0-9]{6} {3}\w+ \w+: ", text, re.M)) == 5
        opener = urllib.request.build_opener(urllib.request.HTTPCookieProcessor())
        page = opener.open(f"http://localhost:{port}/demo", timeout=20).read().decode()
        assert "Mara Tarrow" in page
        assert "Nothing here is approved data" in page
    verified = subprocess.run(hingeline("ledger", "verify", "--data", str(data)), capture_output=True, text=True,
                              env=surroundings(), check=False)  # fmt: skip
    assert verified.returncode == 0, verified.stdout + verified.stderr
    later = free_port()
    with running(["serve", "--loopback", "--data", str(data), "--port", str(later)], tmp_path / "said later"):
        page = urllib.request.urlopen(f"http://localhost:{later}/sign-in/password", timeout=20).read().decode()
        assert "Nothing here is approved data" in page, "as the refusal below says to go on"
    again = subprocess.run(hingeline(*words), capture_output=True, text=True, env=surroundings(), check=False)
    assert again.returncode == 2
    assert "an empty folder" in again.stderr
    assert f"hingeline serve --loopback --data {data}" in again.stderr
