"""What differs when something is worked out again, to the last digit."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

SENTENCES = frozenset({"notes", "cautions", "assumptions", "sentence", "advice", "reason"})
"""Fields of a result that are sentences: another version may say more, or say it otherwise, of the same numbers."""


def is_wording(difference: Mapping[str, str]) -> bool:
    """Tell a sentence that is worded otherwise from a number, a statement or a name that came out otherwise."""
    return difference["field"].rpartition(".")[2].partition("[")[0] in SENTENCES


ROUNDING = 1e-11
"""Part of a number below which two versions of it differ by how they round, and not by what they say."""


def is_rounding(difference: Mapping[str, str]) -> bool:
    """Tell two numbers that are the same but for their last digits from ones that came out otherwise."""
    try:
        kept, again = float(difference["kept"]), float(difference["again"])
    except ValueError:
        return False
    return abs(kept - again) <= ROUNDING * max(abs(kept), abs(again))


def differing(place: str, kept: Any, again: Any) -> Iterator[dict[str, str]]:
    """Go through everything that differs between two documents, to the last digit."""
    if isinstance(kept, Mapping) and isinstance(again, Mapping):
        for name in dict.fromkeys((*kept, *again)):
            if name == "local_gravity" and _is_told_by_the_value(kept, again):
                continue
            below = f"{place}.{name}".lstrip(".")
            yield from differing(below, kept.get(name, "(not there)"), again.get(name, "(not there)"))
    elif isinstance(kept, list) and isinstance(again, list) and len(kept) == len(again):
        for index, (one, other) in enumerate(zip(kept, again, strict=True)):
            yield from differing(f"{place}[{index}]", one, other)
    elif kept != again or type(kept) is not type(again):
        yield {"field": place, "kept": repr(kept), "again": repr(again)}


def _is_told_by_the_value(kept: Mapping[str, Any], again: Mapping[str, Any]) -> bool:
    """Whether a gravity beside a typed value is no longer noted, and the value is the same.

    Version 1.0.0 noted one beside kgf cm and lbf in too, which are newtons whatever the gravity (decision 0216).
    """
    is_typed = "typed" in kept and kept["typed"] == again.get("typed")
    return is_typed and "local_gravity" not in again and kept.get("value") == again.get("value")
