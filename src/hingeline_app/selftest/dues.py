"""How each published case of what is due is computed: through the room's own door."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from decimal import Decimal
from typing import Any

from hingeline.due import Aircraft, Done, Interval, Task, TaskState, Tolerance, what_is_due

Inputs = Mapping[str, Any]
Found = Mapping[str, float | None]
ON = date(2027, 3, 12)


def next_hours(inputs: Inputs) -> Found:
    """Give the next due points in hours after sign-offs of one rule, early, on the point or late."""
    every, most = Decimal(inputs["every"]), Decimal(inputs["tolerance"])
    found: dict[str, float | None] = {}
    for name, done, due in zip(inputs["names"], inputs["done"], inputs["due"], strict=True):
        at = Done(date(2026, 11, 2), Decimal(done), due_hours=Decimal(due))
        task = Task("check", "T2-03", source="manual", every=Interval(hours=every), tolerance=Tolerance(hours=most),
                    counts_from=inputs["rule"], done=(at,))  # fmt: skip
        point = _asked(task, Decimal(done), ON).due_at.hours
        found[name] = None if point is None else float(point)
    return found


def last_days(inputs: Inputs) -> Found:
    """Give the last usable day, as year, month and day in one number, of a check by months."""
    found: dict[str, float | None] = {}
    for name, done, months_are in zip(inputs["names"], inputs["done"], inputs["months_are"], strict=True):
        on = date.fromisoformat(done)
        task = Task("check", "T2-03", source="programme", every=Interval(months=inputs["months"]),
                    months_are=months_are, counts_from="done", done=(Done(on),))  # fmt: skip
        last = _asked(task, Decimal(0), on).due_date
        found[name] = None if last is None else float(f"{last:%Y%m%d}")
    return found


def _asked(task: Task, hours: Decimal, on: date) -> TaskState:
    (state,) = what_is_due([Aircraft("T2-03", hours)], [], [task], on).tasks
    return state


OF_DUES: dict[str, Callable[[Inputs], Found]] = {"next hours": next_hours, "last days": last_days}
