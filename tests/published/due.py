"""Compute the published and worked cases of what is due from what they state, through the doors a user goes through."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

from hingeline.due import Aircraft, Done, DueResult, Interval, Start, Task, TaskState, sign_off, what_is_due
from hingeline.due.forecast import Rate, days_until, rate_of, reached_between
from hingeline.due.months import add_months
from hingeline.due.retention import entered_by, kept_until
from hingeline.uncertainty.student import student_quantile
from hingeline_app.files.due_file import read_due

Inputs = Mapping[str, Any]
Outcome = dict[str, Any]
MONTH = 30


def compute(kind: str, inputs: Inputs) -> Outcome:
    """Compute one case."""
    return COMPUTE[kind](inputs)


def asked(text: str, on: date | None = None) -> DueResult:
    """Ask about a file."""
    question = read_due(text.encode(), on)
    return what_is_due(question.aircraft, question.parts, question.tasks, question.on)


def of(state: TaskState) -> Outcome:
    """Give what a case may expect of one task."""
    window, left, point = state.window, state.remaining, state.due_at
    return {
        "state": state.state,
        "binding": state.binding or "none",
        "due_hours": number(point.hours),
        "due_landings": point.landings,
        "due_date": text(state.due_date),
        "aircraft_hours": number(point.aircraft_hours),
        "hours_on_meter": number(point.hours_on_meter),
        "left_hours": number(left.hours),
        "left_landings": left.landings,
        "left_days": left.days,
        "window_from": number(window.from_.hours),
        "window_to": number(window.to.hours),
        "half_window": None
        if window.to.hours is None or point.hours is None
        else number(window.to.hours - point.hours),
        "window_from_date": text(window.from_.date),
        "window_to_date": text(window.to.date),
        "forecast_mid": None if state.forecast is None else text(state.forecast.mid),
    }


def number(value: Decimal | None) -> float | None:
    """Give the number as it would be printed."""
    return None if value is None else float(value)


def text(day: date | None) -> str | None:
    """Give a date as it is written."""
    return None if day is None else day.isoformat()


def file(inputs: Inputs) -> Outcome:
    """The state of each task of a file; of one task without a list."""
    result = asked(inputs["file"])
    found = [of(state) for state in result.tasks]
    every = {name: [each[name] for each in found] for name in found[0]}
    every["next_date"] = [text(then.due_date) for then in after_doing(inputs["file"], result)]
    one = every if len(found) > 1 else {name: values[0] for name, values in every.items()}
    part = number(result.parts[0].hours) if result.parts else None
    return one | {"aircraft_total": number(result.aircraft[0].hours), "part_hours": part}


def after_doing(text: str, result: DueResult) -> list[TaskState]:
    """The states after each dated task was done on its due date."""
    question = read_due(text.encode())
    tasks = [
        task if state.due_date is None or task.every is None or task.every.months is None
        else replace(task, done=(*task.done, Done(state.due_date)))
        for task, state in zip(question.tasks, result.tasks, strict=True)
    ]  # fmt: skip
    last = max([question.on, *(state.due_date for state in result.tasks if state.due_date is not None)])
    if all(task.every is not None and task.every.hours is None for task in tasks):
        return list(what_is_due(question.aircraft, question.parts, tasks, last).tasks)
    return list(result.tasks)


def by_reading(inputs: Inputs) -> Outcome:
    """The state on each day that a reading was taken."""
    found = [
        of(asked(inputs["file"].replace("HOURS", str(hours)), date.fromisoformat(day)).tasks[0])
        for day, hours in inputs["readings"]
    ]
    one = {name: found[0][name] for name in ("due_hours", "due_date")}
    return one | {"states": [each["state"] for each in found], "binding": [each["binding"] for each in found]}


def drift(inputs: Inputs) -> Outcome:
    """Where a task is done that is always late, by two rules."""
    return {"from_due": _late(inputs, "due"), "from_done": _late(inputs, "done")}


def _late(inputs: Inputs, rule: Any) -> list[float]:
    every, late = Decimal(str(inputs["every"])), Decimal(str(inputs["late"]))
    task = Task("check", "T2-03", source="manual", start=Start(total_hours=every), every=Interval(every))
    task, found = replace(task, counts_from=rule), []
    for index in range(inputs["times"]):
        on = date(2027, 1, 1) + timedelta(30 * index)
        hours = Decimal(str(found[-1])) if found else Decimal(0)
        due = what_is_due([Aircraft("T2-03", hours)], [], [task], on).tasks[0].due_at.hours
        assert due is not None
        found.append(float(due + late))
        task = sign_off(task, Done(on, due + late))
    return found


def months(inputs: Inputs) -> Outcome:
    """Months added to dates."""
    pairs = zip(inputs["from"], inputs["months"], strict=True)
    return {"dates": [add_months(date.fromisoformat(day), number).isoformat() for day, number in pairs]}


def monthly(inputs: Inputs) -> Outcome:
    """The due dates of a monthly task that is always done on the day."""
    day = date.fromisoformat(inputs["from"])
    task = Task("check", "T2-03", source="manual", every=Interval(months=1), counts_from="due", done=(Done(day),))
    found = []
    for _ in range(inputs["times"]):
        due = what_is_due([Aircraft("T2-03")], [], [task], day).tasks[0].due_date
        assert due is not None
        found.append(due.isoformat())
        task, day = sign_off(task, Done(due)), due
    return {"dates": found}


def forecast(inputs: Inputs) -> Outcome:
    """When a number of hours is reached, the rate being known."""
    early, late = reached_between(inputs["left"], inputs["rate"], inputs["quantile"] * inputs["spread"])
    return {"early": early, "middle": inputs["left"] / inputs["rate"], "late": late}


def first_passage(inputs: Inputs) -> Outcome:
    """The same by the walk's first passage, from a reference library."""
    from scipy.stats import invgauss

    mean, shape = inputs["left"] / inputs["rate"], (inputs["left"] / inputs["spread"]) ** 2
    months = [float(invgauss.ppf(chance, mean / shape, scale=shape)) for chance in (0.025, 0.5, 0.975)]
    ours = forecast(inputs)
    pairs = zip((ours["early"], ours["middle"], ours["late"]), months, strict=True)
    return {"months": months, "ours_over_these": [one / other for one, other in pairs]}


