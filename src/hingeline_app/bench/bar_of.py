"""The limit bar of a job: its last weighing that still stands, or its limits alone."""

from __future__ import annotations

from hingeline.errors import InputRefused
from hingeline.units import STANDARD_GRAVITY, read
from hingeline_app.bench.limits.limits_of import limits_table
from hingeline_app.bench.steps import is_weighed
from hingeline_app.figures import LimitBar
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.limits import RowRecord
from hingeline_app.report.pictures import limit_bar


def bar_of(job: JobRecord) -> LimitBar | None:
    """Give the bar of a job; None without limits and without a weighing that stands."""
    last = job.weighing
    if is_weighed(job) and last is not None and last.result is not None:
        return limit_bar(last.result.document)
    return bar_of_row(job.limit_row, job.local_gravity)


def bar_of_row(row: RowRecord | None, local_gravity: str = "") -> LimitBar | None:
    """Give the limits of a row alone; None where it states no moment that is understood, or may not be seen.

    Limits of an in-lb or a kg cm become newton metres by the gravity of the place where they are weighed against.
    """
    try:
        table, gravity = limits_table(row), read(local_gravity, "acceleration") if local_gravity else STANDARD_GRAVITY
        lower, upper = (
            read(table[name], "moment", local_gravity=gravity) if table.get(name) else None
            for name in ("lower", "upper")
        )
    except InputRefused:
        return None
    return None if lower is None and upper is None else LimitBar(None, lower=lower, upper=upper)
