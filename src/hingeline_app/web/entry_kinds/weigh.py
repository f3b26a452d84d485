"""Entries of the step Weigh."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hingeline_app.records.actions.measuring import add_reading, withdraw_reading
from hingeline_app.web.entry_kinds.told import Told


def reading(told: Told) -> Any:
    """Add a reading to a weighing."""
    place = told.text("place", "support 1")
    return add_reading(
        told.actor, told.identifier("measurement"), told.text("typed"), place=place, command=told.command
    )


def withdrawn(told: Told) -> Any:
    """Withdraw a reading with its reason."""
    return withdraw_reading(told.actor, told.identifier("reading"), told.text("reason"), command=told.command)


KINDS: dict[str, Callable[[Told], Any]] = {"reading": reading, "withdraw-reading": withdrawn}