def rate(inputs: Inputs) -> Outcome:
    """The rate of use from monthly totals, with the interval of its mean."""
    flown = [Decimal(str(hours)) for hours in inputs["monthly"]]
    days = [date(2026, 1, 1) + timedelta(MONTH * index) for index in range(len(flown) + 1)]
    totals = [sum(flown[:index], Decimal(0)) for index in range(len(flown) + 1)]
    found = rate_of(days, totals, days[-1])
    assert isinstance(found, Rate)
    spread = found.spread * MONTH**0.5
    mean = found.per_day * MONTH
    half = student_quantile(0.975, found.intervals - 1) * spread / len(flown) ** 0.5
    to_30 = days_until(30.0, found).mid / MONTH
    return {"mean": mean, "spread": spread, "low": mean - half, "high": mean + half, "months_to_30_h": to_30}


def retention(inputs: Inputs) -> Outcome:
    """Until when a release is kept, and by when the aircraft's record has it."""
    days = [date.fromisoformat(day) for day in inputs["released"]]
    return {"keep_until": [str(kept_until(day)) for day in days], "enter_by": [str(entered_by(day)) for day in days]}


COMPUTE: dict[str, Callable[[Inputs], Outcome]] = {
    "file": file,
    "by reading": by_reading,
    "drift": drift,
    "months": months,
    "monthly": monthly,
    "forecast": forecast,
    "first passage": first_passage,
    "rate": rate,
    "retention": retention,
}
