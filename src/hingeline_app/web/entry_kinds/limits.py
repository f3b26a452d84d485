"""Entries of the step Limits."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.actions.jobs import choose_limits
from hingeline_app.web.entry_kinds.told import Told


def chosen(told: Told) -> Any:
    """Choose the row of limits that applies, as the job was seen."""
    version = told.text("version")
    if not (version.isascii() and version.isdecimal() and len(version) < 9):
        raise InputRefused.of("version", version, "the page's own", "Load the page again.")
    return choose_limits(told.actor, told.job, told.identifier("row"), int(version), told.command)


KINDS: dict[str, Callable[[Told], Any]] = {"choose-limits": chosen}
