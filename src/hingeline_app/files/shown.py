"""How a value, and the place where it stands, are written in a refusal."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable, Sequence
from difflib import get_close_matches
from typing import Any

LONGEST_SHOWN = 120
LONGEST_GUESSED = 40
_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")

Place = Sequence[int | str]


def shown(value: Any) -> str:
    """Write a value about as it stands in the file, cut where it is long."""
    text = value if isinstance(value, str) else _written(value)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def _written(value: Any) -> str:
    if isinstance(value, dict):
        items = (f"{step(key)[1:]} = {_written(item)}" for key, item in value.items())
        return "{" + ", ".join(items) + "}"
    if isinstance(value, list):
        return "[" + ", ".join(map(_written, value)) + "]"
    return json.dumps(value, ensure_ascii=False, default=str)


def guess(name: str, known: Iterable[str]) -> str:
    """Ask whether a name near to this one was meant; nothing where none is near."""
    near = get_close_matches(name.lower(), list(known), n=1) if len(name) < LONGEST_GUESSED else []
    return f' Did you mean "{near[0]}"?' if near else ""


def path(location: Place) -> str:
    """Write a place as ``support[0].readings[2]``."""
    return "".join(map(step, location)).lstrip(".")


def step(name: int | str) -> str:
    """Write one step of a place; a name that needs quotes in the file has them here too."""
    if isinstance(name, int):
        return f"[{name}]"
    return f".{name}" if _PLAIN_KEY.fullmatch(name) else "." + shown(json.dumps(name, ensure_ascii=False))
