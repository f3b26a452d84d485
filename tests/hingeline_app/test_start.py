"""How the command starts, before any of its packages is loaded."""

from __future__ import annotations

import os
import subprocess
import sys

import pytest

STARTED = (
    "import os, sys; sys.argv = ['hingeline', '--version']; from hingeline_app.__main__ import run; status = run();"
    "print(status, os.environ['OPENBLAS_NUM_THREADS'])"
)


@pytest.mark.parametrize(
    ("asked", "found"), [({}, "1"), ({"OPENBLAS_NUM_THREADS": "3"}, "3")], ids=["by itself", "asked"]
)
def test_one_thread_of_linear_algebra_unless_a_person_asked_for_more(asked: dict[str, str], found: str) -> None:
    """Our matrices are small: a second thread only takes a core from others. What a person set stays."""
    ours = {name: value for name, value in os.environ.items() if not name.endswith("_NUM_THREADS")}
    done = subprocess.run([sys.executable, "-c", STARTED], env=ours | asked, capture_output=True, text=True, check=True)
    assert done.stdout.splitlines()[-1] == f"0 {found}"
