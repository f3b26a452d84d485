"""What cannot be counted is refused, naming field, value, what was expected and how to mend it."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
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
    sign_off,
    what_is_due,
)
from hingeline.due.task_checks import doubtful_tolerance
from hingeline.errors import InputRefused, Refusal
from tests.hingeline.due.building import ON, d, day, done, plane, task

TOMORROW = ON + timedelta(1)
HOURLY = task(every=Interval(d(100)), counts_from="done", done=(done("2026-11-02", 950.0),))


def refusal(
    tasks: list[Task], aircraft: list[Aircraft] | None = None, parts: list[Part] | None = None, on: Any = ON
) -> Refusal:
    """Give the one thing that is refused."""
    with pytest.raises(InputRefused) as refused:
        what_is_due([plane()] if aircraft is None else aircraft, parts or [], tasks, on)
    (one,) = refused.value.refusals
    assert one.expected
    assert one.remedy
    return one


def with_start(**given: Any) -> Task:
    """A task with a start."""
    return task(start=Start(**given))


TASKS: dict[str, tuple[Task, str, str]] = {
    "done tomorrow": (replace(HOURLY, done=(Done(TOMORROW, d(950)),)), "task[0].done[0].date", "future"),
    "done in another century": (replace(HOURLY, done=(done("0207-03-01", 1.0),)), "task[0].done[0].date", "year"),
    "done at more hours than there are": (
        replace(HOURLY, done=(done("2026-11-02", 1000.1),)), "task[0].done[0].hours", "totals"
    ),
    "done later at fewer hours": (
        replace(HOURLY, done=(done("2026-11-02", 950.0), done("2026-12-02", 949.9))),
        "task[0].done[1].hours", "backwards",
    ),
    "done later at fewer landings": (
        replace(HOURLY, done=(done("2026-12-02", 950.0, 9), done("2026-11-02", 950.0, 10))),
        "task[0].done[0].landings", "backwards",
    ),
    "done twice": (replace(HOURLY, done=HOURLY.done * 2), "task[0].done[1]", "twice"),
    "negative hours": (replace(HOURLY, done=(done("2026-11-02", -1.0),)), "task[0].done[0].hours", "digits"),
    "hours not a number": (
        replace(HOURLY, done=(Done(day("2026-11-02"), Decimal("NaN")),)), "task[0].done[0].hours", "d"
    ),
    "no interval in the interval": (task(every=Interval()), "task[0].every", "how often"),
    "interval of nothing": (task(every=Interval(d(0))), "task[0].every.hours", "digits"),
    "interval below nothing": (task(every=Interval(months=-12)), "task[0].every.months", "digits"),
    "months and days": (task(every=Interval(months=12, days=365)), "task[0].every.days", "two tasks"),
    "tolerance below nothing": (replace(HOURLY, tolerance=Tolerance(hours=d(-5))), "task[0].tolerance.hours", "digits"),
    "tolerance as long as the interval": (
        replace(HOURLY, tolerance=Tolerance(hours=d(100))), "task[0].tolerance.hours", "Check both"
    ),
    "tolerance of a counter that is not there": (
        task(every=Interval(months=12), tolerance=Tolerance(hours=d(5))), "task[0].tolerance.hours", "Leave it out"
    ),
    "tolerance beyond half": (
        replace(HOURLY, tolerance=Tolerance(percent=d(51))), "task[0].tolerance.percent", "ten per"
    ),
    "no limit at all": (task(), "task[0]", "before_next_flight"),
    "a period from no day": (with_start(within_hours=d(50)), "task[0].start.effective", "Add it"),
    "a start of nothing": (with_start(effective=ON), "task[0].start", "first time"),
    "a start in both calendars": (
        with_start(within_months=1, within_days=30, effective=ON), "task[0].start.within_days", "Keep one"
    ),
    "ended tomorrow": (replace(HOURLY, ends_with=Ending(TOMORROW, "x")), "task[0].ends_with.date", "future"),
    "ended by nothing": (replace(HOURLY, ends_with=Ending(ON, " ")), "task[0].ends_with.by", "new arm fitted"),
    "reopened before it was closed": (
        replace(HOURLY, ends_with=Ending(ON, "x", Happening(day("2026-01-01"), "y"))),
        "task[0].ends_with.reopened.date", "before it was closed",
    ),
    "an event tomorrow": (
        task(before_next_flight=True, event=Happening(TOMORROW, "overspeed")), "task[0].event.date", "future"
    ),
    "an event without consequence": (
        replace(HOURLY, event=Happening(ON, "overspeed")), "task[0].event", "Add it"
    ),
    "an unknown aircraft": (replace(HOURLY, aircraft="T2-3"), "task[0].aircraft", 'Did you mean "T2-03"?'),
    "an aircraft that is none": (replace(HOURLY, aircraft="kite"), "task[0].aircraft", "the name of an aircraft"),
    "a part that is none": (replace(HOURLY, aircraft="", part="kite"), "task[0].part", "the name of a part"),
    "an unknown part": (replace(HOURLY, aircraft="", part="arm"), "task[0].part", "no [[part]]"),
    "no owner": (replace(HOURLY, aircraft=""), "task[0].aircraft", "belongs to one"),
    "two owners": (replace(HOURLY, part="arm"), "task[0].aircraft", "belongs to one"),
    "no name": (replace(HOURLY, name=" "), "task[0].name", "document"),
    "a word that is none": (replace(HOURLY, counts_from="sometimes"), "task[0].counts_from", "one of these"),  # type: ignore[arg-type]
}  # fmt: skip


@pytest.mark.parametrize("case", TASKS)
def test_a_task_that_cannot_be_is_refused(case: str) -> None:
    """One refusal, at the field where the fault stands, with a remedy in words."""
    spoilt, field, word = TASKS[case]
    found = refusal([spoilt])
    assert found.field.startswith(field)
    assert word in found.remedy or word in found.expected


HOLD: dict[str, Task] = {
    "landings of the first time": replace(
        with_start(total_landings=2000), tolerance=Tolerance(landings=5), source="programme"
    ),
    "a last day": replace(with_start(not_later_than=ON + timedelta(30)), tolerance=Tolerance(days=5)),
    "days within a month": task(every=Interval(months=1), tolerance=Tolerance(days=29)),
    "a month within 31 days": task(every=Interval(days=31), tolerance=Tolerance(months=1)),
}


@pytest.mark.parametrize("case", HOLD)
def test_a_tolerance_of_a_limit_that_is_there_is_taken(case: str) -> None:
    """In the interval or in the start, in its own unit or in the other of the calendar."""
    assert what_is_due([plane(landings=100)], [], [HOLD[case]], ON)


DOUBTFUL: dict[str, tuple[Task, str, str]] = {
    "landings of a task that has none": (
        replace(HOURLY, tolerance=Tolerance(landings=5)), "landings", "5 landings counts for nothing, since the task "
        "has no limit in landings"
    ),
    "days of a task without a date": (
        replace(HOURLY, tolerance=Tolerance(hours=d(5), days=5)), "days", "5 days counts for nothing, since the "
        "task has no limit by date"
    ),
    "months of a task without a date": (
        replace(HOURLY, tolerance=Tolerance(months=1)), "months", "1 month counts for nothing, since the task has no "
        "limit by date"
    ),
    "days as long as an interval in months": (
        task(every=Interval(months=1), counts_from="done", tolerance=Tolerance(days=30), done=HOURLY.done), "days",
        "30 days is as long as its interval"
    ),
    "months as long as an interval in days": (
        task(every=Interval(days=60), counts_from="done", tolerance=Tolerance(months=2), done=HOURLY.done), "months",
        "2 months is as long as its interval"
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", DOUBTFUL)
def test_a_doubtful_tolerance_that_was_read_in_1_0_is_read_and_told(case: str) -> None:
    """What counts for nothing changes no due point; what counts is counted as then; each is said in a note."""
    given, field, told = DOUBTFUL[case]
    (state,) = what_is_due([plane()], [], [given], ON).tasks
    assert f"The tolerance of {told}. Look what its source says, and mend the task." in state.notes
    assert [each.field for each in doubtful_tolerance("tolerance", given)] == [f"tolerance.{field}"]
    plain = replace(given, tolerance=replace(given.tolerance or Tolerance(), **{field: None}))
    (without,) = what_is_due([plane()], [], [plain], ON).tasks
    assert (state.due_at, state.due_date) == (without.due_at, without.due_date)
    assert (state.window == without.window) is ("for nothing" in told), "what counts for nothing has no window"
    assert not [note for note in without.notes if note.startswith("The tolerance")]


def test_a_tolerance_of_a_limit_that_is_there_is_told_nothing() -> None:
    """The same tasks that are taken have no note about their tolerance."""
    for each in (HOURLY, *HOLD.values()):
        assert list(doubtful_tolerance("tolerance", each)) == []


AIRCRAFT: dict[str, tuple[Aircraft, str, str]] = {
    "a reading tomorrow": (plane(readings=(Reading(TOMORROW, d(1)),)), "aircraft[0].readings[0].date", "future"),
    "a reading of nothing": (plane(readings=(Reading(ON),)), "aircraft[0].readings[0]", "was read"),
    "a reading above the next": (
        plane(readings=(Reading(day("2027-01-01"), d(990)), Reading(day("2027-02-01"), d(980)))),
        "aircraft[0].readings[1].hours", "Was the meter changed?",
    ),
    "a reading above what the meter shows now": (
        plane(readings=(Reading(day("2027-01-01"), d("1000.1")),)), "aircraft[0].hours", "Was the meter changed?"
    ),
    "landings above those of now": (
        plane(landings=99, readings=(Reading(day("2027-01-01"), None, 100),)), "aircraft[0].landings", "backwards"
    ),
    "a change of the meter tomorrow": (
        plane(meter_changes=(MeterChange(TOMORROW, d(1)),)), "aircraft[0].meter_changes[0].date", "future"
    ),
    "an old meter below an earlier reading": (
        plane(
            10.0, readings=(Reading(day("2026-01-01"), d(800)),), meter_changes=(MeterChange(day("2026-06-01"), d(9)),)
        ),
        "aircraft[0].meter_changes", "check the digits",
    ),
    "hours counted tomorrow": (plane(counted_on=TOMORROW), "aircraft[0].counted_on", "future"),
    "hours below nothing": (plane(-0.1), "aircraft[0].hours", "digits"),
    "hours that nobody flies": (plane(200_000.1), "aircraft[0].hours", "digits"),
}  # fmt: skip


@pytest.mark.parametrize("case", AIRCRAFT)
def test_a_counter_that_cannot_be_is_refused(case: str) -> None:
    """A counter that runs backwards, or a day to come, is refused at its own field, once for all tasks."""
    spoilt, field, word = AIRCRAFT[case]
    found = refusal([HOURLY, replace(HOURLY, name="another")], [spoilt])
    assert found.field == field
    assert word in found.remedy


PARTS: dict[str, tuple[tuple[Fitting, ...], str, str]] = {
    "removed before it was fitted": ((Fitting("T2-03", d(50), d(40)),), "part[0].fitted[0].to", "after it was fitted"),
    "fitted at hours to come": ((Fitting("T2-03", d("1000.1")),), "part[0].fitted[0].from", "totals of the aircraft"),
    "on an unknown aircraft": ((Fitting("T2-04", d(1)),), "part[0].fitted[0].aircraft", "Did you mean"),
    "twice at a time on one aircraft": (
        (Fitting("T2-03", d(10), d(50)), Fitting("T2-03", d(40), d(60))), "part[0].fitted", "twice at a time"
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", PARTS)
def test_a_fitting_that_cannot_be_is_refused(case: str) -> None:
    """A part is in one place at a time, and not longer there than the aircraft flew."""
    fitted, field, word = PARTS[case]
    found = refusal([], None, [Part("arm", d(0), fitted=fitted)])
    assert found.field == field
    assert word in found.remedy


def test_a_part_on_two_aircraft_at_once_is_refused() -> None:
    """Two fittings without an end: the second is named, with both aircraft."""
    fitted = (Fitting("T2-03", d(1)), Fitting("T2-01", d(1)))
    found = refusal([], [plane(), Aircraft("T2-01", d(9))], [Part("arm", d(0), fitted=fitted)])
    assert (found.field, found.value) == ("part[0].fitted[1].to", "open on T2-03 and T2-01")


def test_an_aircraft_that_a_part_has_left_need_not_be_listed() -> None:
    """A closed fitting may name an aircraft that is not in the workshop any more."""
    part = Part("arm", d("1.5"), fitted=(Fitting("sold", d(10), d(20)),))
    assert what_is_due([], [part], [], ON).parts[0].hours == d("11.5")


def test_names_stand_once() -> None:
    """Two aircraft, two parts, or two tasks of one aircraft may not share a name; tasks of two aircraft may."""
    assert refusal([], [plane(), plane()]).field == "aircraft[1].name"
    assert refusal([], None, [Part("arm"), Part("arm")]).field == "part[1].name"
    assert refusal([HOURLY, HOURLY]).field == "task[1].name"
    both = [plane(), Aircraft("T2-01", d(1000))]
    assert len(what_is_due(both, [], [HOURLY, replace(HOURLY, aircraft="T2-01")], ON).tasks) == 2


def test_done_hours_must_fit_between_the_readings() -> None:
    """A sign-off at fewer hours than were read before it, or more than after, is refused: they are totals."""
    readings = (Reading(day("2026-10-01"), d(940)), Reading(day("2026-12-01"), d(960)))
    for hours, expected in ((939.9, "at least the 940"), (960.1, "at most the 960")):
        found = refusal([replace(HOURLY, done=(done("2026-11-02", hours),))], [plane(readings=readings)])
        assert found.field == "task[0].done[0].hours"
        assert found.expected.startswith(expected)


def test_all_faults_are_told_at_once() -> None:
    """A list with several faults is refused with each of them, so that it can be mended in one go."""
    with pytest.raises(InputRefused) as refused:
        what_is_due([plane()], [], [TASKS["done tomorrow"][0], replace(TASKS["no limit at all"][0], name="b")], ON)
    assert {each.field for each in refused.value.refusals} == {"task[0].done[0].date", "task[1]"}


def test_a_day_of_another_age_is_refused() -> None:
    """The day that is asked about lies between 1900 and 2199."""
    assert refusal([], [], [], day("1899-12-31")).field == "on"


def test_signing_off_twice_or_after_the_end_is_refused() -> None:
    """A sign-off that stands there, or one after the task was closed, is refused; after it was reopened it is not."""
    with pytest.raises(InputRefused, match="signed off already"):
        sign_off(HOURLY, HOURLY.done[0])
    closed = replace(HOURLY, ends_with=Ending(day("2027-01-01"), "new arm fitted"))
    with pytest.raises(InputRefused, match="new arm fitted"):
        sign_off(closed, done("2027-02-01", 990.0))
    again = replace(closed, ends_with=Ending(day("2027-01-01"), "x", Happening(day("2027-01-20"), "old arm")))
    assert len(sign_off(again, done("2027-02-01", 990.0)).done) == 2


@pytest.mark.parametrize("number", ["NaN", "sNaN", "Infinity"])
def test_no_number_is_refused_as_an_interval(number: str) -> None:
    """Also one that signals, which has no hash."""
    check = Task("check", "T2-03", every=Interval(hours=Decimal(number)), counts_from="done")
    with pytest.raises(InputRefused, match=r"every\.hours"):
        what_is_due([Aircraft("T2-03", Decimal(1))], [], [check], ON)


def test_two_readings_of_one_day_may_stand_in_any_order() -> None:
    """Readings are given in any order: of one day the smaller came first, and nothing ran backwards."""
    twice = (Reading(day("2027-01-01"), d(990)), Reading(day("2027-01-01"), d(985)))
    for readings in (twice, twice[::-1]):
        assert what_is_due([plane(readings=readings)], [], [], ON).aircraft[0].hours == d(1000)
