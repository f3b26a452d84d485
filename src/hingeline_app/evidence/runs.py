"""A video that is followed by a process of its own: started, looked at, stopped, gone on with.

Each recording has a folder for its run: what is asked, how far it is, where every mark was seen so far. The
process holds a lock for as long as it lives, so that a page knows a run that was cut off from one that goes on,
whoever started it. One video is followed at a time; the next waits. When what serves the pages ends, its
processes end too, and keep what they have.
"""

from __future__ import annotations

import fcntl
import json
import os
import shutil
import subprocess
import sys
import time
from collections.abc import Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import IO, Any, Literal

from hingeline.errors import InputRefused
from hingeline.motion.marks import PixelTracks
from hingeline_app.evidence.answer import read_tracks
from hingeline_app.evidence.asked import Asked, asked_of

FOLDER, TURN = "following", "turn"
ALIVE, TASK, STATE, STOP, TRACKS = "alive", "task.json", "state.json", "stop", "tracks.json"
SOURCE = Path(__file__).resolve().parents[2]
START = "import sys; sys.path.insert(0, sys.argv[1]); from hingeline_app.evidence.runner import main; main(sys.argv[2])"
Word = Literal["waits", "follows", "done", "stopped", "interrupted", "refused"]

LEAVING_SECONDS = 5.0

_started: list[subprocess.Popen[bytes]] = []


@dataclass(frozen=True, slots=True)
class Run:
    """How far a run is.

    Parameters
    ----------
    word : str
        It waits for its turn, follows, is done, was stopped, was interrupted, or was refused.
    followed, expected : int
        Pictures.
    asked : Asked
    refusals : tuple of mapping
        Field, value, expected, remedy; only of what was refused.
    """

    word: Word
    followed: int
    expected: int
    asked: Asked
    refusals: tuple[Mapping[str, str], ...] = ()

    @property
    def goes_on(self) -> bool:
        """Say whether it is under way."""
        return self.word in ("waits", "follows")

    @property
    def percent(self) -> int:
        """Give how far it is."""
        return min(100, 100 * self.followed // max(self.expected, 1))


def start(data: Path, key: str, video: Path, name: str, asked: Asked) -> None:
    """Start to follow; with the same marks as before, where it was stopped.

    Raises
    ------
    InputRefused
        It is being followed already.
    """
    folder = _folder(data, key)
    folder.mkdir(mode=0o700, parents=True, exist_ok=True)
    with (folder / ALIVE).open("w") as alive:
        if not _has_lock(alive, folder):
            remedy = "Wait until it is done, or stop it first."
            raise InputRefused.of("recording", name, "a recording that is not being followed", remedy)
        before = _read(folder / TASK)
        if before and asked_of(before["asked"]).marks != asked.marks:
            (folder / TRACKS).unlink(missing_ok=True)
        for left in (STOP, STATE):
            (folder / left).unlink(missing_ok=True)
        write_whole(folder / TASK, {"video": os.fspath(video), "name": name, "asked": asked.plain()})
        _spawn(folder, alive.fileno())


def look(data: Path, key: str) -> Run | None:
    """Say how far the run of a recording is; None where there is none."""
    _let_go_of_the_ended()
    folder = _folder(data, key)
    task = _read(folder / TASK)
    if not task:
        return None
    # Asked before the state is read: a run that ends in between has written its last word.
    alive = _is_alive(folder)
    state = _read(folder / STATE) or {"word": "waits", "followed": 0, "expected": 0}
    word: Word = state["word"]
    if not alive and word in ("waits", "follows"):
        word = "interrupted"
    refusals = tuple(state.get("refusals", ()))
    return Run(word, state["followed"], state["expected"], asked_of(task["asked"]), refusals)


def stop(data: Path, key: str) -> None:
    """Ask a run to stop; it keeps what it has followed."""
    folder = _folder(data, key)
    if folder.is_dir():
        (folder / STOP).touch(mode=0o600)


def followed(data: Path, key: str) -> PixelTracks | None:
    """Give where every mark was seen so far; None where nothing was followed yet."""
    path = _folder(data, key) / TRACKS
    return read_tracks(path.read_bytes()) if path.is_file() else None


def forget(data: Path, key: str) -> None:
    """Take a run's folder away: its tracks are kept elsewhere, or its marks are placed anew."""
    folder = _folder(data, key)
    if not _is_alive(folder):
        shutil.rmtree(folder, ignore_errors=True)


def write_whole(path: Path, content: Mapping[str, Any]) -> None:
    """Write a small file so that a reader finds the old one or the new one, never half."""
    part = path.with_name(f"{path.name}.part")
    part.touch(mode=0o600)
    part.write_text(json.dumps(content), "utf-8")
    part.replace(path)


def _folder(data: Path, key: str) -> Path:
    return data / FOLDER / key


def _read(path: Path) -> dict[str, Any] | None:
    with suppress(OSError, ValueError):
        content: dict[str, Any] = json.loads(path.read_text("utf-8"))
        return content
    return None


def _has_lock(alive: IO[str], folder: Path) -> bool:
    """Take the lock of a run; one that has said its last word is given a moment to end."""
    until = time.monotonic() + LEAVING_SECONDS
    while True:
        try:
            fcntl.flock(alive, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            under_way = (_read(folder / STATE) or {}).get("word", "waits") in ("waits", "follows")
            if under_way or time.monotonic() > until:
                return False
            time.sleep(0.05)
        else:
            return True


def _is_alive(folder: Path) -> bool:
    """Say whether somebody holds the lock of a run."""
    with suppress(OSError), (folder / ALIVE).open("r+") as file:
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            return True
    return False


def _let_go_of_the_ended() -> None:
    for each in [each for each in _started if each.poll() is not None]:
        _started.remove(each)
        if each.stdin is not None:
            each.stdin.close()


def _spawn(folder: Path, alive: int) -> None:
    """Start the process; it inherits the lock, and a pipe whose end tells it that we are gone."""
    _started.append(
        subprocess.Popen(
            [sys.executable, "-I", "-B", "-X", "utf8", "-c", START, str(SOURCE), str(folder)],
            stdin=subprocess.PIPE,
            stdout=subprocess.DEVNULL,
            stderr=subprocess.DEVNULL,
            pass_fds=(alive,),
            start_new_session=True,
        )
    )
