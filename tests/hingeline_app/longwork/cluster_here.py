"""A cluster on this machine for a while: a scheduler and two workers, started as docs/growth.md says."""

from __future__ import annotations

import json
import os
import subprocess
import sys
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

QUIET = {"PYTHONUTF8": "1", "DASK_DISTRIBUTED__WORKER__DAEMON": "False", "OPENBLAS_NUM_THREADS": "1"}


def program(name: str, *words: str) -> subprocess.Popen[bytes]:
    command = [sys.executable, "-m", f"distributed.cli.{name}", "--no-dashboard", *words]
    return subprocess.Popen(command, env=os.environ | QUIET, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)


@contextmanager
def cluster(folder: Path, workers: int = 2, *secured: str) -> Iterator[tuple[str, list[subprocess.Popen[bytes]]]]:
    """Give the scheduler's address and the workers' processes."""
    file = folder / "scheduler.json"
    running = [program("dask_scheduler", "--host", "127.0.0.1", "--port", "0", "--scheduler-file", str(file), *secured)]
    try:
        until = time.monotonic() + 60
        while not file.exists():
            assert time.monotonic() < until
            assert running[0].poll() is None
            time.sleep(0.05)
        address = json.loads(file.read_text())["address"]
        for number in range(workers):
            place = folder / f"worker-{number}"
            running.append(
                program(
                    "dask_worker", address, "--nthreads", "1", "--no-nanny", "--local-directory", str(place), *secured
                )
            )
        yield address, running[1:]
    finally:
        for each in running:
            each.kill()
        for each in running:
            each.wait(30)
