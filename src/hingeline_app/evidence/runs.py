"""A video that is followed by a process of its own: started, looked at, stopped, gone on with.

Each recording has a folder for its run: what is asked, how far it is, where every mark was seen so far. One video
is followed at a time by whoever serves the pages, and the next waits; workers beside the pages follow as many as
they are. When what followed it ends, the process ends too, and keeps what it has.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from hingeline.errors import InputRefused
from hingeline.motion.marks import PixelTracks
from hingeline_app.evidence.answer import read_tracks
from hingeline_app.evidence.asked import Asked, asked_of
from hingeline_app.longwork import folder as kept
from hingeline_app.longwork.folder import TASK, Word, ask, held, read_plain
from hingeline_app.longwork.ways import Way, at_once

FOLDER, TRACKS = "following", "tracks.json"


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
    is_stopping : bool
        It was asked to stop, and has not said its last word yet.
    """

    word: Word
    followed: int
    expected: int
    asked: Asked
    refusals: tuple[Mapping[str, str], ...] = ()
    is_stopping: bool = False

    @property
    def goes_on(self) -> bool:
        """Say whether it is under way."""
        return self.word in kept.UNDER_WAY

    @property
    def percent(self) -> int:
        """Give how far it is."""
        return min(100, 100 * self.followed // max(self.expected, 1))


def start(data: Path, key: str, video: Path, name: str, asked: Asked, way: Way = at_once) -> None:
    """Start to follow; with the same marks as before, where it was stopped.

    Raises
    ------
    InputRefused
        It is being followed already.
    """
    folder = _folder(data, key)
    with held(folder, name) as alive:
        if way.has(folder) and not kept.stands_still(folder):
            remedy = "Wait until it is done, or stop it first."
            raise InputRefused.of("recording", name, "a recording that is not being followed", remedy)
        before = read_plain(folder / TASK)
        if before and asked_of(before["asked"]).marks != asked.marks:
            (folder / TRACKS).unlink(missing_ok=True)
        ask(folder, {"video": os.path.relpath(video, data), "name": name, "asked": asked.plain()})
        way.take_on(folder, alive.fileno())


def look(data: Path, key: str, way: Way = at_once) -> Run | None:
    """Say how far the run of a recording is; None where there is none."""
    folder = _folder(data, key)
    far = kept.look(folder, lambda: way.has(folder))
    if far is None:
        return None
    return Run(far.word, far.done, far.of, asked_of(far.task["asked"]), far.refusals, far.is_stopping)


def stop(data: Path, key: str) -> None:
    """Ask a run to stop; it keeps what it has followed."""
    kept.stop(_folder(data, key))


def followed(data: Path, key: str) -> PixelTracks | None:
    """Give where every mark was seen so far; None where nothing was followed yet."""
    path = _folder(data, key) / TRACKS
    return read_tracks(path.read_bytes()) if path.is_file() else None


def forget(data: Path, key: str) -> None:
    """Take a run's folder away: its tracks are kept elsewhere, or its marks are placed anew."""
    kept.forget(_folder(data, key))


def _folder(data: Path, key: str) -> Path:
    return data / FOLDER / key
