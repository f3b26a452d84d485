"""Which kind of file it is, by its content: a name proves nothing, and a playlist could name other files."""

from __future__ import annotations

from typing import BinaryIO

from hingeline_app.recordings import boxes, chunks, elements
from hingeline_app.recordings.limits import KINDS, Unreadable
from hingeline_app.recordings.told import Told

_FIRST_BOXES = (b"ftyp", b"moov", b"mdat", b"wide", b"free", b"skip", b"pnot")
_WALKERS = {"mov": boxes.told, "matroska": elements.told, "avi": chunks.told}


def kind_of(head: bytes) -> str:
    """Name the kind of a file by its first bytes.

    Raises
    ------
    Unreadable
        It is of no kind that is read here.
    """
    if head[4:8] in _FIRST_BOXES:
        return "mov"
    if head[:4] == b"\x1a\x45\xdf\xa3":
        return "matroska"
    if head[:4] == b"RIFF" and head[8:12] == b"AVI ":
        return "avi"
    found = "an empty file" if not head else "a file of another kind, by its content"
    raise Unreadable(found, f"a video: {', '.join(KINDS.values())}", "Give the file as the camera wrote it.")


def what_it_tells(kind: str, file: BinaryIO, size: int) -> Told:
    """Walk through a file's structure: how many frames it says it has, and what is wrong with it.

    Raises
    ------
    Unreadable
        The structure does not hold together.
    """
    told = _WALKERS[kind](file, size)
    file.seek(0)
    return told
