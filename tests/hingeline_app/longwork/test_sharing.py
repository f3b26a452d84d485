"""One study, whoever works it: this core, two processes, a cluster of two workers, one of which is killed."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from hingeline.errors import InputRefused
from hingeline_app.longwork.sharing import processes, shared
from tests.doors.checkouts import ROOT
from tests.hingeline_app.longwork.cluster_here import cluster

# A process of its own: the distributed engine leaves threads behind in the one that used it.
ASKED = """
import json, sys
from dataclasses import asdict
from hingeline.flutter.scatter import scatter_onsets
from hingeline_app.files.flutter_file import read_flutter
from hingeline_app.longwork.sharing import shared
def main():
    path, samples, cores, address = sys.argv[1:]
    task = read_flutter(open(path, "rb").read())
    def progress(done, total):
        print("done", done, flush=True)
    with shared(int(cores) or None, address or None) as run:
        found = scatter_onsets(task, int(samples), seed=11, run=run, progress=progress, compiled=False)
    print(json.dumps(asdict(found)))
if __name__ == "__main__":
    main()
"""
SAMPLES = 3000


def asked(folder: Path, cores: int = 0, address: str = "") -> subprocess.Popen[str]:
    script = folder / "asked.py"
    script.write_text(ASKED)
    words = [str(ROOT / "examples" / "flutter" / "01-elevator-strip.toml"), str(SAMPLES), str(cores), address]
    surroundings = os.environ | {"PYTHONPATH": str(ROOT / "src")}
    return subprocess.Popen(
        [sys.executable, str(script), *words], stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        env=surroundings,
    )  # fmt: skip


def answer(process: subprocess.Popen[str]) -> dict[str, Any]:
    out, error = process.communicate(timeout=300)
    assert process.returncode == 0, error
    found: dict[str, Any] = json.loads(out.splitlines()[-1])
    return found


@pytest.mark.slow
def test_one_core_two_cores_and_a_cluster_give_the_same_to_the_last_bit(tmp_path: Path) -> None:
    """The same call with another ``run``: every number of the distribution is equal, not near.

    One of the cluster's two workers is killed after the first chunk: the other works what it had.
    """
    here, two = answer(asked(tmp_path)), answer(asked(tmp_path, cores=2))
    with cluster(tmp_path) as (address, workers):
        far = asked(tmp_path, address=address)
        assert far.stdout is not None
        assert far.stdout.readline() == "done 1000\n"
        workers[0].kill()
        assert here == two == answer(far)
    assert here["samples"] == SAMPLES


def test_cores_and_a_cluster_at_once_are_refused() -> None:
    with pytest.raises(InputRefused, match="one of the two"), shared(2, "tcp://127.0.0.1:8786"):
        pass


def test_more_cores_than_any_machine_has_are_refused() -> None:
    with pytest.raises(InputRefused, match="from 1 to 256"), processes(1000):
        pass


@pytest.mark.slow
def test_a_cluster_that_does_not_answer_is_refused_with_the_remedy() -> None:
    """From the command line: exit status 2, one sentence, no traceback."""
    command = [sys.executable, "-m", "hingeline_app", "flutter", "examples/flutter/01-elevator-strip.toml"]
    ended = subprocess.run(
        [*command, "--scatter", "10", "--cluster", "tcp://127.0.0.1:9"], cwd=ROOT, capture_output=True, text=True,
        env=os.environ | {"PYTHONPATH": str(ROOT / "src")}, timeout=120, check=False,
    )  # fmt: skip
    assert ended.returncode == 2, ended.stderr
    assert "Start its scheduler" in ended.stderr
    assert "Traceback" not in ended.stderr
