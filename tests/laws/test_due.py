"""Laws of what is due: limits only bring a task forward or put it off as their word says; order does not matter."""

from __future__ import annotations

from dataclasses import fields, replace
from datetime import date, timedelta
from decimal import Decimal
from typing import Any

import pytest
from dateutil.relativedelta import relativedelta
from hypothesis import assume, given
from hypothesis import strategies as st

from hingeline.document import from_document, to_document
from hingeline.due import (
    Aircraft,
    Done,
    DueQuestion,
    DueResult,
    Fitting,
    Interval,
    MeterChange,
    Part,
    Reading,
    Start,
    Task,
    TaskState,
    Tolerance,
    falls_together,
    sign_off,
    what_is_due,
)
from hingeline.due.months import add_months, end_of_month
from hingeline.due.next_point import counts_from_due

ON = date(2027, 3, 12)
RULES = ["done", "due", "late from due, early from done", "inside from due, outside from done"]
# How much a state presses; what is unknown is outside this order.
PRESSES = {"coming": 0, "due": 1, "overdue": 2}

days = st.dates(date(1950, 1, 1), date(2120, 12, 31))
tenths = st.integers(0, 60_000).map(lambda number: Decimal(number) / 10)
intervals = st.integers(1, 5_000).map(lambda number: Decimal(number) / 10)


def asked(task: Task, hours: Decimal, on: date = ON, landings: int | None = 500) -> TaskState:
    """The state of one task of one aircraft."""
    return what_is_due([Aircraft("T2-03", hours, landings)], [], [task], on).tasks[0]


@st.composite
def histories(draw: Any) -> tuple[Done, ...]:
    """One to five sign-offs, rising in date, hours and landings, all before the day that is asked about."""
    on, hours, landings, found = date(2020, 1, 1), Decimal(0), 0, []
    for _ in range(draw(st.integers(1, 5))):
        on += timedelta(draw(st.integers(1, 500)))
        hours += draw(st.integers(0, 3000).map(lambda number: Decimal(number) / 10))
        landings += draw(st.integers(0, 90))
        found.append(Done(on, hours, landings))
    return tuple(found)


@st.composite
def tasks(draw: Any, *, join: str = "first") -> Task:
    """A repeated task in up to three counters, with any rule and any tolerance."""
    every = Interval(
        draw(st.none() | intervals), draw(st.none() | st.integers(1, 300)), draw(st.none() | st.integers(1, 48))
    )
    assume(every != Interval())
    tolerance = draw(st.none() | st.integers(0, 20).map(lambda number: Tolerance(percent=Decimal(number))))
    return Task(
        "check", "T2-03", source=draw(st.sampled_from(["directive", "manual"])), every=every,
        months_are=draw(st.sampled_from(["anniversary", "calendar"])), join=join,  # type: ignore[arg-type]
        tolerance=tolerance, counts_from=draw(st.sampled_from(RULES)), done=draw(histories()),
    )  # fmt: skip


def flown(task: Task, more: Decimal) -> Decimal:
    """Total hours after the last sign-off."""
    return max(done.hours or Decimal(0) for done in task.done) + more


# -------------------------------------------------------------------- months


@given(days, st.integers(-600, 600))
def test_months_are_those_of_an_independent_library(day: date, months: int) -> None:
    """Months added to a date give what the dates' library dateutil gives."""
    assert add_months(day, months) == day + relativedelta(months=months)


@given(days, st.integers(0, 300), st.integers(0, 300))
def test_the_anchor_day_is_kept_however_months_are_cut_up(day: date, one: int, other: int) -> None:
    """Counted in two steps with the anchor day, the same date comes out as in one."""
    assert add_months(add_months(day, one), other, day.day) == add_months(day, one + other)


@given(days)
def test_the_end_of_a_month_is_the_day_before_the_next(day: date) -> None:
    """A day after the end of the month is the first of another."""
    assert (end_of_month(day) + timedelta(1)).day == 1
    assert end_of_month(day) >= day


# -------------------------------------------------------------------- joins


@pytest.mark.slow
@given(tasks(), tenths, st.sampled_from(["hours", "landings", "months"]), st.data())
def test_a_limit_more_under_first_is_never_later(task: Task, more: Decimal, name: str, data: st.DataObject) -> None:
    """Under "first" one more limit never makes a task press less, and no due point moves away."""
    assume(task.every is not None and getattr(task.every, name) is None)
    # Under the rule "due" a second counter may bring a forestalled one back to done, which is earlier too.
    added = data.draw(intervals if name == "hours" else st.integers(1, 300))
    assert task.every is not None
    larger = replace(task, every=replace(task.every, **{name: added}))
    before, after = (asked(each, flown(task, more)) for each in (task, larger))
    assert PRESSES[after.state] >= PRESSES[before.state]
    for one, other in zip(_due_points(before), _due_points(after), strict=True):
        assert one is None or (other is not None and other <= one)


