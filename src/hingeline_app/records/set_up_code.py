"""The code that proves, once, that whoever sets a workshop up can read this machine's console."""

from __future__ import annotations

import os
import secrets
from pathlib import Path

from django.conf import settings

from hingeline_app.records.models import Workshop

# No letters or digits that look like another.
SIGNS = "23456789ABCDEFGHJKMNPQRSTVWXYZ"
GROUPS, GROUP = 3, 4


def set_up_code_if_needed() -> str | None:
    """Give the code while there is no workshop; make it the first time."""
    if Workshop.objects.exists():
        _file().unlink(missing_ok=True)
        return None
    if not _file().exists():
        _write(_new_code())
    return _file().read_text("ascii").strip()


def is_set_up_code(typed: str) -> bool:
    """Compare what was typed; capitals, spaces and dashes do not matter."""
    code = set_up_code_if_needed()
    return code is not None and secrets.compare_digest(_plain(typed), _plain(code))


def _plain(text: str) -> str:
    return "".join(sign for sign in text.upper() if sign in SIGNS)


def _new_code() -> str:
    return "-".join("".join(secrets.choice(SIGNS) for _ in range(GROUP)) for _ in range(GROUPS))


def _file() -> Path:
    return Path(settings.DATA_FOLDER) / "keys" / "set-up.code"


def _write(code: str) -> None:
    path = _file()
    path.parent.mkdir(mode=0o700, parents=True, exist_ok=True)
    handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_TRUNC | os.O_CLOEXEC, 0o600)
    with os.fdopen(handle, "w", encoding="ascii") as file:
        file.write(code + "\n")
