"""The due room's question as a due file, which ``hingeline due`` answers to the same digits."""

from __future__ import annotations

from dataclasses import fields, is_dataclass
from datetime import date
from decimal import Decimal
from typing import Any

from hingeline.document import key_of
from hingeline.due import DueQuestion
from hingeline.errors import InputRefused
from hingeline_app.files.due_file import FORMAT, MOST_TASKS
from hingeline_app.files.toml_text import toml_text

TABLES = {"parts": "part", "tasks": "task"}


def write_due(question: DueQuestion) -> bytes:
    """Write a question as TOML in UTF-8.

    Raises
    ------
    InputRefused
        It has more tasks than a file may have.
    """
    if len(question.tasks) > MOST_TASKS:
        remedy = "Take the tasks of some aircraft at a time."
        raise InputRefused.of("task", len(question.tasks), f"at most {MOST_TASKS} in a file", remedy)
    plain = _plain(question)
    return toml_text({"format": FORMAT, **{TABLES.get(name, name): each for name, each in plain.items()}}).encode()


def _plain(value: Any) -> Any:
    """Give records as tables; what says nothing is left out, decimals keep their digits as floats."""
    if is_dataclass(value):
        named = {key_of(field): _plain(getattr(value, field.name)) for field in fields(value)}
        return {name: each for name, each in named.items() if each not in (None, "", [])}
    if isinstance(value, tuple):
        return [_plain(each) for each in value]
    if isinstance(value, date):
        return value.isoformat()
    return float(value) if isinstance(value, Decimal) else value
