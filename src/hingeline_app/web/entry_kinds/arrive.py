"""Entries of the step Arrive."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.records.actions.attaching import PHOTOGRAPH, attach_to_job
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.web.entry_kinds.told import Told
from hingeline_app.web.photographs import upload_of

# A tick is stored as true or not at all, any other detail as the text that was typed.
TICKS = {"on": True, "": None}


def detail(told: Told) -> Any:
    """Set one detail of the job; ``was`` is what the page showed."""
    value, was = told.text("value"), told.text("was")
    if told.text("as") == "tick":
        return set_detail(told.actor, told.job, told.text("place"), TICKS[was], TICKS[value], told.command)
    return set_detail(told.actor, told.job, told.text("place"), was or None, value or None, told.command)


def photo(told: Told) -> Any:
    """Add a photograph."""
    sent = told.files.get("photograph")
    if sent is None:
        raise InputRefused.of("photograph", "none", "a picture", "Choose or take one.")
    return attach_to_job(told.actor, told.job, upload_of(sent, PHOTOGRAPH, told.text("remark")), told.command)


KINDS = {"detail": detail, "photo": photo}
