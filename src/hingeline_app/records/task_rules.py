"""The rule of a task, as a row keeps it: the due room's task without its name, its owner and its history."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from hingeline.document import from_dictionary, to_dictionary
from hingeline.due import Done, Task

NOT_OF_THE_RULE = ("name", "aircraft", "part", "done")


def rule_of(task: Task) -> dict[str, Any]:
    """Give the rule of a task as plain data."""
    written = to_dictionary(task)
    return {key: value for key, value in written.items() if key not in NOT_OF_THE_RULE and value not in (None, "")}


def task_of(
    rule: Mapping[str, Any], name: str, *, aircraft: str = "", part: str = "", done: tuple[Done, ...] = ()
) -> Task:
    """Make the due room's task of a rule.

    Raises
    ------
    InputRefused, TypeError, ValueError
        The rule is not as it was written.
    """
    from dataclasses import replace

    kept = from_dictionary({**rule, "name": name, "aircraft": aircraft, "part": part}, Task)
    return replace(kept, done=done)
