"""The compiled way for a server that runs on: made once, beside the first page that draws a band, then used.

Until then, and where the compiler is not installed, bands are drawn by NumPy: the same to a part in 10^12, later.
"""

from __future__ import annotations

import threading
from collections.abc import Callable

_asked, _ready = threading.Event(), threading.Event()
_one = threading.Lock()


def is_ready() -> bool:
    """Say whether the compiled loops have been made in this process."""
    return _ready.is_set()


def make_ready(draw: Callable[[], object]) -> threading.Thread | None:
    """Let the loops be made in the background by drawing something with them; None where that was asked for before.

    Parameters
    ----------
    draw : callable
        Draws by the compiled way.
    """
    with _one:
        if _asked.is_set():
            return None
        _asked.set()
    thread = threading.Thread(target=_work, args=(draw,), name="compiled loops", daemon=True)
    thread.start()
    return thread


def _work(draw: Callable[[], object]) -> None:
    draw()
    _ready.set()
