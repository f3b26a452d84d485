"""Start the separate process, listen to it, and end it: within the wall's clock and the longest silence."""

from __future__ import annotations

import enum
import json
import os
import select
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from pathlib import Path
from types import TracebackType
from typing import Any

from hingeline_app.recordings.limits import Limits
from hingeline_app.recordings.messages import LONGEST_LINE, Strange

SOURCE = Path(__file__).resolve().parents[2]
START = "import sys; sys.path.insert(0, sys.argv[1]); from hingeline_app.recordings.child import main; main()"
GLANCE = 0.1
"""How often somebody who wants to stop it is heard [s]."""


class Ended(enum.Enum):
    """How a process ended without having been done."""

    RUNNING = "still running"
    LIMIT = "a limit of time was reached"
    CRASH = "it crashed"
    QUIET = "it ended without a word"


class Child:
    """The process, for as long as the block lasts; it never outlives it.

    Parameters
    ----------
    task : mapping
        What it is to do.
    descriptor : int
        Of the open file, which it inherits under the same number.
    limits : Limits
    """

    def __init__(self, task: Mapping[str, Any], descriptor: int, limits: Limits) -> None:
        self.task, self.descriptor, self.limits = task, descriptor, limits
        self.ended = Ended.RUNNING

    def __enter__(self) -> Child:
        """Start it, and tell it its task."""
        self.process = subprocess.Popen(
            [sys.executable, "-I", "-B", "-X", "utf8", "-c", START, str(SOURCE)],
            stdin=subprocess.PIPE,
            stdout=subprocess.PIPE,
            stderr=subprocess.DEVNULL,
            pass_fds=(self.descriptor,),
            env=_surroundings(),
            start_new_session=True,
        )
        assert self.process.stdin is not None
        try:
            self.process.stdin.write(json.dumps(self.task).encode())
            self.process.stdin.close()
        except BrokenPipeError:
            pass
        return self

    def __exit__(
        self, kind: type[BaseException] | None, fault: BaseException | None, trace: TracebackType | None
    ) -> None:
        """End it, whatever it is doing."""
        self.process.kill()
        self.process.wait()
        assert self.process.stdout is not None
        self.process.stdout.close()

    def lines(self) -> Iterator[bytes]:
        """Give each line that it says, and an empty one now and then while it says nothing.

        Raises
        ------
        Strange
            It says too much.
        """
        assert self.process.stdout is not None
        pipe, buffer = self.process.stdout.fileno(), b""
        started = heard = time.monotonic()
        while True:
            ready = bool(select.select([pipe], [], [], GLANCE)[0])
            now = time.monotonic()
            if now - started > self.limits.wall_seconds or (not ready and now - heard > self.limits.silent_seconds):
                self.ended = Ended.LIMIT
                return
            if not ready:
                yield b""
                continue
            data, heard = os.read(pipe, 1 << 16), now
            if not data:
                self._over()
                return
            *whole, buffer = (buffer + data).split(b"\n")
            if len(buffer) > LONGEST_LINE:
                raise Strange
            yield from filter(None, whole)

    def _over(self) -> None:
        """Find out how it ended."""
        status = self.process.wait()
        if status in (-signal.SIGXCPU, -signal.SIGKILL):
            self.ended = Ended.LIMIT
        else:
            self.ended = Ended.CRASH if status < 0 else Ended.QUIET

    def words(self) -> str:
        """Say how it ended, as what was found."""
        if self.ended is Ended.LIMIT:
            return "a file that takes the decoder longer than it may"
        return "a file on which the decoder crashes" if self.ended is Ended.CRASH else "a file that ends the decoder"


def _surroundings() -> dict[str, str]:
    """Give the little of our surroundings that loading the packages needs."""
    needed = {name: os.environ[name] for name in ("LD_LIBRARY_PATH", "LANG", "SYSTEMROOT") if name in os.environ}
    return needed | {"OPENBLAS_NUM_THREADS": "1", "OMP_NUM_THREADS": "1"}
