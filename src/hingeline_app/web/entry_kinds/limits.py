"""Entries of the step Limits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.web.entry_kinds.told import Told


def chosen(told: Told) -> Any:
    """Choose the row of limits that applies, where the page showed which one did."""
    was = told.identifier("was") if told.text("was") else None
    return choose_limits(told.actor, told.job, told.identifier("row"), was, told.command)


KINDS: dict[str, Callable[[Told], Any]] = {"choose-limits": chosen}
