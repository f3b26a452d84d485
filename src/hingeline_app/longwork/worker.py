"""One worker: takes what waits, has it done by a process of its own, takes over from the dead, ends when told to.

It stops by falling over: where the database is gone it ends, the process under it hears that and keeps what it has,
whoever keeps the workers starts another, and that one goes on.
"""

from __future__ import annotations

import os
import subprocess
import threading
import time
import uuid
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.longwork import queue
from hingeline_app.longwork.folder import FINAL, held, state
from hingeline_app.longwork.process import start_process

LOOKS_EVERY = 0.5
LEAVING_SECONDS = 20.0
HELD_SECONDS = 5.0
"""How long a worker waits for a folder that another process has, before it takes up something else."""
HELD = "held"
Say = Callable[[str], None]


class Worker:
    """A worker."""

    def __init__(self, stopped: threading.Event, say: Say) -> None:
        # Its number on this machine first, for whoever looks for it.
        self.name = f"{os.getpid()}-{uuid.uuid4().hex}"
        self.stopped, self.say = stopped, say

    def run(self) -> None:
        """Work until told to stop."""
        queue.be_known_as(self.name)
        while not self.stopped.is_set():
            left = queue.take_over_from_the_dead()
            if left:
                self.say(f"{left} piece(s) of work were left by a worker that died: they wait again.")
            row = queue.claim(self.name)
            if row is None:
                self.stopped.wait(LOOKS_EVERY)
            else:
                self.work(row)

    def work(self, row: Any) -> None:
        """Do one piece of work, and say in its row how it ended."""
        folder = queue.folder_of(row)
        # One that was held before is only glanced at: many of them would take all of a worker's time.
        word = self._worked(folder, 0.0 if queue.was_held(row) else HELD_SECONDS)
        if word in FINAL:
            row.set_successful(word)
        elif self.stopped.is_set():
            queue.put_back(row)
        elif word == HELD:
            if not queue.was_held(row):
                self.say(f"{folder.name} is still worked by a process that another worker began: others go first.")
            queue.put_back_untried(row)
        else:
            queue.put_back_or_give_up(row)

    def _worked(self, folder: Path, patience: float) -> str:
        """Have it done; what an earlier worker brought to its end is not done again."""
        if not folder.is_dir():
            return "stopped"
        try:
            with held(folder, folder.name, patience, patient=True) as alive:
                if state(folder).get("word") not in FINAL:
                    self._watched(start_process(folder, alive.fileno(), in_turn=False))
        except InputRefused:
            # The process of a worker that died, or that lost the database, still has it: this was no try.
            return HELD
        return str(state(folder).get("word", "interrupted"))

    def _watched(self, process: subprocess.Popen[bytes]) -> None:
        """Wait for its end; told to stop, let it keep what it has."""
        assert process.stdin is not None
        with process.stdin:
            while process.poll() is None and not self.stopped.wait(0.1):
                pass
        until = time.monotonic() + LEAVING_SECONDS
        while process.poll() is None and time.monotonic() < until:
            time.sleep(0.05)
        process.kill()
        process.wait()