@pytest.mark.slow
@given(tasks(join="later"), tenths, st.sampled_from(["hours", "landings", "months"]), st.data())
def test_a_limit_more_under_later_is_never_earlier(task: Task, more: Decimal, name: str, data: st.DataObject) -> None:
    """Under "later" one more limit never makes a task press more, where every counter keeps its own point."""
    assume(task.every is not None and getattr(task.every, name) is None and task.counts_from != "due")
    added = data.draw(intervals if name == "hours" else st.integers(1, 300))
    assert task.every is not None
    larger = replace(task, every=replace(task.every, **{name: added}))
    before, after = (asked(each, flown(task, more)) for each in (task, larger))
    assert PRESSES[after.state] <= PRESSES[before.state]


def _due_points(state: TaskState) -> tuple[Any, ...]:
    return state.due_at.hours, state.due_at.landings, state.due_date


@given(st.integers(1, 30_000), st.integers(0, 3_000), st.integers(0, 30_000), st.integers(0, 400), tenths)
def test_of_a_start_later_is_never_before_first(
    total: int, within: int, then: int, days_within: int, now: Decimal
) -> None:
    """Whatever threshold, period and days, by "later" a task presses at most as much as by "first"."""
    start = Start(
        total_hours=Decimal(total) / 10, within_hours=Decimal(within) / 10, within_days=days_within,
        effective=date(2027, 1, 1), hours_at_effective=Decimal(then) / 10,
    )  # fmt: skip
    found = {
        join: asked(Task("check", "T2-03", source="directive", start=replace(start, join=join)), now).state
        for join in ("first", "later")
    }
    assert PRESSES[found["later"]] <= PRESSES[found["first"]]


@given(tasks(), tenths)
def test_a_tolerance_never_moves_the_due_point_of_a_task_that_counts_from_done(task: Task, more: Decimal) -> None:
    """A tolerance opens a window about the due point, and does not move the point itself."""
    task = replace(task, counts_from="done", source="manual")
    with_one, without = (asked(each, flown(task, more)) for each in (task, replace(task, tolerance=None)))
    assert _due_points(with_one) == _due_points(without)
    assert PRESSES[with_one.state] <= PRESSES[without.state]


@given(tenths, tenths, st.integers(0, 200), st.sampled_from(RULES))
def test_of_the_rules_none_counts_later_than_the_later_of_done_and_due(
    done: Decimal, due: Decimal, tolerance: int, rule: Any
) -> None:
    """Each rule takes done or due; late from due, early from done takes the earlier one; none ever both."""
    early, late = due - Decimal(tolerance) / 10, due + Decimal(tolerance) / 10
    from_due = counts_from_due(rule, done, due, early, late)
    base = due if from_due else done
    if rule == "late from due, early from done":
        assert base == min(done, due)
    if rule == "inside from due, outside from done":
        assert from_due == (abs(done - due) <= Decimal(tolerance) / 10)
    assert from_due is (rule == "due") or rule not in ("done", "due")


# -------------------------------------------------------------------- order of events


@given(tasks(), tenths, st.randoms(use_true_random=False))
def test_the_order_in_which_sign_offs_are_entered_does_not_matter(task: Task, more: Decimal, random: Any) -> None:
    """Signed off in any order, a task is in the same state, for the same reason."""
    history = list(task.done)
    random.shuffle(history)
    again = replace(task, done=())
    for done in history:
        again = sign_off(again, done)
    assert asked(again, flown(task, more)) == asked(task, flown(task, more))


