"""Plain tables to the text of a job file: what is kept in the records can be run from the command line."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import tomli_w


def toml_text(tables: Mapping[str, Any]) -> str:
    """Write plain tables as TOML; what is None is left out."""
    return tomli_w.dumps(_without_nothing(tables))


def _without_nothing(value: Any) -> Any:
    if isinstance(value, Mapping):
        return {name: _without_nothing(each) for name, each in value.items() if each is not None}
    if isinstance(value, list | tuple):
        return [_without_nothing(each) for each in value]
    return value
