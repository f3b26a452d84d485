"""A job whose work stops incomplete becomes what its paper says: why, how it is left, what is open."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from hingeline.errors import InputRefused
from hingeline_app.bench.on_paper.steps_told import steps_told
from hingeline_app.bench.steps import is_weighed, statement_of, states_of
from hingeline_app.bench.weighing.scale_against import is_not_used
from hingeline_app.figures.wording import format_measured
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.report.incomplete_work import IncompleteJob
from hingeline_app.report.quantities import expanded_of, value_of

SAID_APART = ("incomplete work",)


def is_stated(job: JobRecord) -> bool:
    """Whether somebody stated that the work stops here."""
    return job.state == OPEN and isinstance(job.details.get("incomplete"), Mapping)


def incomplete_of(job: JobRecord, in_the_way: Sequence[str]) -> IncompleteJob:
    """Compose what is printed.

    Raises
    ------
    InputRefused
        The job is closed, or nobody stated why its work stops.
    """
    if not is_stated(job):
        raise _refused(job)
    told = job.details["incomplete"]
    return IncompleteJob(
        number=f"{job.number:04d}",
        aircraft=f"{job.type_name} · {job.registration}",
        surface=", ".join(text for text in (job.surface_name, job.surface_serial) if text),
        reason=str(told.get("reason") or ""),
        stated=f"stated {told.get('on', '')}, {told.get('by', '')}",
        left=tuple(_left(job)),
        is_open=tuple(in_the_way),
    )


def _refused(job: JobRecord) -> InputRefused:
    """Say what to do: nobody can state of a closed job that its work stops."""
    expected, remedy = "a job that is still open", "Print its worksheet: it says how the job ended."
    if job.state == OPEN:
        expected = "a job whose work was stated to stop incomplete"
        remedy = "State on its step Release why the work stops and how it is left."
    return InputRefused.of("incomplete work", f"job {job.number:04d}", expected, remedy)


def _left(job: JobRecord) -> Iterator[str]:
    yield "; ".join(f"{each.name.replace('-', ' ').capitalize()}: {each.state}" for each in states_of(job))
    yield _weighed(job)
    for line in steps_told(job):
        if line.step == "Between" and line.what not in SAID_APART:
            yield f"{line.what}: {line.said}"


def _weighed(job: JobRecord) -> str:
    last = job.weighing
    if last is None or last.result is None:
        return "No weighing with a result."
    moment: Any = last.result.document.get("static_moment")
    value = value_of(moment)
    words = "no moment" if value is None else format_measured(value, expanded_of(moment), "N m", sense=True)
    # Without limits there is no statement, and nothing was changed all the same.
    now = (statement_of(job) or "no statement") if is_weighed(job) else "before the change"
    now = f"{now}: not used" if statement_of(job) and is_not_used(last) else now
    return f"Last weighing ({last.number}, {last.begun_on.isoformat()}): {words}, {now}."
