"""Which kind of recording a file is, by what it begins with; its name proves nothing."""

from __future__ import annotations

from typing import Literal

from hingeline.errors import InputRefused
from hingeline_app.files.recording_sound import is_sound
from hingeline_app.recordings.container import kind_of as kind_of_video
from hingeline_app.recordings.limits import Unreadable

Kind = Literal["video", "sound", "table"]
HEAD = 4096
MEDIA_TYPES = {"video": "video/mp4", "sound": "audio/wav", "table": "text/csv", "sensor": "text/csv"}
LARGEST = {"video": 2_000_000_000, "sound": 200_000_000, "table": 60_000_000, "sensor": 20_000_000}
"""What may come in, by kind [byte]. A longer recording holds no more evidence: the part that matters is cut out."""


def is_video(head: bytes) -> bool:
    """Say whether a file is a video by its first dozen bytes."""
    try:
        return bool(kind_of_video(head))
    except Unreadable:
        return False


def kind_of(head: bytes, name: str = "") -> Kind:
    """Say which kind a file is.

    Parameters
    ----------
    head : bytes
        Its first few thousand bytes.
    name : str
        As it is shown.

    Raises
    ------
    InputRefused
        It is empty, or neither a video, nor a sound, nor text.
    """
    remedy = "Send a video (MP4, MOV, WebM, Matroska, AVI), a sound (WAV) or a table (CSV in UTF-8)."
    if not head.strip():
        raise InputRefused.of("file", name or "empty", "a file with something in it", remedy)
    if is_video(head):
        return "video"
    if is_sound(head):
        return "sound"
    if b"\x00" in head or head[:4] in (b"%PDF", b"PK\x03\x04", b"\x89PNG", b"\xff\xd8\xff\xe0"):
        raise InputRefused.of("file", name or "a file of another kind", "a video, a sound or a table", remedy)
    return "table"


def refuse_too_large(kind: str, size: int, name: str) -> None:
    """Refuse what is larger than its kind may be.

    Raises
    ------
    InputRefused
        It is.
    """
    if size > LARGEST[kind]:
        expected = f"a {kind} of at most {LARGEST[kind] // 1_000_000} MB"
        raise InputRefused.of("file", f"{name}: {size / 1e6:.0f} MB", expected, "Cut out the part that matters.")
