"""Why: one sentence or two for each state, as an engineer would say it."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from datetime import date as Date
from decimal import Decimal

from hingeline.due import words
from hingeline.due.counters import Counted
from hingeline.due.limits import Limit, Limits
from hingeline.due.model import Done, Task, Tolerance
from hingeline.due.reached import Reach, Reached
from hingeline.due.results import Forecast
from hingeline.due.task_checks import doubtful_tolerance
from hingeline.due.tolerances import Amounts

_OF_NOTHING = {
    "a limit in hours beside it": "counts for nothing, since the task has no limit in hours",
    "a limit in landings beside it": "counts for nothing, since the task has no limit in landings",
    "a limit by date beside it": "counts for nothing, since the task has no limit by date",
}


def because(
    task: Task, state: Reach, decides: Reached, found: Sequence[Reached], limits: Limits, whose: Counted
) -> str:
    """Say why a task is in its state."""
    lead = _unknown(found, task, whose) if state == "unknown" else _lead(state, decides, whose)
    return " ".join(part for part in (lead, _rule(task, decides.limit, limits), words.unused_tolerance(task)) if part)


def _lead(state: Reach, decides: Reached, whose: Counted) -> str:
    assert decides.left is not None
    left, counter, place = decides.left, decides.limit.counter, _place(decides.limit, whose)
    if state == "overdue":
        return f"Overdue by {_amount(-left, counter)}: due {place}{_has(decides, whose)}."
    if state == "coming":
        return f"{_amount(left, counter)} left: due {place}{_has(decides, whose)}."
    if left == 0:
        nothing = "Due today, its last usable day" if counter == "date" else "Due now, nothing is left"
        return f"{nothing}: due {place}."
    return f"Due, inside the tolerance that is allowed: due {place}{_has(decides, whose)}; {_rest(decides)}."


def _rest(decides: Reached) -> str:
    late, now, counter = decides.limit.late, decides.now, decides.limit.counter
    assert late is not None
    assert now is not None
    if counter == "date":
        rest = f"its last day is {words.day(Date.fromordinal(int(late)))}"
    else:
        rest = f"{_amount(late - now, counter)} of it left, up to {words.total(late, counter)}"
    return f"{rest}, where its source lets it be used"


def _amount(number: Decimal, counter: str) -> str:
    if counter == "hours":
        return f"{words.amount(number)} h"
    return words.landings(number) if counter == "landings" else words.days(int(number))


def _place(limit: Limit, whose: Counted) -> str:
    at = limit.at
    assert at is not None
    if limit.counter == "date":
        return f"on {words.day(Date.fromordinal(int(at)))}"
    if limit.counter == "landings":
        ahead = whose.ahead_landings
        there = "" if not whose.is_part or ahead is None else f" ({words.landings(at + ahead)} of {whose.aircraft})"
        return f"at {words.landings(at)}{' of the part' if whose.is_part else ' in all'}{there}"
    return f"at {words.hours(at)}{_elsewhere(at, whose)}"


def _elsewhere(at: Decimal, whose: Counted) -> str:
    """Say what the aircraft's total and its meter show there, where they differ from the total itself."""
    if not whose.is_part:
        return f" in all ({words.hours(at - whose.ahead_meter)} on the meter)" if whose.ahead_meter else " in all"
    if whose.ahead_hours is None:
        return " of the part"
    there = at + whose.ahead_hours
    meter = f", {words.hours(there - whose.ahead_meter)} on its meter" if whose.ahead_meter else ""
    return f" of the part ({words.hours(there)} of {whose.aircraft}{meter})"


def _has(decides: Reached, whose: Counted) -> str:
    if decides.limit.counter == "date" or decides.now is None:
        return ""
    return f", and {'the part' if whose.is_part else 'it'} has {words.total(decides.now, decides.limit.counter)}"


def _rule(task: Task, decides: Limit, limits: Limits) -> str:
    if task.every is None or decides.counting is None:
        which = " or ".join(dict.fromkeys(limit.why for limit in limits.group))
        several = len(limits.group) > 1
        joined = f", whichever comes {'first' if limits.join == 'first' else 'later'}" if several else ""
        cap = "".join(f"{', but ' if which else ''}{limit.why}" for limit in limits.in_any_case)
        return f"For the first time {which}{joined}{cap}."
    to_end = ", to the end of the month" if decides.counter == "date" and task.months_are == "calendar" else ""
    every = words.interval(task.every, limits.join)
    return f"It comes every {every}; {decides.why}{to_end}." if decides.why else f"It comes every {every}."


def _unknown(found: Sequence[Reached], task: Task, whose: Counted) -> str:
    missing = [each.limit.missing or _no_counter(each, whose) for each in found if each.reach == "unknown"]
    return f"Not known: {' and '.join(dict.fromkeys(missing))} are missing."


def _no_counter(each: Reached, whose: Counted) -> str:
    return f"the {each.limit.counter} of {whose.whose or whose.aircraft}"


# -------------------------------------------------------------------- without a limit


def not_applicable(task: Task) -> str:
    """Say why a task is not applicable."""
    return f"It does not apply here: it applies to {task.applies_to}." if task.applies_to else "It does not apply here."


