"""The process that does one piece of long work: says how far it is, hears when it is to stop, ends with a word."""

from __future__ import annotations

import os
import sys
import threading
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused, MissingExtra
from hingeline_app.longwork.folder import STATE, STOP, TASK, TURN, read_plain, taken, write_whole

BETWEEN = 0.25
"""Between two words about how far it is [s]."""
LEFT_ALONE_SECONDS = 60.0
"""For its last word, once nobody is left who wants it; then it ends without one, so that another may go on."""
NO_TURN = "no turn"
"""Said by whoever starts only so many at once: nobody has to wait for another in this folder."""


class Inside:
    """One piece of work in its folder, from the inside."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self.task: dict[str, Any] = read_plain(folder / TASK) or {}
        self.names = ("", "")
        self._done, self._of, self._said = 0, 0, 0.0
        self._left_alone = False

    def say(self, word: str, **more: Any) -> None:
        """Write how far it is."""
        write_whole(self.folder / STATE, {"word": word, "done": self._done, "of": self._of, **more})
        self._said = time.monotonic()

    def far(self, done: int, of: int) -> None:
        """Note how far it is, and write it now and then."""
        self._done, self._of = done, of
        if time.monotonic() - self._said > BETWEEN:
            self.say("follows")

    def is_to_stop(self) -> bool:
        """Say whether somebody wants it to stop, or nobody is left who wants it."""
        return self._left_alone or (self.folder / STOP).exists()

    @property
    def why_ended(self) -> str:
        """Say why it ended before its time."""
        return "interrupted" if self._left_alone else "stopped"

    def listen(self) -> None:
        """Wait until the other end of our pipe is gone: who started this has ended, and so do we, soon."""
        while os.read(sys.stdin.fileno(), 64):
            pass
        self._left_alone = True
        time.sleep(LEFT_ALONE_SECONDS)
        os._exit(1)


def work_inside(folder: str, work: Callable[[Inside], bool]) -> None:
    """Wait for the turn, work, and never end without a last word.

    Parameters
    ----------
    folder : str
    work : callable
        Does it, asks ``is_to_stop`` on the way, and says whether it came to its end.
    """
    inside = Inside(Path(folder))
    threading.Thread(target=inside.listen, daemon=True).start()
    try:
        inside.say("waits")
        ended = _in_turn(inside, work)
        inside.say("done" if ended else inside.why_ended)
    except InputRefused as refused:
        # Stopped before anything was through: nothing is wrong with what was given.
        told = [_plain(each, inside.names) for each in refused.refusals]
        inside.say(inside.why_ended if inside.is_to_stop() else "refused", refusals=told)
    except (MissingExtra, OSError, MemoryError, ArithmeticError) as fault:
        words = {"field": "work", "value": "not done", "expected": str(fault), "remedy": "Start again."}
        inside.say("refused", refusals=[words])


def _in_turn(inside: Inside, work: Callable[[Inside], bool]) -> bool:
    if NO_TURN in sys.argv:
        return work(inside)
    with (inside.folder.parent / TURN).open("w") as turn:
        while not inside.is_to_stop():
            if taken(turn, 0.0):
                return work(inside)
            time.sleep(BETWEEN)
    return False


def _plain(refusal: Any, names: tuple[str, str]) -> dict[str, str]:
    """Give a refusal with the name that the person knows the file by."""
    parts = ("field", "value", "expected", "remedy")
    return {part: str(getattr(refusal, part)).replace(*names) for part in parts}
