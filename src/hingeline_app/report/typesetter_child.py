"""The process that sets sheets: one task a line comes in, one answer goes out, until nobody is there any more."""

from __future__ import annotations

import json
import os
import sys
from typing import Any

from hingeline_app.report.typesetters import ANSWER, FAULT, LENGTH
from hingeline_app.report.typesetting import asked_here, set_here


def main() -> None:
    """Answer until the other end is gone. Nothing but answers may be written to where they go."""
    out = os.fdopen(os.dup(1), "wb")
    os.dup2(2, 1)
    for line in sys.stdin.buffer:
        try:
            kind, answer = ANSWER, done(json.loads(line))
        except Exception as fault:
            kind, answer = FAULT, f"{type(fault).__name__}: {fault}".encode()
        out.write(LENGTH.pack(kind, len(answer)) + answer)
        out.flush()


def done(task: dict[str, Any]) -> bytes:
    """Do one task: set a sheet, or ask one."""
    source = task["source"].encode()
    if "label" in task:
        return asked_here(source, task["label"], task["inputs"]).encode()
    return set_here(source, task["inputs"], task["standard"])