@given(st.lists(st.integers(1, 500), min_size=2, max_size=6), st.randoms(use_true_random=False))
def test_the_order_of_readings_changes_and_fittings_does_not_matter(steps: list[int], random: Any) -> None:
    """Readings, changes of the meter and fittings in any order give the same totals, rate and part hours."""
    readings, meter = [], Decimal(100)
    for place, step in enumerate(steps):
        meter += Decimal(step) / 10
        readings.append(Reading(date(2026, 6, 1) + timedelta(31 * place), meter))
    changes = [MeterChange(date(2026, 1, 1), Decimal("300.0")), MeterChange(date(2026, 2, 1), Decimal("40.5"))]
    fittings = [Fitting("T2-03", Decimal("10.0"), Decimal("20.0")), Fitting("T2-03", Decimal("25.0"))]
    results = []
    for _ in range(2):
        aircraft = Aircraft("T2-03", meter, meter_changes=tuple(changes), readings=tuple(readings))
        part = Part("arm", Decimal("1.5"), fitted=tuple(fittings))
        results.append(what_is_due([aircraft], [part], [], ON))
        for items in (readings, changes, fittings):
            random.shuffle(items)
    assert results[0] == results[1]
    assert results[0].aircraft[0].hours == meter + Decimal("340.5")
    assert results[0].parts[0].hours == Decimal("11.5") + meter + Decimal("340.5") - 25


@given(tasks(), tenths)
def test_once_signed_off_a_task_that_counts_from_done_is_coming(task: Task, more: Decimal) -> None:
    """Done now, a task that counts from done has its whole interval left."""
    task, hours = replace(task, counts_from="done"), flown(task, more)
    state = asked(sign_off(task, Done(ON, hours, 500)), hours)
    assert state.state == "coming"
    assert task.every is not None
    assert state.remaining.hours == task.every.hours
    assert state.remaining.landings == task.every.landings


@given(tasks(), tenths, st.integers(0, 500))
def test_time_and_use_only_make_a_task_press_more(task: Task, more: Decimal, later: int) -> None:
    """A day later, an hour more: a state never becomes milder by itself."""
    hours = flown(task, more)
    now = asked(task, hours)
    then = asked(task, hours + Decimal(later) / 10, ON + timedelta(later))
    assert PRESSES[then.state] >= PRESSES[now.state]


# -------------------------------------------------------------------- exactness and form


@given(tasks(), tenths, st.integers(-50_000, 50_000))
def test_an_older_meter_changes_totals_and_no_state(task: Task, more: Decimal, shift: int) -> None:
    """Where all totals are moved alike nothing changes but the totals: exact decimals have no drift."""
    moved, hours = abs(Decimal(shift)) / 10, flown(task, more)
    later = replace(task, done=tuple(replace(each, hours=(each.hours or Decimal(0)) + moved) for each in task.done))
    one, other = asked(task, hours), asked(later, hours + moved)
    assert (one.state, one.binding, one.remaining) == (other.state, other.binding, other.remaining)


@given(tasks(), tenths)
def test_a_window_holds_its_due_point(task: Task, more: Decimal) -> None:
    """The due point lies in its window by every counter, and a state within the window is not overdue."""
    state = asked(task, flown(task, more))
    for end in ("hours", "landings"):
        at = getattr(state.due_at, end)
        assert at is None or getattr(state.window.from_, end) <= at <= getattr(state.window.to, end)
    if state.due_date is not None:
        assert state.window.from_.date is not None
        assert state.window.to.date is not None
        assert state.window.from_.date <= state.due_date <= state.window.to.date


@given(tasks(), tenths)
def test_a_result_and_its_question_come_back_from_their_documents(task: Task, more: Decimal) -> None:
    """Written as documents and read back, question and result are the same to the last digit."""
    aircraft = Aircraft("T2-03", flown(task, more), 500)
    question = DueQuestion(ON, (aircraft,), (), (task,))
    result = what_is_due([aircraft], [], [task], ON)
    assert from_document(to_document(question), DueQuestion) == question
    assert from_document(to_document(result), DueResult) == result


@pytest.mark.slow
@given(st.lists(tasks(), min_size=1, max_size=8), st.integers(0, 400), st.integers(0, 300))
def test_a_task_is_in_one_visit_at_most_and_only_if_it_is_near(
    several: list[Task], near_days: int, near_hours: int
) -> None:
    """Visits have two tasks or more of one aircraft, none twice; no window leaves out what it took before."""
    named = [replace(task, name=f"check {place}") for place, task in enumerate(several)]
    result = what_is_due([Aircraft("T2-03", Decimal(9000), 500)], [], named, ON)
    visits = falls_together(result, days=near_days, hours=Decimal(near_hours))
    places = [place for visit in visits for place in visit.places]
    assert len(places) == len(set(places))
    assert all(len(visit.places) > 1 for visit in visits)
    assert all(result.tasks[place].name in visit.tasks for visit in visits for place in visit.places)


def test_the_tasks_drawn_here_use_every_field_of_an_interval() -> None:
    """A counter that is added to the interval must be added to these laws, or left out on purpose."""
    assert {field.name for field in fields(Interval)} == {"hours", "landings", "months", "days"}
