"""A worker of its own process: the records opened, long work taken up, until told to stop or left alone."""

from __future__ import annotations

import os
import signal
import sys
import threading
from collections.abc import Callable

from hingeline.errors import InputRefused
from hingeline_app.settings import places

LEFT_ALONE = "--with-the-pages"


def work(say: Callable[[str], None], *, with_the_pages: bool) -> int:
    """Work until told to stop; started beside the pages, until they end.

    Raises
    ------
    InputRefused
        No server keeps the records: nothing waits for a worker then.
    """
    if not places.database_address():
        remedy = f"Set {places.DATABASE} as for the pages; with a file the pages do the long work themselves."
        raise InputRefused.of(places.DATABASE, "", "the address of the records' database", remedy)
    from hingeline_app.records.opening import open_records

    open_records()
    from hingeline_app.longwork.worker import Worker

    stopped = threading.Event()
    for each in (signal.SIGTERM, signal.SIGINT):
        signal.signal(each, lambda _number, _frame: stopped.set())
    if with_the_pages:
        threading.Thread(target=_listen, args=(stopped,), daemon=True).start()
    Worker(stopped, say).run()
    return 0


def _listen(stopped: threading.Event) -> None:
    """Wait until the other end of our pipe is gone: the pages have ended."""
    while os.read(sys.stdin.fileno(), 64):
        pass
    stopped.set()
