"""A file between its preview and its taking in: kept on the server for the person who sent it, for an hour."""

from __future__ import annotations

import secrets
import time
from contextlib import suppress
from pathlib import Path

from django.conf import settings
from django.contrib.sessions.backends.base import SessionBase

from hingeline_app.records.canonical import digest_of

WAITING, LASTS = "waiting_file", 60 * 60


def keep_waiting(session: SessionBase, name: str, data: bytes) -> None:
    """Keep a file; only this session finds it again."""
    _clear()
    key = secrets.token_hex(16)
    path = _folder() / key
    path.touch(mode=0o600)
    path.write_bytes(data)
    session[WAITING] = {"key": key, "name": name[:200], "digest": digest_of(data)}


def a_waiting_place(ending: str) -> Path:
    """Name a new file among those that wait; what waited too long is taken away."""
    _clear()
    return _folder() / f"{secrets.token_hex(16)}.{ending}"


def waiting_file(session: SessionBase) -> tuple[str, bytes] | None:
    """Give the file that waits, if it is still there as it was sent."""
    kept = session.get(WAITING)
    path = _folder() / kept["key"] if kept else None
    if not kept or path is None or not path.is_file():
        return None
    data = path.read_bytes()
    return (kept["name"], data) if digest_of(data) == kept["digest"] else None


def let_go(session: SessionBase) -> None:
    """Remove the file: it was taken in, or another was sent."""
    kept = session.pop(WAITING, None)
    if kept:
        (_folder() / kept["key"]).unlink(missing_ok=True)


def _folder() -> Path:
    folder = Path(settings.DATA_FOLDER) / "waiting"
    folder.mkdir(mode=0o700, exist_ok=True)
    return folder


def _clear() -> None:
    for path in _folder().iterdir():
        # Another request may have taken it away meanwhile.
        with suppress(FileNotFoundError):
            if path.stat().st_mtime < time.time() - LASTS:
                path.unlink()
