"""The command as a process of its own, with streams that may be closed, full or interrupted."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path
from typing import Any

from tests.doors.checkouts import ROOT

COMMAND = [sys.executable, "-m", "hingeline_app"]
EXAMPLE = ROOT / "examples" / "01-elevator-left-half.toml"


def surroundings(state: Path) -> dict[str, str]:
    """The environment of a user, with the fault records in the test's own folder."""
    return os.environ | {"PYTHONPATH": str(ROOT / "src"), "XDG_STATE_HOME": str(state), "PYTHONUTF8": "1"}


def shell(words: str, state: Path, **options: Any) -> subprocess.CompletedProcess[str]:
    """Run the command in a shell; ``hingeline`` in the words stands for it."""
    line = words.replace("hingeline ", f"'{sys.executable}' -m hingeline_app ")
    given = {"capture_output": True, "text": True, "encoding": "utf-8", "timeout": 60, "cwd": state} | options
    return subprocess.run(["sh", "-c", line], env=surroundings(state), **given)
