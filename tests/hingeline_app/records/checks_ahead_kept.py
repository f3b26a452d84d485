"""A crack check and a yearly one as the records keep them, with readings and a sign-off on paper."""

from __future__ import annotations

from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from hingeline import due
from hingeline_app.records.actions.counters import read_counter
from hingeline_app.records.actions.signing_off import DoneAs
from hingeline_app.records.actions.tasks import Line, add_tasks
from hingeline_app.records.dates import today
from hingeline_app.records.models import CounterReading
from hingeline_app.records.queries.checks_ahead import checks_ahead
from tests.hingeline_app.records.merle import Merle
from tests.hingeline_app.records.workshop import Fenholt

HUNDRED = due.Task("crack check", source="directive", every=due.Interval(hours=Decimal(100)), counts_from="done")
YEARLY = due.Task(
    "annual check", source="programme", every=due.Interval(months=12), months_are="anniversary", counts_from="done"
)


def days_ago(shop: Fenholt, days: int) -> date:
    return today(shop.workshop) - timedelta(days)


def flown(job: Merle, shown: str, days: int, counter: str = "hours") -> CounterReading:
    return read_counter(job.shop.anna, job.aircraft.pk, counter, Decimal(shown), days_ago(job.shop, days))


def task(job: Merle, rule: due.Task = HUNDRED) -> Any:
    (made,) = add_tasks(job.shop.anna, [job.aircraft.pk], Line(rule))
    return made


def on_paper(job: Merle, days: int, hours: str | None = None) -> DoneAs:
    return DoneAs(days_ago(job.shop, days), None if hours is None else Decimal(hours), paper="CRS 17", signer="H. Moss")


def state(job: Merle, name: str = "crack check", viewer: Any = None) -> due.TaskState:
    checks = checks_ahead((viewer or job.shop.anna).person).checks
    (found,) = [each.state for each in checks if each.task.name == name]
    return found
