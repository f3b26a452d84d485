"""The weighings of a job before the one that is shown: one line each, and rows on one limit bar."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from hingeline_app.bench.weighing.scale_against import is_not_used
from hingeline_app.bench.weighing.statement_shown import StatementShown, statement_shown
from hingeline_app.bench.weighing.weighing_shown import NARROW, WIDE, Picture
from hingeline_app.figures.limits.rows import draw_limit_rows
from hingeline_app.records.queries.jobs import JobRecord, MeasurementRecord
from hingeline_app.report.pictures import limit_bar


@dataclass(frozen=True)
class Earlier:
    """One earlier weighing."""

    number: int
    statement: StatementShown | None
    readings: int
    not_used: bool = False


def earlier_weighings(job: JobRecord, shown: MeasurementRecord) -> tuple[Earlier, ...]:
    """Give the other weighings of the job, the last first."""
    others = [each for each in job.of_kind("weighing") if each.identifier != shown.identifier]
    return tuple(
        Earlier(
            each.number,
            statement_shown(each.result.document) if each.result else None,
            len(each.counting),
            is_not_used(each),
        )
        for each in reversed(others)
    )


def weighings_drawn(job: JobRecord, shown: MeasurementRecord, document: Mapping[str, Any] | None) -> Picture | None:
    """Draw all recorded weighings with the one that is shown on one limit bar; None where there is only one."""
    rows = [
        (f"Weighing {each.number}", limit_bar(each.result.document))
        for each in job.of_kind("weighing")
        if each.identifier != shown.identifier and each.result
    ]
    if not rows or document is None:
        return None
    rows = sorted([*rows, (f"Weighing {shown.number}", limit_bar(document))], key=lambda row: int(row[0].split()[1]))
    return Picture(draw_limit_rows(rows, WIDE), draw_limit_rows(rows, NARROW))
