"""The door to videos: a path and marks in, where every mark was seen out; with progress, stop and going on.

The file is decoded in a separate process that the operating system holds to its limits. What was followed
until somebody stops it, or until a limit does, is kept, and a later run goes on from there.
"""

from __future__ import annotations

import hashlib
import json
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import asdict, dataclass
from io import BufferedReader
from pathlib import Path
from typing import Any

from hingeline.errors import InputRefused, MissingExtra
from hingeline.motion.marks.model import Mark, Marks, PixelTrack, PixelTracks
from hingeline_app.recordings import messages
from hingeline_app.recordings.confined import can_confine
from hingeline_app.recordings.confined_child import Child, Ended
from hingeline_app.recordings.limits import Limits, Unreadable, damaged

FIELD = "FILE"
MOST_MISSING = 0.05
"""More pictures than this part may not be missing: what is left would be another motion."""
ORDINARY = Limits()
QUICK = Limits(cpu_seconds=60, wall_seconds=90.0)
"""For a page that somebody waits for."""
MOST_ON_A_SHEET = 64


@dataclass(frozen=True, slots=True)
class Progress:
    """How far it has come."""

    followed: int
    expected: int


@dataclass(frozen=True, slots=True)
class Still:
    """A picture as it is shown.

    Parameters
    ----------
    jpeg : bytes
    width, height : float
        [pixel], in which places are given.
    markers : tuple of (number, x, y)
        The printed markers in it.
    sha256 : str
        Of the video.
    """

    jpeg: bytes
    width: float
    height: float
    markers: tuple[tuple[int, float, float], ...]
    sha256: str


class Kept:
    """What has been followed so far: by an earlier run and by this one."""

    def __init__(self, marks: Marks, before: PixelTracks | None) -> None:
        self.marks = marks
        self.ticks = list(before.ticks) if before else []
        self.places: list[messages.Places] = _rows(before) if before else []
        self.states = before.going_on if before else "[]"
        self.head: messages.Head | None = None
        self.finished = False

    def take(self, message: messages.Said) -> None:
        """Take one message of the process."""
        number, say = len(self.marks.marks), message["say"]
        if say == "refused":
            raise messages.refusal(message)
        if say == "opened":
            self.head = messages.head(message, number)
        elif say == "followed":
            more = messages.followed(message, number, self.ticks[-1] if self.ticks else None)
            self.ticks += more.ticks
            self.places += more.places
            self.states = more.states
        elif say == "done":
            self.finished = True


def follow(
    path: str | Path,
    marks: Marks,
    progress: Callable[[Progress], None] | None = None,
    stop: Callable[[], bool] | None = None,
    *,
    before: PixelTracks | None = None,
    limits: Limits = ORDINARY,
) -> PixelTracks:
    """Follow the marks through a video.

    Parameters
    ----------
    path : path
    marks : Marks
    progress : callable, optional
        Called now and then.
    stop : callable, optional
        Asked now and then; True stops it, and what was followed is given back unfinished.
    before : PixelTracks, optional
        What an earlier run of the same file and marks gave: this one goes on from there.
    limits : Limits

    Raises
    ------
    InputRefused
        The file is no video that can be used, or a mark is not in it.
    MissingExtra
        The packages that read videos are not installed, or this operating system enforces no limits.
    """
    _ready()
    with _opened(path) as file:
        size, sha256 = _measured(file, path, limits)
        if before is not None and (before.sha256, before.marks) != (sha256, marks):
            raise InputRefused.of(FIELD, path, "the video and marks that were begun with", "Begin anew.")
        kept = Kept(marks, before)
        try:
            _run(file, size, kept, progress, stop, limits)
            return _result(kept, sha256, Path(path).name)
        except (messages.Strange, KeyError, IndexError, TypeError):
            fault = damaged("a file on which the decoder went astray")
        except Unreadable as refused:
            fault = refused
    raise _refused(path, fault)


def first_picture(path: str | Path, limits: Limits = ORDINARY) -> Still:
    """Give the first picture of a video, for somebody who is to point at marks in it.

    Raises
    ------
    InputRefused, MissingExtra
        As :func:`follow`.
    """
    return _still(path, limits, {})


def some_pictures(path: str | Path, ticks: Sequence[int], width: int, limits: Limits = QUICK) -> Still:
    """Give the pictures of some times on one sheet, eight in a row, each so wide [pixel].

    Raises
    ------
    InputRefused, MissingExtra
        As :func:`follow`.
    """
    if not 0 < len(ticks) <= MOST_ON_A_SHEET:
        raise InputRefused.of("pictures", len(ticks), f"1 to {MOST_ON_A_SHEET}", "Choose a shorter stretch.")
    return _still(path, limits, {"ticks": list(ticks), "width": width})


def _still(path: str | Path, limits: Limits, more: Mapping[str, Any]) -> Still:
    _ready()
    with _opened(path) as file:
        size, sha256 = _measured(file, path, limits)
        task = {"descriptor": file.fileno(), "size": size, "limits": asdict(limits), "still": True, **more}
        try:
            with Child(task, file.fileno(), limits) as child:
                for line in filter(None, child.lines()):
                    message = messages.said(line)
                    if message["say"] == "refused":
                        raise messages.refusal(message)
                    if message["say"] == "still":
                        return Still(*messages.still(message), sha256)
            raise damaged(child.words())
        except (messages.Strange, KeyError, TypeError, ValueError):
            fault = damaged("a file on which the decoder went astray")
        except Unreadable as refused:
            fault = refused
    raise _refused(path, fault)


