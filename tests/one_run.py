"""What is made once for a run of the tests, though several processes and several tests want it."""

from __future__ import annotations

import fcntl
import hashlib
import pickle
from collections.abc import Callable, Mapping
from pathlib import Path
from typing import Any

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]

# Where this run keeps it: told by conftest.py, and empty where no tests run.
SHARED: dict[str, Path] = {}


def computed_once(compute: Mapping[str, Callable[[Inputs], Outcome]]) -> Callable[[str, Inputs], Outcome]:
    """Give a function that computes a case by its kind, once in a run: its own test and the page's test both look."""

    def ask(kind: str, inputs: Inputs) -> Outcome:
        function = compute[kind]
        if "folder" not in SHARED:
            return function(inputs)
        asked = f"{function.__module__} {kind} {inputs!r}".encode()
        kept = SHARED["folder"] / f"{hashlib.sha256(asked).hexdigest()}.case"
        with kept.with_suffix(".lock").open("w") as lock:
            fcntl.flock(lock, fcntl.LOCK_EX)
            if not kept.exists():
                kept.write_bytes(pickle.dumps(function(inputs)))
        found: Outcome = pickle.loads(kept.read_bytes())
        return found

    return ask
