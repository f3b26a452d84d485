"""How the files of ``hingeline motion`` are read: columns by other headers, true rate, no video without its marks."""

from __future__ import annotations

from collections.abc import Mapping
from contextlib import suppress

from hingeline.errors import InputRefused
from hingeline.motion import Recording
from hingeline_app.cli.run import Run
from hingeline_app.files.recordings import read_recording, refuse_a_rate_of_sound


class Reader:
    """Reads the files of one run; keeps the last, for its picture."""

    def __init__(self, run: Run, columns: Mapping[str, str], rate: float | None) -> None:
        self.run, self.columns, self.rate = run, columns, rate
        self.last: Recording | None = None
        self.data = b""

    def read(self, name: str) -> Recording:
        """Read one recording, under the file's own name; a video needs its marks."""
        _refuse_video(name)
        shown = "" if name == "-" else name.replace("\\", "/").rpartition("/")[2]
        self.data = self.run.read(name)
        refuse_a_rate_of_sound(self.data, self.rate)
        self.last = read_recording(self.data, self.columns, self.rate, shown[:120])
        return self.last


def _refuse_video(name: str) -> None:
    """Refuse a video whose marks nobody named, before it is taken for a table."""
    from hingeline_app.evidence.kinds import is_video

    with suppress(OSError), open(name, "rb") as file:
        if is_video(file.read(16)):
            remedy = "Say which marks to follow: --marks marks.toml. docs/guide/filming.md tells how."
            raise InputRefused.of("FILE", name, "a table or a sound, or a video with its marks", remedy)


def columns_named(given: tuple[str, ...]) -> dict[str, str]:
    """Read ``--column``: our name for each header of the file."""
    found = {}
    for each in given:
        ours, sign, theirs = each.partition("=")
        if not sign or not ours or not theirs:
            raise InputRefused.of("--column", each, "our name, =, the file's header", 'As --column pitch_deg="Angle".')
        found[ours.strip()] = theirs.strip()
    return found


def true_rate(given: float | None) -> float | None:
    """Look at ``--captured-at``."""
    if given is not None and not 1.0 <= given <= 100_000.0:
        raise InputRefused.of("--captured-at", given, "1 to 100000 frames a second", "As the camera was set: 240.")
    return given
