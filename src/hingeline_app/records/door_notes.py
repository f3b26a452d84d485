"""How often a device may leave notes before anybody came in: the security chain is kept for ever, a disk has an end.

Whoever tries passwords all night would else fill it. The first hundred of each quarter of an hour are noted, and that
there were more; tries are counted and refused all the same.
"""

from __future__ import annotations

import threading
import time

MOST, WINDOW = 100, 15 * 60.0
MOST_DEVICES = 10_000
_lock = threading.Lock()
_counted: dict[str, tuple[float, int]] = {}
"""Since when each device is counted, and how many notes it left, in this process."""


def notes_left(device: str) -> int:
    """Count one more note of a device; give how many it still had, this one included: 1 is the last, 0 is too many."""
    now = time.monotonic()
    with _lock:
        since, count = _counted.get(device, (now, 0))
        if now - since > WINDOW:
            since, count = now, 0
        if len(_counted) >= MOST_DEVICES:
            _counted.clear()
        _counted[device] = since, count + 1
    return max(0, MOST - count)
