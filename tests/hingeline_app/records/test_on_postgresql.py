"""What holds on SQLite holds on PostgreSQL: the tests of the records once more, on a server of their own."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

from tests.hingeline_app.records.own_folder import ONLY_OF_THE_DATABASE, ROOT
from tests.private_postgresql import Server

HERE = Path(__file__).parent


@pytest.mark.slow
@pytest.mark.parametrize(
    "left_out", ["slow or campaign", pytest.param("campaign", marks=pytest.mark.campaign)], ids=["quick ones", "all"]
)
def test_the_records_hold_on_postgresql(postgresql: Server, left_out: str) -> None:
    """Every test of the records that uses this process's database passes with HINGELINE_DATABASE naming a server."""
    ours = {name: value for name, value in os.environ.items() if not name.startswith(("PYTEST_", "HINGELINE_"))}
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-m", f"not ({left_out})", "-p", "no:cacheprovider", HERE],
        cwd=ROOT,
        env=ours | {"HINGELINE_DATABASE": postgresql.address("records"), ONLY_OF_THE_DATABASE: "1"},
        capture_output=True,
        text=True,
        timeout=900,
    )
    assert done.returncode == 0, done.stdout[-8000:] + done.stderr[-2000:]
    counted = re.search(r"(\d+) passed(.*) in ", done.stdout.splitlines()[-1])
    assert counted is not None, done.stdout
    assert int(counted[1]) > 250
    assert "skipped" not in counted[2]
