"""How a weighing begins: the way it is done, and what the last weighing of the surface already says."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

WAYS = ("push", "pull", "hung mass", "several supports")
# What belongs to the surface and the bench, and holds again; ticks and readings never do.
AGAIN = ("surface", "support", "hung", "part", "uncertainty", "way")


def carried_over(set_up: Mapping[str, Any]) -> dict[str, Any]:
    """Give what an earlier set-up says that still holds."""
    return {name: set_up[name] for name in AGAIN if set_up.get(name)}


def way_of(set_up: Mapping[str, Any]) -> str:
    """Name the way of a set-up: as chosen, else as its supports show."""
    if set_up.get("way") in WAYS:
        return str(set_up["way"])
    supports = set_up.get("support") or []
    if len(supports) > 1:
        return "several supports"
    if set_up.get("hung"):
        return "hung mass"
    return "pull" if supports and supports[0].get("pushes") == "down" else "push"


def set_up_by(way: str, before: Mapping[str, Any], supports: int = 2) -> dict[str, Any]:
    """Give the set-up of a new weighing by a way, with what an earlier one says."""
    set_up = carried_over(before) | {"way": way}
    held = [dict(each) for each in set_up.get("support") or []]
    count = {"several supports": max(supports, len(held)), "hung mass": min(1, len(held))}.get(way, 1)
    pushes = {"push": "up", "pull": "down"}.get(way)
    empty = {"side": "aft", "pushes": "up", "tare": "0 g"}
    rows = [{**empty, **(held[index] if index < len(held) else {})} for index in range(count)]
    set_up["support"] = [{**row, **({"pushes": pushes} if pushes else {})} for row in rows]
    if way != "hung mass":
        set_up.pop("hung", None)
    elif not set_up.get("hung"):
        set_up["hung"] = [{"side": "forward"}]
    return set_up
