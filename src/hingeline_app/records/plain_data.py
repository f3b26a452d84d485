"""What a page or a file hands over to be kept as it is: texts, numbers, lists and tables of bounded size."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.canonical import canonical

LARGEST = 64_000
DEEPEST = 12


def plain_data(field: str, data: Mapping[str, Any], largest: int = LARGEST) -> dict[str, Any]:
    """Give a table as it is kept: composed, finite, bounded.

    Raises
    ------
    InputRefused
        It is no plain data, is nested too deeply, or is too large.
    """
    if _depth(data, DEEPEST) < 0:
        raise InputRefused.of(field, "…", f"at most {DEEPEST} levels", "Leave the inner levels out.")
    try:
        written = canonical(data)
    except (TypeError, ValueError) as fault:
        raise InputRefused.of(field, "…", "texts, finite numbers, lists and tables", f"Mend it: {fault}.") from fault
    if len(written) > largest:
        raise InputRefused.of(field, f"{len(written)} bytes", f"at most {largest} bytes", "Shorten it.")
    kept: dict[str, Any] = json.loads(written)
    return kept


def _depth(data: Any, left: int) -> int:
    """Count the levels that are left below some data; below zero is too deep."""
    inner = data.values() if isinstance(data, Mapping) else data if isinstance(data, list | tuple) else ()
    return left if left < 0 else min((_depth(each, left - 1) for each in inner), default=left)
