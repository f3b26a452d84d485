"""A Merle T2 at Fenholt with a task that was done once and put off, a reading, and a private calendar address."""

from __future__ import annotations

from datetime import timedelta
from decimal import Decimal
from typing import Any

from hingeline import due
from hingeline_app.records.actions.aircraft import add_aircraft
from hingeline_app.records.actions.calendar_feeds import make_feed
from hingeline_app.records.actions.counters import read_counter
from hingeline_app.records.actions.signing_off import DoneAs, put_off, sign_off
from hingeline_app.records.actions.tasks import Line, add_tasks
from hingeline_app.records.dates import today
from hingeline_app.records.models import Aircraft, CalendarFeed, CounterReading, Deferral, SignOff, Task
from tests.hingeline_app.web.conftest import Fenholt

RULE = due.Task(
    "arm check",
    source="manual",
    every=due.Interval(hours=Decimal(100)),
    tolerance=due.Tolerance(hours=Decimal(10)),
    counts_from="done",
)
_TOKENS: dict[Any, str] = {}


def told_in_the_hangar(fenholt: Fenholt, *, put_off: bool = False) -> dict[str, Any]:
    """Give identifiers that exist; made once in a test."""
    if not Aircraft.objects.filter(registration="D-MT03").exists():
        _tell(fenholt)
    row = Deferral.objects.get() if put_off else SignOff.objects.get()
    return {
        "aircraft": Aircraft.objects.get(registration="D-MT03").pk,
        "reading": CounterReading.objects.order_by("read_on", "shown").last().pk,  # type: ignore[union-attr]
        "task": Task.objects.get().pk,
        "row": row.pk,
        "token": _TOKENS[fenholt.workshop.pk],
    }


def _tell(fenholt: Fenholt) -> None:
    mate, on = fenholt.mate, today(fenholt.workshop)
    plane = add_aircraft(mate, "Merle T2", "D-MT03", "T2-03")
    (task,) = add_tasks(mate, [plane.pk], Line(RULE, check_points=("Weight tight, lock wire whole",)))
    sign_off(mate, task.pk, DoneAs(on - timedelta(9), Decimal("612.5"), paper="CRS 17", signer="H. Moss"))
    put_off(mate, task.pk, approval="Variation 3", reason="the hangar is full", until_hours=Decimal("720.25"))
    read_counter(mate, plane.pk, "hours", Decimal("640.0"), on)
    _TOKENS[fenholt.workshop.pk] = make_feed(fenholt.administrator)
    assert CalendarFeed.objects.count() == 1
