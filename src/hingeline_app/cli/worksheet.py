"""Write a worksheet to a file: whole, or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from contextlib import suppress
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.report import SheetDetails, make_worksheet
from hingeline_app.report.worksheet import Paper


def write_worksheet(out: str, text: str, sheet: Mapping[str, str], document: Mapping[str, Any], paper: str) -> None:
    """Make the worksheet of a weighing and put it in its place in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    size: Paper = "letter" if paper == "letter" else "a4"
    pdf = make_worksheet(
        dict(document),
        text,
        SheetDetails(**sheet),
        datetime.now(UTC).replace(microsecond=0),
        hingeline.__version__,
        paper=size,
    )
    try:
        _put(Path(out), pdf)
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        expected = "a place where a file can be written"
        raise InputRefused.of("--pdf", out, expected, f"It could not be written ({reason}): name another.") from None


def _put(target: Path, content: bytes) -> None:
    if target.is_dir():
        raise IsADirectoryError(0, "it is a folder")
    handle, name = tempfile.mkstemp(prefix=".hingeline-", suffix=".pdf", dir=target.parent)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
            file.flush()
            os.fsync(file.fileno())
        os.chmod(name, 0o666 & ~_mask())
        os.replace(name, target)
    except BaseException:
        with suppress(OSError):
            os.unlink(name)
        raise


def _mask() -> int:
    """Give the rights that new files do not get; it can only be read by setting it."""
    mask = os.umask(0o022)
    os.umask(mask)
    return mask
