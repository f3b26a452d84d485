"""What a piece of long work leaves in its folder: what is asked, how far it is, how it ended, and who has it.

The process that works holds a lock for as long as it lives, so that a page knows work that was cut off from work
that goes on, whoever started it. The folder is no record: what comes of the work becomes one only when a person
keeps it.
"""

from __future__ import annotations

import fcntl
import json
import shutil
import time
from collections.abc import Iterator, Mapping
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Literal

from hingeline.errors import InputRefused

ALIVE, TASK, STATE, STOP, TURN = "alive", "task.json", "state.json", "stop", "turn"
Word = Literal["waits", "follows", "done", "stopped", "interrupted", "refused"]
UNDER_WAY: tuple[Word, ...] = ("waits", "follows")
FINAL: tuple[Word, ...] = ("done", "stopped", "refused")
LEAVING_SECONDS = 5.0
PAUSE = 0.05


@dataclass(frozen=True, slots=True)
class Far:
    """How far a piece of long work is.

    Parameters
    ----------
    word : str
        It waits for its turn, is worked, is done, was stopped, was interrupted, or was refused.
    done, of : int
        Pictures, models: what it counts.
    task : mapping
        What was asked.
    refusals : tuple of mapping
        Field, value, expected, remedy; only of what was refused.
    is_stopping : bool
        It was asked to stop, and has not said its last word yet.
    """

    word: Word
    done: int
    of: int
    task: Mapping[str, Any]
    refusals: tuple[Mapping[str, str], ...] = ()
    is_stopping: bool = False

    @property
    def goes_on(self) -> bool:
        """Say whether it is under way."""
        return self.word in UNDER_WAY

    @property
    def percent(self) -> int:
        """Give how far it is."""
        return min(100, 100 * self.done // max(self.of, 1))


@contextmanager
def held(folder: Path, name: str, seconds: float = LEAVING_SECONDS, *, patient: bool = False) -> Iterator[IO[str]]:
    """Hold the lock of a folder: only who has it may begin to work there.

    Parameters
    ----------
    folder : Path
    name : str
        What is worked there, for the words of a refusal.
    seconds : float
        How long to wait for who has said its last word.
    patient : bool
        Wait so long for anybody.

    Raises
    ------
    InputRefused
        It is being worked already; one that has said its last word is given a moment to end.
    """
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    with (folder / ALIVE).open("w") as alive:
        if not taken(alive, seconds, lambda: patient or _has_ended(folder)):
            remedy = "Wait until it is done, or stop it first."
            raise InputRefused.of("long work", name, "one that is not under way", remedy)
        yield alive


def taken(alive: IO[str], seconds: float, is_ending: Any = lambda: True) -> bool:
    """Take a lock, waiting a while as long as who has it is about to end."""
    until = time.monotonic() + seconds
    while True:
        try:
            fcntl.flock(alive, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            if not is_ending() or time.monotonic() > until:
                return False
            time.sleep(PAUSE)
        else:
            return True


def ask(folder: Path, task: Mapping[str, Any]) -> None:
    """Write what is asked; what was said of a run before goes."""
    for left in (STOP, STATE):
        (folder / left).unlink(missing_ok=True)
    write_whole(folder / TASK, task)


def look(folder: Path, waits: Any = lambda: False) -> Far | None:
    """Say how far the work in a folder is; None where there is none.

    Parameters
    ----------
    folder : Path
    waits : callable
        Says whether somebody will take it up, though nobody works it now.
    """
    task = read_plain(folder / TASK)
    if not task:
        return None
    # Asked before the state is read: a run that ends in between has written its last word.
    alive = is_alive(folder)
    said = state(folder)
    word: Word = said.get("word", "waits")
    asked_to_stop = (folder / STOP).exists()
    if word not in FINAL and not (alive and word in UNDER_WAY):
        # Somebody has it, and has said nothing yet; or somebody will have it; or nobody. Where nobody has it there is
        # nobody to wait for: it has stopped, and whoever takes it up later finds that too.
        word = "waits" if alive or (waits() and not asked_to_stop) else "stopped" if asked_to_stop else "interrupted"
    is_stopping = word in UNDER_WAY and asked_to_stop
    return Far(word, said.get("done", 0), said.get("of", 0), task, tuple(said.get("refusals", ())), is_stopping)


def state(folder: Path) -> dict[str, Any]:
    """Give what was said last; nothing where nothing was."""
    return read_plain(folder / STATE) or {}


def stands_still(folder: Path) -> bool:
    """Say whether work that was asked to stop has no last word: nobody took it up yet, or a dead one left it.

    Asked by who holds the folder's lock. What stands in a line for it stands there for work that can simply go on.
    """
    return (folder / STOP).exists() and not _has_ended(folder)


def stop(folder: Path) -> None:
    """Ask it to stop; it keeps what it has."""
    if folder.is_dir():
        (folder / STOP).touch(mode=0o600)


def forget(folder: Path) -> None:
    """Take a folder away; not while somebody works in it."""
    if not is_alive(folder):
        shutil.rmtree(folder, ignore_errors=True)


def is_alive(folder: Path) -> bool:
    """Say whether somebody holds the lock of a folder; two who ask at once do not take each other for who works."""
    with suppress(OSError), (folder / ALIVE).open("r+") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except OSError:
            return True
    return False


def read_plain(path: Path) -> dict[str, Any] | None:
    """Read a small file; None where it is not there or not whole."""
    with suppress(OSError, ValueError):
        content: dict[str, Any] = json.loads(path.read_text("utf-8"))
        return content
    return None


def write_whole(path: Path, content: Mapping[str, Any]) -> None:
    """Write a small file so that a reader finds the old one or the new one, never half."""
    write_bytes_whole(path, json.dumps(content).encode())


def write_bytes_whole(path: Path, data: bytes) -> None:
    """Write a file so that a reader finds the old one or the new one, never half."""
    part = path.with_name(f"{path.name}.part")
    part.touch(mode=0o600)
    part.write_bytes(data)
    part.replace(path)


def _has_ended(folder: Path) -> bool:
    return state(folder).get("word", "waits") not in UNDER_WAY
