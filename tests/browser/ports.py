"""Ports of this machine: one that nobody listens at, and whether somebody listens yet."""

from __future__ import annotations

import contextlib
import socket
import time


def free_port() -> int:
    """Give a port that nobody listens at."""
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


def answers(address: str, seconds: float = 15.0) -> bool:
    """Wait until something listens."""
    host, _, port = address.rpartition("/")[2].rpartition(":")
    until = time.monotonic() + seconds
    while time.monotonic() < until:
        with contextlib.suppress(OSError), socket.create_connection((host, int(port)), 1):
            return True
        time.sleep(0.1)
    return False
