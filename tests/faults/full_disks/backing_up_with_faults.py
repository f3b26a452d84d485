"""Run as a program, with failing.c loaded: let the n-th step of a backup fail, for n that grow; tell what came of it.

backing_up_with_faults.py FOLDER ERROR
"""

from __future__ import annotations

import ctypes
import json
import sys
from datetime import UTC, datetime, timedelta
from pathlib import Path

MOST = 5000
NOON = datetime(2027, 3, 12, 12, tzinfo=UTC)


def main(to: Path, error: int) -> None:
    from hingeline_app.records.opening import open_records

    open_records()
    shim = ctypes.CDLL(None)
    told, step, number = [], 1, 0
    while step < MOST:
        number += 1
        shim.fail_at(step, error, 1)
        said = backed_up(to, NOON + timedelta(hours=number))
        reached = shim.still_waiting() == 1
        shim.fail_at(0, 0, 0)
        told.append({"step": step, "said": said, "there": sorted(path.name for path in to.glob("hingeline-*"))})
        if not reached:
            break
        step += 1 + step // 2
    print(json.dumps(told))


def backed_up(to: Path, at: datetime) -> str:
    """Back up, and name how it ended."""
    from hingeline_app.records.backing_up.make import back_up

    try:
        back_up(to, at)
    except Exception as fault:
        return f"{type(fault).__name__}: {fault}"
    return "made"


if __name__ == "__main__":
    main(Path(sys.argv[1]), int(sys.argv[2]))
