"""A row of a step is written whole: what the page showed must still be there, or the person is told."""

from __future__ import annotations

import json
import math
from collections.abc import Mapping
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.figures.wording import format_moment
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.said import say
from hingeline_app.web.entry_kinds.told import Told

# More than any page shows of a moment [N m]: the form was not sent by one.
MOST_SHOWN = 1e6


def set_row(told: Told, place: str, row: Mapping[str, Any] | None) -> Any:
    """Write a row at a place, by the person who sends it."""
    whole = None if row is None else {**row, "by": told.actor.person.initials}  # type: ignore[union-attr]
    return set_detail(told.actor, told.job, place, was_shown(told), whole, told.command)


def was_shown(told: Told) -> Any:
    """Give what the page showed, which stands in the form as JSON.

    Raises
    ------
    InputRefused
        It does not read.
    """
    try:
        return json.loads(told.text("was") or "null")
    except (ValueError, RecursionError):
        raise InputRefused.of("was", "", "what the page showed", "Load the page again.") from None


def moment_seen(told: Told) -> str:
    """Say the moment [N m] that a page showed as pages say one: its first digits alone could be of any power of ten."""
    try:
        moment = float(told.text("seen"))
    except ValueError:
        moment = math.nan
    return say(format_moment(moment)) if abs(moment) < MOST_SHOWN else told.text("seen")[:60]


def short(told: Told, name: str, longest: int = 200) -> str:
    """Give a field's text in one line, decimal commas as typed.

    Raises
    ------
    InputRefused
        It is too long.
    """
    text = " ".join(told.text(name).split())
    if len(text) > longest:
        raise InputRefused.of(name, f"{len(text)} characters", f"at most {longest}", "Shorten it.")
    return text
