"""Entries of the step Second inspection: what was disturbed is listed, and looked at item by item."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.actions.inspecting import Disturbed, ask_for_inspection, look
from hingeline_app.web.entry_kinds.told import Told
from hingeline_app.web.entry_kinds.who_looks import who_looks

MOST = 40


def ask(told: Told) -> Any:
    """List what another person is to look at: one item a line, behind a | what the worker says of it."""
    lines = [line.split("|", 1) for line in told.text("items").splitlines() if line.strip()]
    if len(lines) > MOST:
        raise InputRefused.of("items", len(lines), f"at most {MOST} lines", "Put together what belongs together.")
    items = [Disturbed(name.strip(), rest[0].strip() if rest and rest[0].strip() else "done") for name, *rest in lines]
    return ask_for_inspection(told.actor, told.job, items, told.command)


def looked(told: Told) -> Any:
    """Say what the second person found at an item; a guest looks on the page of the witness."""
    return look(who_looks(told), told.identifier("item"), told.text("finding"), told.text("note"), told.command)


KINDS = {"ask-for-inspection": ask, "look": looked}
