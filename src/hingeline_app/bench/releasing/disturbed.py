"""What was disturbed, proposed from what the job says was done: the worker edits it before asking for a look."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from hingeline_app.bench.arriving.as_fitted import OFF
from hingeline_app.bench.refit_checks import row_of, told_in
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.treatment import treated_after


class Proposed(NamedTuple):
    """An item for the second inspection, and what the first person says of it."""

    name: str
    tick: str


def proposed(job: JobRecord) -> list[Proposed]:
    """Propose the items."""
    return [*_fitted(job), *_off(job), *_arm(job), *_refitted(job)]


def _fitted(job: JobRecord) -> Iterator[Proposed]:
    if job.fitted is not None:
        yield Proposed("Balance weight fastened and locked", "fitted and locked")


def _off(job: JobRecord) -> Iterator[Proposed]:
    """Whatever Arrive says was off has to be back."""
    fitted = value_at(job.details, "arrive.fitted")
    names = [name for name, state in fitted.items() if state == OFF] if isinstance(fitted, dict) else []
    for name in sorted(names):
        yield Proposed(
            f"{str(name).replace('_', ' ').capitalize()}: connected and locked again", "connected and locked"
        )


def _arm(job: JobRecord) -> Iterator[Proposed]:
    if treated_after(job.details) >= 0:
        yield Proposed("Weight arm: treated, weight back in its place", "in place")
    if value_at(job.details, "arm.state") == "done":
        yield Proposed("Weight arm fastened and locked", "locked")


def _refitted(job: JobRecord) -> Iterator[Proposed]:
    for each in told_in(job):
        row = row_of(job, each.name)
        if row is not None and row.get("finding") != "not needed":
            yield Proposed(each.words, str(row.get("measured") or "right"))
