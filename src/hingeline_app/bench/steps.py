"""How far a job is: the state of each of its eight steps, and what is to be done next."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline_app.bench.arm.arm_points import points_against
from hingeline_app.bench.limits.which_row import Piece, is_for_another
from hingeline_app.bench.refit_checks import checks_against
from hingeline_app.bench.weighing.scale_against import NOT_CERTIFIED, scale_against
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.limits import SUPERSEDED
from hingeline_app.records.queries.matter import AGAIN, OPEN, RELEASED

STEPS = ("arrive", "limits", "weigh", "correct", "arm", "refit", "second-inspection", "release")
# open | done | held | not needed
OPEN_STEP, DONE, HELD, NOT_NEEDED = "open", "done", "held", "not needed"
INSIDE, ANOTHERS = "inside", "another"
# What was found there and speaks against a release: such a step is not done, whoever closed it before.
AGAINST = {"arm": points_against, "refit": checks_against}


@dataclass(frozen=True)
class StepState:
    """One step of a job."""

    name: str
    state: str
    why: str = ""


def states_of(job: JobRecord) -> tuple[StepState, ...]:
    """Give the state of each step, in their order."""
    said = {
        "arrive": _told(job, "arrive"),
        "limits": _limits(job),
        "weigh": _weigh(job),
        "correct": _correct(job),
        "arm": _told(job, "arm"),
        "refit": _told(job, "refit"),
        "second-inspection": StepState("second-inspection", DONE if job.second or job.standing(AGAIN) else OPEN_STEP),
        "release": StepState("release", DONE if job.state == RELEASED else OPEN_STEP),
    }
    return tuple(said[name] for name in STEPS)


def next_step(job: JobRecord) -> str:
    """Name the step where the next thing is to be done."""
    if job.state != OPEN:
        return "release"
    states = states_of(job)
    return next((each.name for each in states if each.state == OPEN_STEP), "release")


def is_weighed(job: JobRecord) -> bool:
    """Whether the last weighing has a result that nothing has overtaken."""
    last = job.weighing
    return bool(last and last.result and not last.is_stale and not job.weigh_again)


def statement_of(job: JobRecord) -> str | None:
    """Give the statement of the last weighing that still stands."""
    last = job.weighing
    if not is_weighed(job) or last is None or last.result is None:
        return None
    said = last.result.document.get("statement")
    return None if said is None else str(said)


def _weigh(job: JobRecord) -> StepState:
    """Give the state of the weighing: one on a scale without a certificate that day is to be done again."""
    against = scale_against(job.weighing)
    if against in NOT_CERTIFIED and not job.weigh_again:
        return StepState("weigh", OPEN_STEP, against)
    return StepState("weigh", DONE if is_weighed(job) else OPEN_STEP)


def _limits(job: JobRecord) -> StepState:
    """Give the state of the limits: a row that is superseded, or for another surface, is to be chosen anew."""
    row = job.limit_row
    if row is None:
        return StepState("limits", OPEN_STEP)
    if row.state == SUPERSEDED:
        return StepState("limits", OPEN_STEP, "superseded")
    return StepState("limits", OPEN_STEP, ANOTHERS) if has_row_of_another(job) else StepState("limits", DONE)


def has_row_of_another(job: JobRecord) -> bool:
    """Whether the row that was chosen is, after a correction of what was typed wrong, not this surface's."""
    piece = Piece(job.surface_name, job.aircraft_serial)
    return job.state == OPEN and job.limit_row is not None and is_for_another(job.limit_row, piece)


def _correct(job: JobRecord) -> StepState:
    if not is_weighed(job):
        return StepState("correct", OPEN_STEP)
    if statement_of(job) == INSIDE:
        return StepState("correct", NOT_NEEDED if job.fitted is None else DONE, "inside")
    return StepState("correct", OPEN_STEP)


def _told(job: JobRecord, name: str) -> StepState:
    """Read a step that a person closes: done, held or not needed with a reason; open again by what was found since."""
    told: Any = job.details.get(name)
    table: Mapping[str, Any] = told if isinstance(told, Mapping) else {}
    state = str(table.get("state") or OPEN_STEP)
    if state == DONE and job.state == OPEN and name in AGAINST and AGAINST[name](job):
        state = OPEN_STEP
    return StepState(name, state, str(table.get("reason") or ""))
