"""Where a record is kept when the program was at fault and no statement could be made."""

from __future__ import annotations

import base64
import json
import os
import tempfile
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path


def keep(details: str, arguments: Sequence[str], inputs: Mapping[str, bytes], about: Mapping[str, str]) -> Path | None:
    """Write what was computed from, and what went wrong; None where nothing can be written."""
    record = {
        "format": "hingeline/fault/1",
        "at": datetime.now(UTC).isoformat(timespec="seconds"),
        "arguments": list(arguments),
        "inputs": {name: base64.b64encode(data[:1_000_000]).decode("ascii") for name, data in inputs.items()},
        "details": details,
        "about": dict(about),
    }
    for folder in FOLDERS:
        try:
            return _written(folder(), json.dumps(record, indent=2))
        except (OSError, RuntimeError, ValueError):
            continue
    return None


def _state() -> Path:
    given = os.environ.get("XDG_STATE_HOME", "")
    return (Path(given) if given else Path.home() / ".local" / "state") / "hingeline"


def _temporary() -> Path:
    return Path(tempfile.gettempdir())


# Tried one after the other; each may fail, where a user has no home or a machine no room.
FOLDERS: tuple[Callable[[], Path], ...] = (_state, _temporary)


def _written(folder: Path, text: str) -> Path:
    folder.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(prefix="fault-", suffix=".json", dir=folder)
    try:
        with os.fdopen(handle, "w", encoding="utf-8") as file:
            file.write(text)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise
    return Path(name)
