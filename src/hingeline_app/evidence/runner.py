"""The process that follows one video: says how far it is, hears when it is to stop, keeps what it has."""

from __future__ import annotations

import fcntl
import json
import os
import sys
import threading
import time
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path
from typing import IO, Any

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.evidence.answer import read_tracks, write_tracks
from hingeline_app.evidence.asked import asked_of
from hingeline_app.evidence.runs import STATE, STOP, TASK, TRACKS, TURN, write_whole
from hingeline_app.files.marks_file import read_marks
from hingeline_app.recordings.follow import Progress, follow

BETWEEN = 0.25
"""Between two words about how far it is [s]."""


class Runner:
    """One run in its folder."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.far = Progress(0, 0)
        self.said = 0.0
        self.left_alone = False
        self.names = ("", "")

    def say(self, word: str, **more: Any) -> None:
        """Write how far it is."""
        told = {"word": word, "followed": self.far.followed, "expected": self.far.expected, **more}
        write_whole(self.folder / STATE, told)
        self.said = time.monotonic()

    def progress(self, far: Progress) -> None:
        """Note how far it is, and write it now and then."""
        self.far = far
        if time.monotonic() - self.said > BETWEEN:
            self.say("follows")

    def is_to_stop(self) -> bool:
        """Say whether somebody wants it to stop, or nobody is left who wants it."""
        return self.left_alone or (self.folder / STOP).exists()

    @property
    def why_ended(self) -> str:
        """Say why it ended before its time."""
        return "interrupted" if self.left_alone else "stopped"

    def run(self) -> None:
        """Follow, and say how it ended."""
        task = json.loads((self.folder / TASK).read_text("utf-8"))
        self.names = (Path(task["video"]).name, task["name"])
        path = self.folder / TRACKS
        before = read_tracks(path.read_bytes()) if path.is_file() else None
        marks = read_marks(asked_of(task["asked"]).marks.encode())
        tracks = follow(task["video"], marks, self.progress, self.is_to_stop, before=before)
        # The file lies under its digest; it is told by the name it came with.
        tracks = replace(tracks, name=task["name"])
        part = path.with_name(f"{path.name}.part")
        part.touch(mode=0o600)
        part.write_bytes(write_tracks(tracks))
        part.replace(path)
        self.far = Progress(len(tracks.ticks), tracks.expected)
        self.say("done" if tracks.finished else self.why_ended)


def main(folder: str) -> None:
    """Wait for the turn, run, and never end without a last word."""
    runner = Runner(Path(folder))
    threading.Thread(target=_listen, args=(runner,), daemon=True).start()
    try:
        runner.say("waits")
        with (runner.folder.parent / TURN).open("w") as turn:
            if _has_turn(turn, runner.is_to_stop):
                runner.run()
            else:
                runner.say(runner.why_ended)
    except InputRefused as refused:
        # Stopped before the first pictures were through: nothing is wrong with the file.
        ended = runner.is_to_stop()
        told = [_plain(each, runner.names) for each in refused.refusals]
        runner.say(runner.why_ended if ended else "refused", refusals=told)
    except (MissingExtra, OSError, MemoryError) as fault:
        words = {"field": "video", "value": "not followed", "expected": str(fault), "remedy": "Start again."}
        runner.say("refused", refusals=[words])


def _listen(runner: Runner) -> None:
    """Wait until the other end of our pipe is gone: who serves the pages has ended."""
    while os.read(sys.stdin.fileno(), 64):
        pass
    runner.left_alone = True


def _has_turn(turn: IO[str], is_to_stop: Callable[[], bool]) -> bool:
    """Wait until no other video is followed; False when it is to stop before."""
    while not is_to_stop():
        try:
            fcntl.flock(turn, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            time.sleep(BETWEEN)
        else:
            return True
    return False


def _plain(refusal: Any, names: tuple[str, str]) -> dict[str, str]:
    """Give a refusal with the name that the person knows the file by."""
    parts = ("field", "value", "expected", "remedy")
    return {part: str(getattr(refusal, part)).replace(*names) for part in parts}
