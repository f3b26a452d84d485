"""How a value, and the place where it stands, are written in a refusal."""

from __future__ import annotations

import json
import re
from collections.abc import Sequence
from typing import Any

LONGEST_SHOWN = 120
_PLAIN_KEY = re.compile(r"[A-Za-z0-9_-]+")

Place = Sequence[int | str]


def shown(value: Any) -> str:
    """Write a value about as it stands in the file, cut where it is long."""
    text = value if isinstance(value, str) else json.dumps(value, ensure_ascii=False, default=str)
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"


def path(location: Place) -> str:
    """Write a place as ``support[0].readings[2]``."""
    return "".join(map(step, location)).lstrip(".")


def step(name: int | str) -> str:
    """Write one step of a place; a name that needs quotes in the file has them here too."""
    if isinstance(name, int):
        return f"[{name}]"
    return f".{name}" if _PLAIN_KEY.fullmatch(name) else "." + shown(json.dumps(name, ensure_ascii=False))
