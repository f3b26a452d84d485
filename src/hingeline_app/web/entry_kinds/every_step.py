"""Entries of every step: the last one undone, a typed value set aside for another person's."""

from __future__ import annotations

from typing import Any
from uuid import UUID

from hingeline.errors import InputRefused
from hingeline_app.records.actions.ballast import take_fitting_back
from hingeline_app.records.actions.jobs import set_aside, set_detail, take_limits_back
from hingeline_app.records.actions.measuring import change_set_up, withdraw_reading
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.undo import DETAIL, FITTED, LIMITS, READING, SET_UP, Undoable, last_undoable
from hingeline_app.records.write_door import repeated
from hingeline_app.web.entry_kinds.told import Told

UNDONE = "undone"


def undo(told: Told) -> Any:
    """Undo the person's last entry on this job, where it still is the one that the page named."""
    repeated(told.actor, told.command)
    viewer: Any = told.actor.person
    last = last_undoable(viewer, job_of(viewer, told.number))
    if last is None or str(last.position) != told.text("undoes"):
        raise InputRefused.of("undo", told.text("words"), "your last entry on this job", "Look at the page again.")
    return BACK[last.kind](told, last)


def aside(told: Told) -> Any:
    """Note the value that was not taken."""
    return set_aside(told.actor, told.job, told.text("place"), told.text("yours"), told.text("theirs"), told.command)


def _reading(told: Told, last: Undoable) -> Any:
    return withdraw_reading(told.actor, _about(last), UNDONE, command=told.command)


def _detail(told: Told, last: Undoable) -> Any:
    was, now = last.says["was"], last.says["now"]
    return set_detail(told.actor, told.job, last.says["place"], now, was, told.command, undoes=last.position)


def _set_up(told: Told, last: Undoable) -> Any:
    was, now = last.says["was"], last.says["now"]
    place = last.says["place"]
    return change_set_up(told.actor, _about(last), place, now, was, told.command, undoes=last.position)


def _limits(told: Told, last: Undoable) -> Any:
    was = UUID(last.says["was"]) if last.says["was"] else None
    return take_limits_back(told.actor, told.job, last.position, was, told.command)


def _fitted(told: Told, last: Undoable) -> Any:
    return take_fitting_back(told.actor, _about(last), last.position, told.command)


def _about(last: Undoable) -> UUID:
    assert last.about is not None
    return last.about


BACK = {READING: _reading, DETAIL: _detail, SET_UP: _set_up, LIMITS: _limits, FITTED: _fitted}
KINDS = {"undo": undo, "set-aside": aside}
