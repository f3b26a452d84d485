"""Entries of the step Arrive."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.web.entry_kinds.set_by_place import refuse_no_detail, refuse_no_tick
from hingeline_app.web.entry_kinds.told import Told

# A tick is stored as true or not at all, any other detail as the text that was typed.
TICKS = {"on": True, "": None}


def detail(told: Told) -> Any:
    """Set one detail of the job; ``was`` is what the page showed."""
    place, value, was = told.text("place"), told.text("value"), told.text("was")
    if told.text("as") == "tick":
        refuse_no_tick(place)
        if not {was, value} <= TICKS.keys():
            raise InputRefused.of("value", value, "on, or nothing", "Load the page again.")
        return set_detail(told.actor, told.job, place, TICKS[was], TICKS[value], told.command)
    refuse_no_detail(place, value)
    return set_detail(told.actor, told.job, place, was or None, value or None, told.command)


KINDS = {"detail": detail}
