"""Every number and every day has its bounds: at both ends it is taken, and a step beyond it is refused by its name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest

from hingeline.due import (
    Aircraft,
    Done,
    Ending,
    Fitting,
    Happening,
    Interval,
    MeterChange,
    Part,
    Reading,
    Start,
    Task,
    Tolerance,
    what_is_due,
)
from hingeline.due.refusing import EARLIEST, LATEST, MOST_DAYS, MOST_HOURS, MOST_LANDINGS, MOST_MONTHS
from hingeline.errors import InputRefused
from tests.hingeline.due.building import ON, d

TENTH, DAY = Decimal("0.1"), timedelta(1)
HOURS = (Decimal(0), MOST_HOURS, TENTH)
SOME_HOURS = (TENTH, MOST_HOURS, TENTH)
LANDINGS, SOME_LANDINGS = (0, MOST_LANDINGS, 1), (1, MOST_LANDINGS, 1)
PAST, ANY_DAY = (EARLIEST, ON, DAY), (EARLIEST, LATEST, DAY)
EVENT = Happening(ON, "hard landing")

Asked = tuple[list[Aircraft], list[Part], list[Task], date]


def of_task(**given: Any) -> Asked:
    """A task with what is given, of an aircraft that nothing is known of."""
    return [Aircraft("T2-03")], [], [Task("check", "T2-03", source="manual", **given)], ON


def of_aircraft(**given: Any) -> Asked:
    """An aircraft with what is given."""
    return [Aircraft("T2-03", **given)], [], [], ON


def of_part(**given: Any) -> Asked:
    """A part that was on an aircraft which has left."""
    return [], [Part("arm", **given)], [], ON


def done(**given: Any) -> Asked:
    """A task with one sign-off."""
    return of_task(every=Interval(months=1), done=(Done(given.pop("date", ON), **given),))


def start(**given: Any) -> Asked:
    """A task with a start."""
    return of_task(start=Start(**{"effective": ON, "not_later_than": ON, **given}))


def tolerated(**given: Any) -> Asked:
    """A task with a tolerance, of limits in every counter that have no interval."""
    start = Start(total_hours=d(1), total_landings=1, not_later_than=ON)
    return of_task(start=start, tolerance=Tolerance(**given))


def reopened(**given: Any) -> Asked:
    """A task that was closed at the earliest day and opened again."""
    again = replace(EVENT, **given)
    return of_task(every=Interval(months=1), ends_with=Ending(EARLIEST, "new arm fitted", again))


def left_at(**given: Any) -> Asked:
    """A fitting that has ended; the aircraft's hours do not bound it, since it has left."""
    return of_part(fitted=(Fitting("T2-01", **{"from_": d(0), "to": MOST_HOURS, **given}),))


