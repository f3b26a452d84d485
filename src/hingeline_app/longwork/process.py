"""The process of one piece of long work, started: it inherits the lock, and a pipe that tells it that we are gone."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from hingeline_app.longwork.inside import NO_TURN

SOURCE = Path(__file__).resolve().parents[2]
# Which part of the program does the work of which folder; it is loaded in that process alone.
DONE_BY = {"following": "hingeline_app.evidence.runner", "studies": "hingeline_app.studies.runner"}
START = (
    "import sys; sys.path.insert(0, sys.argv[1]); from importlib import import_module; "
    "import_module(sys.argv[2]).main(sys.argv[3])"
)


def start_process(folder: Path, alive: int, *, in_turn: bool) -> subprocess.Popen[bytes]:
    """Start the process of a folder.

    Parameters
    ----------
    folder : Path
    alive : int
        The file of the folder's lock, which the process keeps when we let go of it.
    in_turn : bool
        Whether it waits until no other work of its kind goes on.
    """
    words = [str(SOURCE), DONE_BY[folder.parent.name], str(folder), *([] if in_turn else [NO_TURN])]
    return subprocess.Popen(
        [sys.executable, "-I", "-B", "-X", "utf8", "-c", START, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL,
        stderr=subprocess.DEVNULL,
        pass_fds=(alive,),
        start_new_session=True,
    )
