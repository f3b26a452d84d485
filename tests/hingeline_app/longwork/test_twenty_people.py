"""Twenty people for ten minutes on 10,000 jobs and 100,000 readings, over the wire, on both databases."""

from __future__ import annotations

import json
import subprocess
import sys

import pytest

from tests.doors.checkouts import ROOT


@pytest.mark.campaign
@pytest.mark.parametrize("more", [[], ["--postgresql"]], ids=["a file", "PostgreSQL"])
def test_twenty_people_see_no_error_and_lose_nothing(more: list[str]) -> None:
    """No answer is an error, every acknowledged entry is in the ledger, memory ends where it was; times are told."""
    done = subprocess.run(
        [sys.executable, "benchmarks/twenty_people.py", *more], cwd=ROOT, capture_output=True, text=True, check=False
    )
    assert done.returncode == 0, done.stderr[-3000:]
    print(done.stdout)
    told = json.loads(done.stdout.splitlines()[-1])
    assert told["errors"] == []
    assert told["lost"] == []
    assert told["seconds"]["an entry"][0] > 500
    middle, last = told["megabytes"]
    assert last < 1.1 * middle