def _refused(path: str | Path, fault: Unreadable) -> InputRefused:
    """Refuse a file by its name; what was found is a sentence of its own, so that it is said in any language."""
    return InputRefused.of(FIELD, Path(path).name, fault.expected, f"Found {fault.found}. {fault.remedy}")


def _ready() -> None:
    try:
        import av
        import cv2  # noqa: F401
    except ImportError as missing:
        raise MissingExtra('Videos need the packages av and opencv: pip install "hingeline[video]".') from missing
    del av
    if not can_confine():
        sentence = "Videos are read only where the operating system limits the reader: use Linux, or its subsystem."
        raise MissingExtra(sentence)


def _opened(path: str | Path) -> BufferedReader:
    with suppress(OSError, ValueError):
        if Path(path).is_file():
            return Path(path).open("rb")
    raise InputRefused.of(FIELD, path, "a video file that can be read", "Check its name and your right to read it.")


def _measured(file: BufferedReader, path: str | Path, limits: Limits) -> tuple[int, str]:
    """Give the size and the SHA-256 of the file."""
    size = file.seek(0, 2)
    file.seek(0)
    if not 0 < size <= limits.largest_file:
        expected = f"a video of at most {limits.largest_file} bytes, and not empty"
        raise _refused(path, Unreadable(f"{size} bytes", expected, "Cut out the part that matters."))
    sha256 = hashlib.file_digest(file, "sha256").hexdigest()
    file.seek(0)
    return size, sha256


def _task(file: BufferedReader, size: int, kept: Kept, limits: Limits) -> dict[str, Any]:
    return {
        "descriptor": file.fileno(),
        "size": size,
        "limits": asdict(limits),
        "marks": [_plain(mark) for mark in kept.marks.marks],
        "after": kept.ticks[-1] if kept.ticks else None,
        "states": json.loads(kept.states or "[]"),
    }


def _plain(mark: Mark) -> dict[str, Any]:
    return {"name": mark.name, "kind": mark.kind, "at": mark.at, "number": mark.number, "size": mark.size}


def _run(
    file: BufferedReader,
    size: int,
    kept: Kept,
    progress: Callable[[Progress], None] | None,
    stop: Callable[[], bool] | None,
    limits: Limits,
) -> None:
    """Take what the process says until it is done, somebody stops it, or a limit does."""
    with Child(_task(file, size, kept, limits), file.fileno(), limits) as child:
        for line in child.lines():
            if line:
                kept.take(messages.said(line))
            if progress is not None and line and kept.head is not None:
                progress(Progress(len(kept.ticks), kept.head.expected))
            if kept.finished or (stop is not None and stop()):
                return
    # It ended without a word. What it followed until a limit is good; a crash is the file's.
    if child.ended is not Ended.LIMIT or not kept.ticks:
        raise damaged(child.words())


def _result(kept: Kept, sha256: str, name: str) -> PixelTracks:
    head = kept.head
    if head is None:
        raise Unreadable("nothing that was followed before it was stopped", "at least a second", "Let it run longer.")
    expected = max(head.expected, head.told or 0)
    lost = expected - len(kept.ticks) if kept.finished else 0
    if lost > max(1, int(MOST_MISSING * expected)):
        raise damaged(f"{len(kept.ticks)} of {expected} frames", f"all {expected} frames")
    return PixelTracks(
        marks=kept.marks,
        ticks=tuple(kept.ticks),
        tick=head.time_base,
        tracks=tuple(
            PixelTrack(
                mark.name,
                _column(kept.places, index, 0),
                _column(kept.places, index, 1),
                head.sizes[index],
                head.contrasts[index],
            )
            for index, mark in enumerate(kept.marks.marks)
        ),
        width=head.width,
        height=head.height,
        turn=head.turn,
        capture_rate=head.capture_rate,
        expected=expected,
        missing=lost,
        finished=kept.finished,
        doubts=_doubts(head, kept, lost),
        container=head.container,
        codec=head.codec,
        sha256=sha256,
        going_on="" if kept.finished else kept.states,
        name=name,
    )


def _column(rows: list[messages.Places], mark: int, axis: int) -> tuple[float | None, ...]:
    """Give one mark's places along one axis."""
    return tuple(None if (place := row[mark]) is None else place[axis] for row in rows)


def _doubts(head: messages.Head, kept: Kept, lost: int) -> tuple[str, ...]:
    """Say what the structure of the file leaves open."""
    doubts = dict.fromkeys(head.doubts)
    if lost > 0:
        doubts[f"{lost} frames could not be decoded: the file is damaged there."] = None
    span = (head.last_tick - head.first_tick) * head.time_base[0] / head.time_base[1]
    step = span / max(head.expected - 1, 1)
    if head.told_seconds is not None and abs(head.told_seconds - span - step) > max(2.0 * step, 0.02 * span):
        doubts[f"The file says that it lasts {head.told_seconds:.2f} s, and its frames last {span + step:.2f} s."] = (
            None
        )
    return tuple(doubts)


def _rows(before: PixelTracks) -> list[messages.Places]:
    """Give the places of an earlier run row by row."""
    columns = [
        [None if x is None or y is None else (x, y) for x, y in zip(track.x, track.y, strict=True)]
        for track in before.tracks
    ]
    return [tuple(row) for row in zip(*columns, strict=True)]