A, T, P = "aircraft[0]", "task[0]", "part[0]"
BOUNDS: list[tuple[str, Callable[[Any], Asked], tuple[Any, Any, Any]]] = [
    (f"{A}.hours", lambda x: of_aircraft(hours=x), HOURS),
    (f"{A}.hours_before_meter", lambda x: of_aircraft(hours_before_meter=x), HOURS),
    (f"{A}.landings", lambda x: of_aircraft(landings=x), LANDINGS),
    (f"{A}.counted_on", lambda x: of_aircraft(counted_on=x), PAST),
    (f"{A}.meter_changes[0].old", lambda x: of_aircraft(meter_changes=(MeterChange(ON, x),)), HOURS),
    (f"{A}.meter_changes[0].new", lambda x: of_aircraft(meter_changes=(MeterChange(ON, d(0), x),)), HOURS),
    (f"{A}.meter_changes[0].date", lambda x: of_aircraft(meter_changes=(MeterChange(x, d(0)),)), PAST),
    (f"{A}.readings[0].hours", lambda x: of_aircraft(readings=(Reading(ON, x),)), HOURS),
    (f"{A}.readings[0].landings", lambda x: of_aircraft(readings=(Reading(ON, None, x),)), LANDINGS),
    (f"{A}.readings[0].date", lambda x: of_aircraft(readings=(Reading(x, d(0)),)), PAST),
    (f"{P}.hours_when_new_fitted", lambda x: of_part(hours_when_new_fitted=x), HOURS),
    (f"{P}.landings_when_new_fitted", lambda x: of_part(landings_when_new_fitted=x), LANDINGS),
    (f"{P}.fitted[0].from", lambda x: left_at(from_=x), HOURS),
    (f"{P}.fitted[0].to", lambda x: left_at(to=x), HOURS),
    (f"{P}.fitted[0].from_landings", lambda x: left_at(from_landings=x), LANDINGS),
    (f"{P}.fitted[0].to_landings", lambda x: left_at(to_landings=x), LANDINGS),
    (f"{T}.every.hours", lambda x: of_task(every=Interval(x)), SOME_HOURS),
    (f"{T}.every.landings", lambda x: of_task(every=Interval(landings=x)), SOME_LANDINGS),
    (f"{T}.every.months", lambda x: of_task(every=Interval(months=x)), (1, MOST_MONTHS, 1)),
    (f"{T}.every.days", lambda x: of_task(every=Interval(days=x)), (1, MOST_DAYS, 1)),
    (f"{T}.tolerance.hours", lambda x: tolerated(hours=x), HOURS),
    (f"{T}.tolerance.landings", lambda x: tolerated(landings=x), LANDINGS),
    (f"{T}.tolerance.months", lambda x: tolerated(months=x), (0, MOST_MONTHS, 1)),
    (f"{T}.tolerance.days", lambda x: tolerated(days=x), (0, MOST_DAYS, 1)),
    (f"{T}.tolerance.percent", lambda x: tolerated(percent=x), (Decimal(0), Decimal(50), TENTH)),
    (f"{T}.tolerance.at_most_hours", lambda x: tolerated(at_most_hours=x), HOURS),
    (f"{T}.tolerance.at_most_landings", lambda x: tolerated(at_most_landings=x), LANDINGS),
    (f"{T}.tolerance.at_most_days", lambda x: tolerated(at_most_days=x), (0, MOST_DAYS, 1)),
    (f"{T}.start.total_hours", lambda x: start(total_hours=x), SOME_HOURS),
    (f"{T}.start.within_hours", lambda x: start(within_hours=x), HOURS),
    (f"{T}.start.hours_at_effective", lambda x: start(hours_at_effective=x), HOURS),
    (f"{T}.start.total_landings", lambda x: start(total_landings=x), LANDINGS),
    (f"{T}.start.within_landings", lambda x: start(within_landings=x), LANDINGS),
    (f"{T}.start.landings_at_effective", lambda x: start(landings_at_effective=x), LANDINGS),
    (f"{T}.start.within_months", lambda x: start(within_months=x), (0, MOST_MONTHS, 1)),
    (f"{T}.start.within_days", lambda x: start(within_days=x), (0, MOST_DAYS, 1)),
    (f"{T}.start.effective", lambda x: start(effective=x), ANY_DAY),
    (f"{T}.start.not_later_than", lambda x: start(not_later_than=x), ANY_DAY),
    (f"{T}.done[0].date", lambda x: done(date=x), PAST),
    (f"{T}.done[0].hours", lambda x: done(hours=x), HOURS),
    (f"{T}.done[0].landings", lambda x: done(landings=x), LANDINGS),
    (f"{T}.done[0].due_hours", lambda x: done(due_hours=x), HOURS),
    (f"{T}.done[0].due_landings", lambda x: done(due_landings=x), LANDINGS),
    (f"{T}.done[0].due_date", lambda x: done(due_date=x), ANY_DAY),
    (f"{T}.event.date", lambda x: of_task(before_next_flight=True, event=replace(EVENT, date=x)), PAST),
    (f"{T}.event.hours", lambda x: of_task(before_next_flight=True, event=replace(EVENT, hours=x)), HOURS),
    (f"{T}.ends_with.date", lambda x: of_task(ends_with=Ending(x, "new arm fitted")), PAST),
    (f"{T}.ends_with.reopened.date", lambda x: reopened(date=x), PAST),
    (f"{T}.ends_with.reopened.hours", lambda x: reopened(hours=x), HOURS),
    ("on", lambda x: ([], [], [], x), ANY_DAY),
]


def refused(asked: Asked) -> list[str]:
    """The fields that are refused."""
    try:
        what_is_due(*asked)
    except InputRefused as refusal:
        return [one.field for one in refusal.refusals]
    return []


@pytest.mark.parametrize(("field", "asked", "bounds"), BOUNDS, ids=[row[0] for row in BOUNDS])
def test_both_bounds_are_taken_and_a_step_beyond_each_is_refused(
    field: str, asked: Callable[[Any], Asked], bounds: tuple[Any, Any, Any]
) -> None:
    """Of one field, by its own name; nothing else is refused beside it."""
    low, high, step = bounds
    assert [refused(asked(value)) for value in (low, high)] == [[], []]
    beyond = [refused(asked(value)) for value in (low - step, high + step)]
    assert [set(fields) for fields in beyond] == [{field}, {field}]


def test_the_bounds_are_beyond_every_light_aircraft() -> None:
    """Ours, no source: three centuries, 200,000 h, a million landings, a hundred years of interval."""
    assert (date(1900, 1, 1), date(2199, 12, 31)) == (EARLIEST, LATEST)
    assert (MOST_HOURS, MOST_LANDINGS, MOST_MONTHS, MOST_DAYS) == (200_000, 1_000_000, 1200, 36_500)


@pytest.mark.parametrize("number", ["NaN", "sNaN", "Infinity", "-Infinity"])
@pytest.mark.parametrize(
    ("field", "asked"), [row[:2] for row in BOUNDS if isinstance(row[2][0], Decimal)],
    ids=[row[0] for row in BOUNDS if isinstance(row[2][0], Decimal)],
)  # fmt: skip
def test_what_is_no_number_is_refused(field: str, asked: Callable[[Any], Asked], number: str) -> None:
    """Neither not a number nor without end: refused by the field's own name."""
    assert field in refused(asked(Decimal(number)))


@pytest.mark.parametrize("number", ["NaN", "sNaN", "Infinity", "-Infinity"])
def test_what_is_no_number_is_refused_beside_others(number: str) -> None:
    """Where it would be compared or added: two fittings on one aircraft, a changed meter under a part. No crash."""
    none = Decimal(number)
    fittings = (Fitting("T2-03", from_=d("10"), to=d("20")), Fitting("T2-03", from_=none, to=none))
    assert {"part[0].fitted[1].from", "part[0].fitted[1].to"} <= set(refused(of_part(fitted=fittings)))
    changed = (MeterChange(ON, old=none, new=none),)
    plane = Aircraft("T2-03", hours=d("100"), meter_changes=changed)
    assert "aircraft[0].meter_changes[0].old" in refused(([plane], [Part("arm", fitted=fittings[:1])], [], ON))
