"""Where two numbers stand in an order, equal is taken and a step the wrong way is refused by the field's own name."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest

from hingeline.due import Ending, Fitting, Happening, Interval, MeterChange, Part, Reading, Task, Tolerance
from hingeline.due.next_point import counts_from_due
from hingeline.due.reasons import never_recorded
from tests.hingeline.due.building import ON, d, day, done, plane, task
from tests.hingeline.due.test_bounds import Asked, refused

EARLIER = ON - timedelta(10)
HOURLY = task(every=Interval(d(100)), counts_from="done")
BY_LANDINGS = task(every=Interval(landings=100), counts_from="done")


def fitted(*fittings: Fitting) -> Asked:
    """A part of the one aircraft, which has 1000 h and 500 landings."""
    return [plane(1000.0, 500)], [Part("arm", d(0), 0, fittings)], [], ON


def signed(one: Task, *times: Any, **aircraft: Any) -> Asked:
    """A task of the one aircraft with its sign-offs."""
    return [plane(1000.0, 500, **aircraft)], [], [replace(one, done=times)], ON


def tolerated(interval: Interval, tolerance: Tolerance) -> Asked:
    """A task with its tolerance."""
    return [plane()], [], [task(every=interval, tolerance=tolerance)], ON


READ = (Reading(EARLIER, d(900), 400),)
LATER_READ = (Reading(EARLIER, d(900), 400), Reading(ON, d(1000), 500))
SWAPPED = (MeterChange(EARLIER, d(900), d(0)),)
# Field, the question for a number, the number that is just taken, and the one that is not.
ORDERS: dict[str, tuple[str, Callable[[Any], Asked], Any, Any]] = {
    "removed at the hours of fitting": (
        "part[0].fitted[0].to", lambda x: fitted(Fitting("T2-03", d(500), d(x))), 500, 499.9),
    "removed at the landings of fitting": (
        "part[0].fitted[0].to_landings", lambda x: fitted(Fitting("T2-03", d(1), d(2), 50, x)), 50, 49),
    "fitted at the hours there are": (
        "part[0].fitted[0].from", lambda x: fitted(Fitting("T2-03", d(x))), 1000, 1000.1),
    "removed at the hours there are": (
        "part[0].fitted[0].to", lambda x: fitted(Fitting("T2-03", d(1), d(x))), 1000, 1000.1),
    "fitted again where it was removed": (
        "part[0].fitted",
        lambda x: fitted(Fitting("T2-03", d(1), d(500)), Fitting("T2-03", d(x), d(600))), 500, 499.9),
    "fitted after one that is open": (
        "part[0].fitted", lambda x: fitted(Fitting("T2-03", d(x)), Fitting("T2-03", d(500), d(600))), 600, 400),
    "hours no lower than read before": (
        "aircraft[0].hours", lambda x: ([plane(x, readings=READ)], [], [], ON), 900, 899.9),
    "landings no fewer than read before": (
        "aircraft[0].landings", lambda x: ([plane(1000, x, readings=READ)], [], [], ON), 400, 399),
    "the new meter's reading on the day of the change": (
        "aircraft[0].readings[0].hours",
        lambda x: ([plane(5.0, meter_changes=SWAPPED, readings=(Reading(EARLIER, d(x)),))], [], [], ON), 0, -0.1),
    "done at the hours there are": (
        "task[0].done[0].hours", lambda x: signed(HOURLY, done("2027-03-12", x)), 1000, 1000.1),
    "done at the landings there are": (
        "task[0].done[0].landings", lambda x: signed(BY_LANDINGS, done("2027-03-12", None, x)), 500, 501),
    "done at the hours read before": (
        "task[0].done[0].hours", lambda x: signed(HOURLY, done("2027-03-05", x), readings=READ), 900, 899.9),
    "done at the landings read before": (
        "task[0].done[0].landings",
        lambda x: signed(BY_LANDINGS, done("2027-03-05", None, x), readings=READ), 400, 399),
    "done at the hours read after": (
        "task[0].done[0].hours", lambda x: signed(HOURLY, done("2027-03-01", x), readings=READ), 900, 900.1),
    "done at the landings read after": (
        "task[0].done[0].landings",
        lambda x: signed(BY_LANDINGS, done("2027-03-01", None, x), readings=READ), 400, 401),
    "done later at the same hours": (
        "task[0].done[1].hours",
        lambda x: signed(HOURLY, done("2026-11-02", 900.0), done("2026-12-02", x)), 900, 899.9),
    "done later at the same landings": (
        "task[0].done[1].landings",
        lambda x: signed(BY_LANDINGS, done("2026-11-02", None, 300), done("2026-12-02", None, x)), 300, 299),
    "a tolerance in hours below its interval": (
        "task[0].tolerance.hours", lambda x: tolerated(Interval(d(10)), Tolerance(d(x))), 9.9, 10),
    "a tolerance in landings below its interval": (
        "task[0].tolerance.landings",
        lambda x: tolerated(Interval(landings=10), Tolerance(landings=x)), 9, 10),
    "a tolerance in months below its interval": (
        "task[0].tolerance.months", lambda x: tolerated(Interval(months=10), Tolerance(months=x)), 9, 10),
    "a tolerance in days below its interval": (
        "task[0].tolerance.days", lambda x: tolerated(Interval(days=10), Tolerance(days=x)), 9, 10),
    "opened again on the day it was closed": (
        "task[0].ends_with.reopened.date",
        lambda x: ([plane()], [], [replace(HOURLY, ends_with=Ending(
            ON, "new arm fitted", Happening(day(x), "old arm fitted")))], ON), "2027-03-12", "2027-03-11"),
}  # fmt: skip


@pytest.mark.parametrize("name", ORDERS)
def test_equal_is_taken_and_a_step_the_wrong_way_is_not(name: str) -> None:
    """On the one side nothing is refused, on the other this field."""
    field, asked, taken, beyond = ORDERS[name]
    assert refused(asked(taken)) == []
    assert field in refused(asked(beyond))


def test_a_sign_off_that_says_no_landings_hides_no_step_backwards() -> None:
    """10 landings, then none told, then 5, each on a later day at more hours: the last is refused."""
    one = task(every=Interval(d(100), landings=100), counts_from="done")
    days = ("2027-01-01", "2027-02-01", "2027-03-01")
    times = [done(on, hours, count) for on, hours, count in zip(days, (100, 200, 300), (10, None, 5), strict=True)]
    assert refused(signed(one, *times)) == ["task[0].done[2].landings"]
    assert refused(signed(one, *times[:2], replace(times[2], landings=10))) == []


def test_a_sign_off_by_its_day_alone_may_follow_one_with_hours() -> None:
    one = task(every=Interval(months=12), counts_from="done")
    assert refused(signed(one, done("2027-01-01", 100), done("2027-02-01"))) == []
    assert refused(signed(one, done("2027-01-01"), done("2027-02-01", 100))) == []


def test_done_just_where_it_might_first_be_done_still_counts_from_due() -> None:
    """Of 100 h ± 10 h, brought by another counter: at 90 h the next counts from due, before that from done."""
    hours = {"due": d(100), "early": d(90), "late": d(110), "alone": False}
    assert counts_from_due("due", d(90), **hours)
    assert not counts_from_due("due", d(89.9), **hours)


@pytest.mark.parametrize(("join", "told"), [("first", "first"), ("later", "later"), (None, "first")])
def test_of_what_was_never_recorded_is_told_which_counter_it_waits_for(join: str | None, told: str) -> None:
    never = task(every=Interval(d(100), months=12), counts_from="done", join=join)
    assert f"whichever comes {told}" in never_recorded(never)
