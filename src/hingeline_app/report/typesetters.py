"""Processes that set sheets one after the other, each ended when it takes longer than it may."""

from __future__ import annotations

import json
import os
import select
import struct
import subprocess
import sys
import time
from collections.abc import Mapping
from pathlib import Path
from typing import IO, Any

SOURCE = Path(__file__).resolve().parents[2]
START = "import sys; sys.path.insert(0, sys.argv[1]); from hingeline_app.report.typesetter_child import main; main()"
LENGTH = struct.Struct(">cI")
"""Before each answer: whether it is one, and how long it is [byte]."""
ANSWER, FAULT = b"+", b"-"
MOST_IDLE = 2


class SheetNotMade(RuntimeError):
    """The typesetter did not end in time, or crashed. What was to be printed stands as it is recorded."""


class Typesetters:
    """Some processes, started when they are wanted and kept for the next sheet.

    Parameters
    ----------
    seconds : float
        How long one sheet may take.
    """

    def __init__(self, seconds: float) -> None:
        self._seconds = seconds
        self._idle: list[subprocess.Popen[bytes]] = []

    def ask(self, task: Mapping[str, Any]) -> bytes:
        """Have one task done.

        Raises
        ------
        SheetNotMade
            It took longer than it may, or the process crashed.
        RuntimeError
            The typesetter found a fault in the sheet.
        """
        process = self._waiting() or _started()
        try:
            kind, answer = _asked(process, task, time.monotonic() + self._seconds)
        except BaseException as fault:
            _ended(process)
            if isinstance(fault, TimeoutError | EOFError | BrokenPipeError):
                raise SheetNotMade(self._why(fault)) from fault
            raise
        self._keep(process)
        if kind == FAULT:
            raise RuntimeError(answer.decode(errors="replace"))
        return answer

    def end(self) -> None:
        """End them all."""
        while (process := self._waiting()) is not None:
            _ended(process)

    def _waiting(self) -> subprocess.Popen[bytes] | None:
        """Take one that waits; asked by several threads at once, each gets another one, or none."""
        try:
            return self._idle.pop()
        except IndexError:
            return None

    def _keep(self, process: subprocess.Popen[bytes]) -> None:
        if len(self._idle) < MOST_IDLE:
            self._idle.append(process)
        else:
            _ended(process)

    def _why(self, fault: Exception) -> str:
        if isinstance(fault, TimeoutError):
            return f"the typesetter was stopped after {self._seconds:g} s"
        return "the typesetter crashed"


def _started() -> subprocess.Popen[bytes]:
    return subprocess.Popen(
        [sys.executable, "-I", "-B", "-X", "utf8", "-c", START, str(SOURCE)],
        stdin=subprocess.PIPE,
        stdout=subprocess.PIPE,
        stderr=subprocess.DEVNULL,
        start_new_session=True,
    )


def _asked(process: subprocess.Popen[bytes], task: Mapping[str, Any], until: float) -> tuple[bytes, bytes]:
    assert process.stdin is not None
    assert process.stdout is not None
    _write(process.stdin, json.dumps(task).encode() + b"\n", until)
    kind, length = LENGTH.unpack(_read(process.stdout, LENGTH.size, until))
    return kind, _read(process.stdout, length, until)


def _write(pipe: IO[bytes], data: bytes, until: float) -> None:
    """Write all of it, or as much as there is time for."""
    os.set_blocking(pipe.fileno(), False)
    while data:
        if not select.select([], [pipe], [], max(0.0, until - time.monotonic()))[1]:
            raise TimeoutError
        data = data[os.write(pipe.fileno(), data) :]


def _read(pipe: IO[bytes], length: int, until: float) -> bytes:
    """Read so much, or as long as there is time."""
    read = b""
    while len(read) < length:
        if not select.select([pipe], [], [], max(0.0, until - time.monotonic()))[0]:
            raise TimeoutError
        piece = os.read(pipe.fileno(), length - len(read))
        if not piece:
            raise EOFError
        read += piece
    return read


def _ended(process: subprocess.Popen[bytes]) -> None:
    process.kill()
    process.communicate()
