"""Which kind of recording is this file? One door for tables and sounds."""

from __future__ import annotations

from collections.abc import Mapping

from hingeline.errors import InputRefused
from hingeline.motion.model import Recording
from hingeline_app.files.recording_sound import is_sound, read_recording_sound
from hingeline_app.files.recording_table import read_recording_table


def read_recording(
    data: bytes, columns: Mapping[str, str] | None = None, captured_at: float | None = None, name: str = ""
) -> Recording:
    """Read a recording, by what it begins with.

    Parameters
    ----------
    data : bytes
    columns : mapping of str to str, optional
        Our name of a column or channel to the file's.
    captured_at : float, optional
        True rate of the samples of a table [1/s].
    name : str

    Raises
    ------
    InputRefused
        With the faults of the file.
    """
    if is_sound(data):
        return read_recording_sound(data, columns, name)
    return read_recording_table(data, columns, captured_at, name)


def refuse_a_rate_of_sound(data: bytes, captured_at: float | None) -> None:
    """Refuse a true rate beside a sound: nobody counted its samples, and left unsaid its frequency would be wrong.

    Raises
    ------
    InputRefused
        It is a sound, and a rate was given.
    """
    if captured_at is not None and is_sound(data):
        remedy = "Leave it out: a sound has the time of its own samples. Where it was slowed, its true time is unknown."
        raise InputRefused.of("--captured-at", captured_at, "a table or a video", remedy)
