"""The workers beside the pages: started with them, started anew where one ends, ended with them."""

from __future__ import annotations

import os
import subprocess
import sys
import threading
import time
from collections.abc import Callable
from contextlib import suppress
from pathlib import Path

from hingeline_app.serving.working import LEFT_ALONE

SOURCE = Path(__file__).resolve().parents[2]
START = (
    "import sys; sys.path.insert(0, sys.argv.pop(1)); from hingeline_app.cli.main import main; "
    "sys.exit(main(sys.argv[1:]))"
)
LOOKS_EVERY, ANEW_AFTER, CLEAN_STOP = 0.5, 2.0, 30.0


class WorkersKept:
    """So many workers of this machine.

    Parameters
    ----------
    count : int
    data : Path
        The records' folder.
    say : callable
        Takes a sentence.
    """

    def __init__(self, count: int, data: Path, say: Callable[[str], None]) -> None:
        self._command = [sys.executable, *own_flags(), "-c", START, str(SOURCE)]
        self._command += ["work", "--data", str(data), LEFT_ALONE]
        self._places: list[subprocess.Popen[bytes] | None] = [None] * count
        self._say, self._ending, self._keeper = say, threading.Event(), os.getpid()

    def start(self) -> None:
        """Start them, and a thread that starts another where one ends."""
        for place in range(len(self._places)):
            self._start(place)
        threading.Thread(target=self._keep, name="workers", daemon=True).start()

    def end(self) -> None:
        """Let them end: what they are at they keep, and it waits for the next start.

        A process that was forked off to serve pages leaves by the same way, and they are not its own.
        """
        if os.getpid() != self._keeper:
            return
        self._ending.set()
        running = [each for each in self._places if each is not None]
        for each in running:
            self._let_go(each)
        until = time.monotonic() + CLEAN_STOP
        for each in running:
            with suppress(subprocess.TimeoutExpired):
                each.wait(max(0.0, until - time.monotonic()))
            each.kill()
            each.wait()

    def _keep(self) -> None:
        while not self._ending.wait(LOOKS_EVERY):
            for place, process in enumerate(self._places):
                if process is not None and process.poll() is not None:
                    self._let_go(process)
                    self._say("A worker ended; another is started, and takes over what it had.")
                    if not self._ending.wait(ANEW_AFTER):
                        self._start(place)

    def _start(self, place: int) -> None:
        self._places[place] = subprocess.Popen(
            self._command, stdin=subprocess.PIPE, stdout=subprocess.DEVNULL, start_new_session=True
        )

    @staticmethod
    def _let_go(process: subprocess.Popen[bytes]) -> None:
        if process.stdin is not None:
            process.stdin.close()


def own_flags() -> list[str]:
    """Give the interpreter's flags that our own start has: nothing beside the program may change a number."""
    return [*(["-E"] if sys.flags.ignore_environment else []), *(["-P"] if sys.flags.safe_path else []), "-X", "utf8"]
