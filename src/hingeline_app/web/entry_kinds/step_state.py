"""Entries that close a step, hold it or say that it is not needed, with the reason."""

from __future__ import annotations

from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.bench import refit_checks
from hingeline_app.bench.arm import arm_points
from hingeline_app.bench.steps import AGAINST, DONE, HELD, NOT_NEEDED, OPEN_STEP
from hingeline_app.records.actions.jobs import DETAIL_SET, set_detail
from hingeline_app.records.actions.working import Moved, follows_own
from hingeline_app.records.legible import remark
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.write_door import repeated
from hingeline_app.web.entry_kinds.told import Told

BY_A_PERSON = ("arrive", "arm", "refit")
STATES = (OPEN_STEP, DONE, HELD, NOT_NEEDED)
LACKING = {"arm": arm_points.open_points, "refit": refit_checks.open_checks}


def step_state(told: Told) -> Any:
    """Set the state of a step. Done asks for everything to be looked at; held and not needed ask for a reason."""
    repeated(told.actor, told.command)
    name, state = told.text("about"), told.text("state")
    if name not in BY_A_PERSON or state not in STATES:
        raise InputRefused.of("state", state, ", ".join(STATES), "Choose one of them.")
    job = job_of(told.actor.person, told.number)  # type: ignore[arg-type]
    reason = remark("reason", told.text("reason"), needed=state in (HELD, NOT_NEEDED))
    if state == DONE:
        _refuse_lacking(job, name)
    was = told.text("was") or None
    _refuse_moved(told, job, f"{name}.state", (was, state))
    is_now = value_at(job.details, f"{name}.reason")
    if (is_now or "") != reason:
        set_detail(told.actor, told.job, f"{name}.reason", is_now, reason or None)
    return set_detail(told.actor, told.job, f"{name}.state", was, state, told.command)


def _refuse_moved(told: Told, job: JobRecord, place: str, seen: tuple[str | None, str]) -> None:
    """Refuse before the reason is written: else a stale page took another person's reason away, and kept the state."""
    stands = value_at(job.details, place)
    if stands not in seen and not follows_own(told.actor, DETAIL_SET, told.job, place, stands, told.command):
        raise Moved({place: seen[1]}, {place: stands})


def _refuse_lacking(job: JobRecord, name: str) -> None:
    left = LACKING[name](job) if name in LACKING else []
    if left:
        remedy = "Look at each, or say that the step is not needed, and why."
        raise InputRefused.of("state", "done", f"these to be entered first: {'; '.join(left)}", remedy)
    against = AGAINST[name](job) if name in AGAINST else []
    if against:
        remedy = "Mend it and enter what it is then, or hold the step, and say why."
        raise InputRefused.of("state", "done", f"nothing that speaks against it: {'; '.join(against)}", remedy)


KINDS = {"step-state": step_state}
