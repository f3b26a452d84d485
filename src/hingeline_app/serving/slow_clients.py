"""The web server's worker: whoever sends slowly waits in front of the pages, and is cut off.

A thread that reads a request costs little, a page's turn costs much. So many threads read, few answer: a request
gets its turn when its head, and the form that it carries, are there. What takes too long is cut off.
"""

from __future__ import annotations

import io
import socket
import threading
import time
from concurrent.futures import ThreadPoolExecutor
from contextlib import suppress
from typing import Any

from gunicorn.workers.gthread import ThreadWorker

# How many may be read from at once, and for how long.
READERS = 80
SECONDS_TO_SEND = 15.0
# A form is read whole ahead of its turn. A file is read in its turn: it may pause so long, and some turns stay free.
LARGEST_FORM = 1_100_000
LONGEST_PAUSE = 30.0
TURNS_WITHOUT_FILES = 4


class UnhurriedWorker(ThreadWorker):  # type: ignore[misc]
    """Answers pages with the configured number of threads, and reads requests with many."""

    def get_thread_pool(self) -> ThreadPoolExecutor:
        """Give the threads that read."""
        self._turns = threading.Semaphore(self.cfg.threads)
        self._files = threading.Semaphore(max(1, self.cfg.threads - TURNS_WITHOUT_FILES))
        self._until: dict[Any, float] = {}
        return ThreadPoolExecutor(max_workers=READERS)

    def handle(self, conn: Any) -> Any:
        """Read a request and answer it; the time to send it begins with the first byte."""
        self._until[conn] = time.monotonic() + SECONDS_TO_SEND
        try:
            return super().handle(conn)
        finally:
            self._until.pop(conn, None)

    def handle_request(self, req: Any, conn: Any) -> Any:
        """Answer a request whose head is there, once its form is and a turn is free."""
        if not _carries_a_form(req):
            return self._with_a_file(req, conn)
        _read_ahead(req.body)
        self._until.pop(conn, None)
        with self._turns:
            return super().handle_request(req, conn)

    def _with_a_file(self, req: Any, conn: Any) -> Any:
        self._until.pop(conn, None)
        conn.sock.settimeout(LONGEST_PAUSE)
        with self._files, self._turns:
            return super().handle_request(req, conn)

    def _keepalive_after(self, conn: Any, keepalive: Any) -> Any:
        """Give as long again for what an answered request still carries and nobody reads.

        The server's own deadline is asked between reads of a thousand bytes: at a byte a second that is a quarter of
        an hour, and the thread that reads waits with it.
        """
        self._until[conn] = time.monotonic() + SECONDS_TO_SEND
        return super()._keepalive_after(conn, keepalive)

    def murder_pending(self) -> None:
        """Cut off, about once a second, who took too long to send."""
        super().murder_pending()
        now = time.monotonic()
        for conn in [conn for conn, until in list(self._until.items()) if until < now]:
            self._until.pop(conn, None)
            with suppress(OSError):
                conn.sock.shutdown(socket.SHUT_RDWR)


def _carries_a_form(request: Any) -> bool:
    """Whether what follows the head is announced, and small."""
    said = {name: value for name, value in request.headers if name in ("CONTENT-LENGTH", "TRANSFER-ENCODING")}
    length = said.get("CONTENT-LENGTH", "0")
    return "TRANSFER-ENCODING" not in said and length.isdigit() and int(length) <= LARGEST_FORM


def _read_ahead(body: Any) -> None:
    """Read what follows the head, and leave it to be read again."""
    data = body.read()
    body.buf = io.BytesIO()
    body.buf.write(data)