def closed(task: Task, history: Sequence[Done]) -> str:
    """Say what closed a task."""
    ending = task.ends_with
    if ending is not None and ending.reopened is None:
        return f"Closed on {words.day(ending.date)} by {ending.by}."
    last = history[-1]
    at = "" if last.hours is None else f" at {words.hours(last.hours)}"
    after = f" after {task.event.what}" if task.event is not None else ""
    return f"Done{after} on {words.day(last.date)}{at}; it does not come again."


def never_recorded(task: Task) -> str:
    """Say what an unknown history means."""
    every = "" if task.every is None else f" It comes every {words.interval(task.every, task.join or 'first')}."
    return (
        "Not known: it is nowhere recorded as done, and no first time is given. Count it as never done: it comes "
        f"before the next flight, until a record is found.{every}"
    )


def before_next_flight(task: Task, *, reopened: bool) -> str:
    """Say why a task comes before the next flight."""
    if reopened and task.ends_with is not None and task.ends_with.reopened is not None:
        again = task.ends_with.reopened
        return (
            f"Open again, and due before the next flight: {again.what} on {words.day(again.date)}. It had been closed "
            f"by {task.ends_with.by}. Look whether the text lets this be fitted at all."
        )
    if task.event is None:
        return "Due before the next flight, until it is done."
    return f"Due before the next flight: {task.event.what} on {words.day(task.event.date)}."


# -------------------------------------------------------------------- notes


def notes_of(
    task: Task, found: Sequence[Reached], whose: Counted, tolerance: Amounts, forecast: Forecast | str | None, on: Date
) -> Iterator[str]:
    """Give what the reader must know beside the reason."""
    counters: set[str] = {each.limit.counter for each in found}
    if counters - {"date"} and whose.counted_on < on:
        old = words.days((on - whose.counted_on).days)
        yield f"The counters are those of {words.day(whose.counted_on)}, {old} before: read them again."
        if isinstance(forecast, Forecast) and forecast.low <= on:
            yield "By the past rate of use it may have been reached since."
    if isinstance(forecast, str):
        yield f"No forecast: {forecast}."
    if whose.is_part and not whose.aircraft:
        yield "The part is on no aircraft: its hours stand still, its calendar runs on."
    if any(each.reach == "unknown" for each in found) and forecast is not None:
        missing = dict.fromkeys(
            each.limit.missing or _no_counter(each, whose) for each in found if each.reach == "unknown"
        )
        yield f"Not known, and it does not decide yet: {' and '.join(missing)}."
    yield from _taken(task, counters)
    yield from _of_counting(task, found, tolerance)


def _taken(task: Task, counters: set[str]) -> Iterator[str]:
    """Name what was not written, and what was taken for it."""
    repeated, start = task.every is not None and bool(task.done), task.start
    if repeated and task.counts_from is None:
        yield 'Not written, so taken: it counts from "done". Look what its source says.'
    of = task.join if repeated else start.join if start is not None else task.join
    if of is None and (len(counters) > 1 or _two_of_one(task, repeated=repeated)):
        yield 'Not written, so taken: the "first" of its limits counts. Look what its source says.'
    if repeated and task.every is not None and task.every.months is not None and task.months_are is None:
        yield 'Not written, so taken: months to the same day, "anniversary". Look what its source says.'
    if task.tolerance is not None and task.source is None:
        yield "No source is given, so the tolerance is not used."
    yield from _doubtful(task)


def _doubtful(task: Task) -> Iterator[str]:
    """Tell what a tolerance says that is surely not meant."""
    for each in doubtful_tolerance("", task):
        given = words.tolerance(Tolerance(**{each.field[1:]: getattr(task.tolerance, each.field[1:])}))
        why = _OF_NOTHING.get(each.expected) or "is as long as its interval"
        yield f"The tolerance of {given} {why}. Look what its source says, and mend the task."


def _two_of_one(task: Task, *, repeated: bool) -> bool:
    start = task.start
    if repeated or start is None:
        return False
    hours = start.total_hours is not None and start.within_hours is not None
    return hours or (start.total_landings is not None and start.within_landings is not None)


def _of_counting(task: Task, found: Sequence[Reached], tolerance: Amounts) -> Iterator[str]:
    """Name a due point that the history does not know, and one that was forestalled by far."""
    if task.counts_from in (None, "done") or not task.done or task.every is None:
        return
    for each in found:
        counting = each.limit.counting
        if counting is None or counting.base is None:
            continue
        if counting.due is None:
            yield (
                f"Where it was due ({each.limit.counter}) when it was done on {words.day(_last(task).date)} is not "
                "recorded, so it counts from done. If it was late then, the next comes earlier: look it up."
            )
        elif task.counts_from == "due" and _forestalled(each, _last(task), tolerance):
            yield (
                "It was done well before it was due, and by its rule the next still counts from where it was due: more "
                "than one interval lies between. Ask the source whether that is meant."
            )


def _last(task: Task) -> Done:
    return max(task.done, key=lambda done: done.date)


def _forestalled(each: Reached, last: Done, tolerance: Amounts) -> bool:
    counting = each.limit.counting
    assert counting is not None
    if counting.by != "due":
        return False
    if each.limit.counter == "hours" and last.hours is not None and isinstance(counting.due, Decimal):
        return last.hours < counting.due - tolerance.hours
    if each.limit.counter == "landings" and last.landings is not None and isinstance(counting.due, Decimal):
        return last.landings < counting.due - tolerance.landings
    return False
