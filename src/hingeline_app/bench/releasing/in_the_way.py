"""What is open before a release beside what the records themselves refuse: steps, findings, other limits."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from typing import NamedTuple

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.bench.arm.arm_points import points_against
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.bench.refit_checks import checks_against
from hingeline_app.bench.steps import HELD, OPEN_STEP, has_row_of_another, states_of
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import AGAIN

# What is in the way, by its name; the page has the words.
OTHER_LIMITS, STEP_OPEN, STEP_HELD = "other limits", "step open", "step held"
FOUND, NO_INSPECTION, QUERY_OPEN = "found", "no inspection", "query open"
BY_A_PERSON = ("arrive", "arm", "refit")


class InTheWay(NamedTuple):
    """One thing in the way: its name, the step where it is mended, what the job says of it."""

    name: str
    step: str
    said: str = ""


def in_the_way(job: JobRecord) -> list[InTheWay]:
    """Name what is in the way, in the order of the steps."""
    return [*_limits(job), *_steps(job), *_found(job), *_query(job), *_inspected(job)]


def rests_on_other_limits(job: JobRecord) -> bool:
    """Whether the last result was worked out from limits that are not those of the chosen row, as it is read now.

    Also where the row says the same, and its unit another number: kgf cm and lbf in once took the local gravity.
    """
    last = job.weighing
    if last is None or last.result is None or job.limit_row is None:
        return False
    asked = last.result.asked.get("limits")
    try:
        is_other = _without_empty(asked) != _without_empty(limits_table(job.limit_row))
    except InputRefused:
        return True
    return is_other or any(map(_is_converted_otherwise, (last.result.document.get("limits") or {}).values()))


def _is_converted_otherwise(end: object) -> bool:
    """Whether an end of the limits, as it was typed, says another moment today (decision 0216)."""
    if not isinstance(end, dict) or "typed" not in end or "local_gravity" not in end:
        return False
    for page in (False, True):
        with suppress(InputRefused):
            typed = read(end["typed"], "moment", local_gravity=end["local_gravity"], page=page)
            return typed.local_gravity is None and typed != end["value"]
    return False


def _without_empty(table: object) -> object:
    """Give a table without what is not stated, as a document spells it."""
    if isinstance(table, dict):
        left = {name: _without_empty(value) for name, value in table.items()}
        return {name: value for name, value in left.items() if value not in (None, "", [], {})}
    if isinstance(table, list | tuple):
        return [_without_empty(each) for each in table]
    return table


def _limits(job: JobRecord) -> Iterator[InTheWay]:
    if has_row_of_another(job):
        yield InTheWay(STEP_OPEN, "limits")
    if rests_on_other_limits(job):
        yield InTheWay(OTHER_LIMITS, "weigh")


def _steps(job: JobRecord) -> Iterator[InTheWay]:
    for each in states_of(job):
        if each.state == HELD:
            yield InTheWay(STEP_HELD, each.name, each.why)
        elif each.name in BY_A_PERSON and each.state == OPEN_STEP:
            yield InTheWay(STEP_OPEN, each.name)


def _found(job: JobRecord) -> Iterator[InTheWay]:
    yield from (InTheWay(FOUND, "arm", each) for each in points_against(job))
    yield from (InTheWay(FOUND, "refit", each) for each in checks_against(job))


def _query(job: JobRecord) -> Iterator[InTheWay]:
    asked = job.details.get("query")
    if isinstance(asked, dict) and asked.get("asked") and not asked.get("answer"):
        yield InTheWay(QUERY_OPEN, "release", str(asked["asked"]))


def _inspected(job: JobRecord) -> Iterator[InTheWay]:
    if job.second is None and job.standing(AGAIN) is None:
        yield InTheWay(NO_INSPECTION, "second-inspection")
