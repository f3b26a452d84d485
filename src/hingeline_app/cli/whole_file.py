"""Put a file in its place whole, or not at all."""

from __future__ import annotations

import os
import tempfile
from contextlib import suppress
from pathlib import Path

from hingeline.errors import InputRefused


def put_whole(out: str, content: bytes, option: str) -> None:
    """Write ``content`` to the file that ``option`` named, in one step.

    Raises
    ------
    InputRefused
        The file cannot be written there; nothing is left behind.
    """
    try:
        _put(Path(out), content)
    except (OSError, ValueError) as fault:
        reason = fault.strerror if isinstance(fault, OSError) and fault.strerror else str(fault)
        expected = "a place where a file can be written"
        raise InputRefused.of(option, out, expected, f"It could not be written ({reason}): name another.") from None


def _put(target: Path, content: bytes) -> None:
    if target.is_dir():
        raise IsADirectoryError(0, "it is a folder")
    handle, name = tempfile.mkstemp(prefix=".hingeline-", suffix=target.suffix, dir=target.parent)
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
