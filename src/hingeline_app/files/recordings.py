"""Which kind of recording is this file? One door for tables and sounds."""

from __future__ import annotations

from collections.abc import Mapping

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
