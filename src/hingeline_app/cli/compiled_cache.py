"""Where compiled loops are kept between starts: a folder of the user's own, or nowhere."""

from __future__ import annotations

import os
import stat
from contextlib import suppress
from pathlib import Path

VARIABLE = "NUMBA_CACHE_DIR"


def keep_compiled_loops() -> Path | None:
    """Name a folder for the compiler, before it starts; give it, or None where nothing can be written.

    A folder that the user has named already is left alone. What is kept is machine code that will be run, so
    a folder that others may write in is not taken.
    """
    if os.environ.get(VARIABLE):
        return Path(os.environ[VARIABLE])
    home = os.environ.get("XDG_CACHE_HOME") or (f"{os.environ['HOME']}/.cache" if os.environ.get("HOME") else "")
    if not os.path.isabs(home):
        return None
    folder = Path(home) / "hingeline" / "compiled"
    with suppress(OSError):
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if _ours_alone(folder):
            os.environ[VARIABLE] = str(folder)
            return folder
    return None


def _ours_alone(folder: Path) -> bool:
    found = folder.stat()
    others = found.st_mode & (stat.S_IWGRP | stat.S_IWOTH)
    return found.st_uid == os.getuid() and not others and os.access(folder, os.W_OK)
