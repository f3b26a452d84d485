"""One backup in a process of its own: what it reads neither stays in the memory of the pages nor holds them up.

A backup reads every entry and every row twice. In the process of the pages the memory for that would be kept, and
people would wait in turn with it.
"""

from __future__ import annotations

import os
import subprocess
import sys
import threading
from collections.abc import Callable
from datetime import datetime
from pathlib import Path

from hingeline_app.serving.workers_kept import own_flags

SOURCE = Path(__file__).resolve().parents[2]
START = (
    "import sys; sys.path.insert(0, sys.argv[1]); from hingeline_app.serving.backup_apart import main; "
    "sys.exit(main(*sys.argv[2:]))"
)
AFTER_THE_PAGES = 5
"""How much it stands back where both want the processor."""


def made_apart(folder: Path, at: datetime, say: Callable[[str], None]) -> bool:
    """Make the backup of a moment, restored as a trial, and say how it went. It ends when this process ends."""
    words = [str(SOURCE), str(folder), at.isoformat()]
    child = subprocess.Popen(
        [sys.executable, *own_flags(), "-B", "-P", "-c", START, *words],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        text=True,
        encoding="utf-8",
        start_new_session=True,
    )
    with child:
        assert child.stdout is not None
        said = child.stdout.read().splitlines()
    if not said:
        said = [f"NO BACKUP was made at {at.isoformat(timespec='minutes')}: its process ended with {child.returncode}"]
    for sentence in said:
        say(sentence)
    return child.returncode == 0


def main(folder: str, at: str) -> int:
    """Make it, in the process that was started for it, for the records that the surroundings name."""
    threading.Thread(target=_end_with_the_pages, daemon=True).start()
    os.nice(AFTER_THE_PAGES)
    from hingeline_app.records.opening import open_records

    open_records()
    from hingeline_app.records.backing_up.schedule import made_here

    return 0 if made_here(Path(folder), datetime.fromisoformat(at), print) else 1


def _end_with_the_pages() -> None:
    """Wait until the other end of our pipe is gone. What is half copied is no backup, and is taken away later."""
    while os.read(sys.stdin.fileno(), 64):
        pass
    os._exit(1)
