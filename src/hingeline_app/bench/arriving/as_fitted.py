"""What the limits assume is fitted, against what was found fitted on arrival."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

ITEMS = ("tab", "pushrod", "wicks", "seals", "bolts")
FITTED, OFF, NONE = "fitted", "off", "none"
STATES = (FITTED, OFF, NONE)
# How documents name the items.
WORDS: Mapping[str, tuple[str, ...]] = {
    "tab": ("tab", "trim tab"),
    "pushrod": ("pushrod", "push rod", "push-rod", "control rod"),
    "wicks": ("wick", "wicks", "static wicks", "discharger", "dischargers"),
    "seals": ("seal", "seals", "gap seal", "gap seals"),
    "bolts": ("bolt", "bolts", "hinge bolts"),
}
_WITHOUT = re.compile(r"\b(?:without|no|less|off|removed|not fitted|disconnected)\b")
AGREES, DIFFERS, NOT_SAID = "agrees", "differs", "not said"


@dataclass(frozen=True)
class Compared:
    """One item: what the limits assume, what was found, and whether they differ."""

    item: str
    assumed: str
    found: str
    finding: str


def assumed_by(text: str) -> dict[str, str]:
    """Read what a row says is fitted when weighed, item by item: "tab, pushrod, without static wicks"."""
    said: dict[str, str] = {}
    for part in re.split(r"[,;]|\band\b", text.lower()):
        state = OFF if _WITHOUT.search(part) else FITTED
        said |= {item: state for item, words in WORDS.items() if any(re.search(rf"\b{word}\b", part) for word in words)}
    return said


def compared(text: str, found: Mapping[str, Any]) -> list[Compared]:
    """Compare what a row assumes with what was found, for every item that either names."""
    assumed = assumed_by(text)
    return [
        _compared(item, assumed.get(item, ""), str(found.get(item) or ""))
        for item in ITEMS
        if assumed.get(item) or found.get(item)
    ]


def _compared(item: str, assumed: str, found: str) -> Compared:
    if not assumed or not found:
        return Compared(item, assumed, found, NOT_SAID)
    # What the surface does not have at all is not fitted either.
    same = (assumed == FITTED) == (found == FITTED)
    return Compared(item, assumed, found, AGREES if same else DIFFERS)
