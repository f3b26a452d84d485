"""The weighings of a job before the one that is shown: one line each, and rows on one limit bar."""

from __future__ import annotations

from dataclasses import dataclass

from hingeline_app.bench.statement_shown import StatementShown, statement_shown
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord


@dataclass(frozen=True)
class Earlier:
    """One earlier weighing."""

    number: int
    statement: StatementShown | None
    readings: int


def earlier_weighings(job: JobRecord, shown: MeasurementRecord) -> tuple[Earlier, ...]:
    """Give the other weighings of the job, the last first."""
    others = [each for each in job.of_kind("weighing") if each.identifier != shown.identifier]
    return tuple(
        Earlier(each.number, statement_shown(each.result.document) if each.result else None, len(each.counting))
        for each in reversed(others)
    )
