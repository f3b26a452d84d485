"""What the history of a task must fulfil: no day to come, no counter that runs backwards."""

from __future__ import annotations

import itertools
from collections.abc import Iterator, Sequence
from datetime import date as Date
from decimal import Decimal

from hingeline.due.counters import Counted, Past
from hingeline.due.model import Done, Task
from hingeline.due.refusing import (
    EARLIEST,
    LATEST,
    MOST_HOURS,
    MOST_LANDINGS,
    count_fault,
    day_fault,
    fault,
    hours_fault,
)
from hingeline.errors import Refusal


def history_faults(place: str, task: Task, known: Counted | None, on: Date) -> Iterator[Refusal]:
    """Find what is wrong with the history of a task, by itself and beside the counters."""
    if not task.done:
        return
    plain = [
        refusal
        for index, done in enumerate(task.done)
        if not _ordinary(done, on)
        for refusal in done_faults(f"{place}.done[{index}]", done, on)
    ]
    yield from plain
    if plain:
        return
    if not in_order(task.done):
        yield from _backwards(place, task.done)
    if known is not None:
        for index, done in enumerate(task.done):
            yield from _beside_counters(f"{place}.done[{index}]", done, known)


def _ordinary(done: Done, on: Date) -> bool:
    """Say quickly that nothing can be wrong with a sign-off by itself: most of them are so."""
    hours, landings = done.hours, done.landings
    return (
        EARLIEST <= done.date <= on
        and (hours is None or (hours.is_finite() and 0 <= hours <= MOST_HOURS))
        and (landings is None or 0 <= landings <= MOST_LANDINGS)
        and done.due_hours is None
        and done.due_landings is None
        and done.due_date is None
    )


def place_of(done: Done) -> tuple[Date, Decimal, int]:
    """Give the place of a sign-off in its history: by day, then hours, then landings."""
    return done.date, Decimal(-1) if done.hours is None else done.hours, done.landings or 0


def in_order(history: Sequence[Done]) -> bool:
    """Say quickly that each sign-off is of a later day than the one before, at no fewer hours and landings."""
    return all(_follows(other, one) for one, other in itertools.pairwise(history))


def _follows(done: Done, before: Done) -> bool:
    hours, landings = done.hours, done.landings
    return (
        before.date < done.date
        and hours is not None
        and before.hours is not None
        and before.hours <= hours
        and (landings is None) == (before.landings is None)
        and (landings is None or before.landings is None or before.landings <= landings)
    )


def done_faults(place: str, done: Done, on: Date) -> Iterator[Refusal]:
    """Find what is wrong with one sign-off by itself."""
    yield from day_fault(f"{place}.date", done.date, on)
    for name in ("hours", "due_hours"):
        yield from hours_fault(f"{place}.{name}", getattr(done, name))
    for name in ("landings", "due_landings"):
        yield from count_fault(f"{place}.{name}", getattr(done, name), "landings", MOST_LANDINGS)
    if done.due_date is not None and not EARLIEST <= done.due_date <= LATEST:
        yield fault(f"{place}.due_date", done.due_date, "a day from 1900 to 2199", "Check the year.")


def _backwards(place: str, history: Sequence[Done]) -> Iterator[Refusal]:
    """Find what was done later at fewer hours, and what stands twice."""
    order = sorted(range(len(history)), key=lambda index: place_of(history[index]))
    for one, other in itertools.pairwise(order):
        if history[one] == history[other]:
            yield fault(
                f"{place}.done[{other}]", history[other].date, "each time once", "It stands twice: take one out."
            )
    for name in ("hours", "landings"):
        last: tuple[int, Decimal | int] | None = None
        for index in order:
            value = getattr(history[index], name)
            if value is None:
                continue
            if last is not None and value < last[1]:
                before = history[last[0]].date
                remedy = "Counters do not run backwards: check the dates and the digits. These are totals."
                yield fault(f"{place}.done[{index}].{name}", value, f"at least {last[1]}, as on {before}", remedy)
            last = index, value


def _beside_counters(place: str, done: Done, known: Counted) -> Iterator[Refusal]:
    if done.hours is not None and not _between(done.hours, done.date, known.hours, known.past_hours):
        yield from _beside(f"{place}.hours", done.hours, done.date, known.hours, known.past_hours, known)
    if done.landings is not None:
        landings = Decimal(done.landings)
        if not _between(landings, done.date, known.landings, known.past_landings):
            yield from _beside(f"{place}.landings", landings, done.date, known.landings, known.past_landings, known)


def _between(value: Decimal, day: Date, now: Decimal | None, past: Past) -> bool:
    """Say quickly that a total lies between its neighbours: most of them do."""
    if now is None or value > now:
        return False
    before, after = past.beside(day)
    return (before is None or value >= before) and (after is None or value <= after)


def _beside(
    field: str, value: Decimal, day: Date, now: Decimal | None, past: Past, known: Counted
) -> Iterator[Refusal]:
    totals = "These are totals of the part." if known.is_part else "These are totals, not what the meter shows."
    # Hours that were counted before the task was done say nothing about it.
    if now is not None and value > now and day <= known.counted_on:
        yield fault(field, value, f"at most the {now} that {known.whose} has", f"{totals} Check both.")
        return
    before, after = past.beside(day)
    if before is not None and value < before:
        yield fault(
            field, value, f"at least the {before} read before {day}", f"{totals} Check the reading and the digits."
        )
    elif after is not None and value > after:
        yield fault(
            field, value, f"at most the {after} read after {day}", f"{totals} Check the reading and the digits."
        )
