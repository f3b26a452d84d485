"""How long work is taken on: at once, by a process of whoever serves the pages, or by the workers beside them."""

from __future__ import annotations

import subprocess
from pathlib import Path
from typing import Protocol

from hingeline_app.longwork.process import start_process

WORKERS = "workers"


class Way(Protocol):
    """Takes work on."""

    def take_on(self, folder: Path, alive: int) -> None:
        """Take on what is asked in a folder, whose lock the caller holds."""

    def has(self, folder: Path) -> bool:
        """Say whether it will be taken up, though nobody works it at this moment."""


class OwnProcess:
    """A process of our own for each, which ends when we end; nothing waits but for its turn."""

    def __init__(self) -> None:
        self.started: list[subprocess.Popen[bytes]] = []

    def take_on(self, folder: Path, alive: int) -> None:
        """Start it."""
        self.let_go_of_the_ended()
        self.started.append(start_process(folder, alive, in_turn=True))

    def has(self, folder: Path) -> bool:
        """Nobody takes up what was cut off, but a person."""
        self.let_go_of_the_ended()
        return False

    def let_go_of_the_ended(self) -> None:
        """Close the pipes of those that ended."""
        for each in [each for each in self.started if each.poll() is not None]:
            self.started.remove(each)
            if each.stdin is not None:
                each.stdin.close()


at_once = OwnProcess()


def way_of(name: str) -> Way:
    """Give a way by its name in the settings."""
    if name == WORKERS:
        from hingeline_app.longwork.queue import Workers

        return Workers()
    return at_once
