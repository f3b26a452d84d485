"""The page of ``hingeline due``: what presses first, then why, task by task."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from datetime import date
from decimal import Decimal
from typing import Any

from hingeline.due import words
from hingeline_app.cli.page import Page

Document = Mapping[str, Any]

# Nothing here is green: a task that is not due yet says nothing about the aircraft.
PRESSING = {
    "overdue": ("Overdue", "[!!]", "bold red"),
    "due": ("Due", "[! ]", "bold yellow"),
    "unknown": ("Not known", "[? ]", "bold yellow"),
}
LATER = {"coming": "Coming", "closed": "Closed", "not applicable": "Not applicable"}


def show_due(document: Document, visits: Sequence[str]) -> None:
    """Show what is due, and why."""
    page = Page()
    tasks = document["tasks"]
    page.title("What is due", f"asked about {_day(document['on'])}")
    page.finding(*_finding(tasks))
    page.table("", ["task", "of", "state", "due", "left"], map(_row, sorted(tasks, key=_urgency)))
    for state, (heading, _, _) in PRESSING.items():
        page.sentences(heading, _why(tasks, state))
    for state, heading in LATER.items():
        page.sentences(heading, _why(tasks, state))
    page.sentences("Falls together, within 10 h or 30 days", visits)
    page.pairs(_totals(document), "Counters")
    page.cautions(document["cautions"])
    page.show()


def _finding(tasks: Sequence[Document]) -> tuple[str, str, list[str], str]:
    counts = {state: sum(task["state"] == state for task in tasks) for state in (*PRESSING, *LATER)}
    worst = next((state for state in PRESSING if counts[state]), None)
    told = ", ".join(f"{count} {state}" for state, count in counts.items() if count) or "No task"
    if worst is None:
        return "[  ]", told, ["By what was typed in, none of these tasks is due on that day."], "bold"
    _, shape, colour = PRESSING[worst]
    return shape, told, ["What is overdue, due or not known comes before the next flight."], colour


def _urgency(task: Document) -> tuple[int, str]:
    """Sort by state, then by when it is expected; what nobody can date stands behind."""
    order = [*PRESSING, *LATER]
    forecast = task["forecast"]
    return order.index(task["state"]), (forecast and forecast["mid"]) or task["due_date"] or "9999"


def _row(task: Document) -> list[str]:
    return [task["name"], task["part"] or task["aircraft"], task["state"], _due(task), _left(task)]


def _due(task: Document) -> str:
    at, binds = task["due_at"], task["binding"] if _known(task) else None
    if binds == "hours":
        return words.hours(_decimal(at["hours"]))
    if binds == "landings":
        return words.landings(at["landings"])
    return _day(task["due_date"]) if binds == "date" else "next flight" if binds else "—"


def _left(task: Document) -> str:
    left, binds = task["remaining"], task["binding"] if _known(task) else None
    if binds == "hours":
        return f"{words.amount(_decimal(left['hours']))} h"
    number = {"landings": f"{left['landings']}", "date": f"{left['days']} d"}.get(binds or "", "—")
    return number.replace("-", "\u2212")


def _known(task: Document) -> bool:
    return task["state"] in ("overdue", "due", "coming")


def _why(tasks: Sequence[Document], state: str) -> Iterator[str]:
    for task in tasks:
        if task["state"] == state:
            name = ", ".join(each for each in (task["name"], task["part"], task["aircraft"]) if each)
            source = f" ({task['source'] or 'no source'}{': ' if task['reference'] else ''}{task['reference']})"
            yield " ".join([f"{name}{source}: {task['because']}", *_forecast(task), *task["notes"]])


def _forecast(task: Document) -> Iterator[str]:
    forecast = task["forecast"]
    if forecast is not None:
        high = f"to {_day(forecast['high'])}" if forecast["high"] else "with no late end"
        yield f"Forecast: {_day(forecast['low'])} {high}, the middle {_day(forecast['mid'])}; an estimate."


def _totals(document: Document) -> Iterator[tuple[str, str]]:
    for each in document["aircraft"]:
        rate = each["hours_per_day"]
        used = f"; {30.0 * rate:.1f} h in 30 days by its readings" if rate is not None else ""
        yield each["name"], f"{_flown(each)}, counted on {_day(each['counted_on'])}{used}"
    for each in document["parts"]:
        place = f"on {each['aircraft']}" if each["aircraft"] else "on no aircraft"
        yield each["name"], f"{_flown(each)}, {place}"


def _flown(each: Document) -> str:
    hours = "hours not known" if each["hours"] is None else f"{words.hours(_decimal(each['hours']))} in all"
    return hours if each["landings"] is None else f"{hours}, {words.landings(each['landings'])}"


def _decimal(number: float) -> Decimal:
    return Decimal(repr(number))


def _day(text: str) -> str:
    return words.day(date.fromisoformat(text))
