"""A treatment of the weight arm that has a mass changes the balance: which weighing it came after."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline_app.records.plain_places import value_at

# Where the job's details hold it: what was put on, its mass as typed, how many weighings had been begun.
TREATMENT = "arm.treatment"


def treated_after(details: Mapping[str, Any]) -> int:
    """Give the number of the last weighing that was begun before the treatment; -1 where none has a mass.

    Whoever enters a treatment after weighing 2 makes weighing 2 a weighing of another surface.
    """
    told = value_at(details, TREATMENT)
    if not isinstance(told, Mapping) or not str(told.get("mass") or "").strip():
        return -1
    after = told.get("after_weighing")
    return after if isinstance(after, int) else -1
