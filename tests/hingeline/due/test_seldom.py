"""What seldom happens, each by itself: the branches that no other test takes."""

from __future__ import annotations

from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import pytest

from hingeline.due import Ending, Fitting, Happening, Interval, Part, Reading, Start, Tolerance, judge_entry
from hingeline.due.forecast import FURTHEST, Span, as_forecast
from hingeline.due.next_point import Day, next_date
from hingeline.due.words import tolerance
from hingeline.errors import InputRefused
from tests.hingeline.due.building import ON, asked, d, day, done, plane, task
from tests.hingeline.due.test_bounds import refused

READ = tuple(
    Reading(day(on), d(hours), landings)
    for on, hours, landings in (("2026-12-12", 970, 10), ("2027-01-11", 980, 20), ("2027-02-10", 990, 30))
)


def test_an_entry_of_no_number_is_refused() -> None:
    """Not a number, or a year nobody lives in: refused before anything is said of it."""
    for entry in (Reading(ON, Decimal("NaN")), Reading(day("1899-12-31"), d(1))):
        with pytest.raises(InputRefused):
            judge_entry(plane(None), entry)


def test_an_entry_beside_too_few_readings_says_so() -> None:
    """On another day nobody can say what is usual; on the same day there is nothing to compare with."""
    known = plane(1000.0, counted_on=ON)
    later, same = (judge_entry(known, Reading(ON + timedelta(days), d(1003.5))) for days in (10, 0))
    assert (
        later.line
        == "3.5 h in 10 days, since 1000.0 h on 12 Mar 2027. There are too few readings to say what is usual."
    )
    assert same.line == "3.5 h in 0 days, since 1000.0 h on 12 Mar 2027."
    assert not later.asks
    assert not same.asks


def test_24_hours_a_day_are_not_asked_about_and_a_tenth_more_is() -> None:
    """Both days count, since nobody wrote the clock."""
    known = plane(1000.0, counted_on=ON)
    lines = [judge_entry(known, Reading(ON + timedelta(1), d(1000 + flown))).asks for flown in (48.0, 48.1)]
    assert lines == [False, True]


def test_a_forecast_beyond_a_hundred_years_is_none() -> None:
    """To the day: 36,500 days are told, a day more is not; a late end beyond them is left open."""
    assert as_forecast(Span(1.0, FURTHEST, FURTHEST), ON) is not None
    assert as_forecast(Span(1.0, FURTHEST + 1.0, FURTHEST + 1.0), ON) is None
    found = as_forecast(Span(1.0, 2.0, FURTHEST + 1.0), ON)
    assert found is not None
    assert found.high is None


def test_a_forecast_is_rounded_outward() -> None:
    """The early end down, the late end up, the middle to the nearest day."""
    found = as_forecast(Span(1.9, 2.6, 3.1), ON)
    assert found is not None
    assert (found.low, found.mid, found.high) == (ON + timedelta(1), ON + timedelta(3), ON + timedelta(4))


def test_slow_use_has_no_forecast_within_a_hundred_years() -> None:
    """A landing in 90 days, 500 to go."""
    read = tuple(replace(each, landings=landings) for each, landings in zip(READ, (10, 10, 10), strict=True))
    slow = task(every=Interval(landings=500), counts_from="done", done=(done("2026-12-12", None, 10),))
    state = asked(slow, plane(1000.0, 11, readings=read))
    assert "No forecast: at the past rate of use it lies more than a hundred years off." in state.notes


def test_under_later_what_is_passed_is_no_wait_and_the_date_is_told() -> None:
    """The hours are passed, the date is to come: it alone is waited for."""
    both = task(every=Interval(d(5), months=12), join="later", months_are="anniversary", counts_from="done",
                done=(done("2026-12-12", 970.0),))  # fmt: skip
    state = asked(both, plane(1000.0, readings=READ))
    assert state.state == "coming"
    assert state.forecast is not None
    assert (state.forecast.low, state.forecast.mid, state.forecast.high) == (day("2027-12-12"),) * 3


def test_under_later_a_missing_counter_stops_the_forecast() -> None:
    """The hours are to come, the landings nobody knows: there is no forecast, and the note says why."""
    both = task(
        every=Interval(d(100), landings=10), join="later", counts_from="done", done=(done("2026-12-12", 970.0, 5),)
    )
    read = tuple(replace(each, landings=None) for each in READ)
    state = asked(both, plane(1000.0, readings=read))
    assert state.state == "coming"
    assert state.forecast is None
    assert "No forecast: a counter is missing." in state.notes


def test_where_the_first_time_is_not_known_it_counts_from_done() -> None:
    """Two thresholds, of one of which the base is missing: where it was due then nobody can say, and that is noted."""
    start = Start(total_hours=d(100), within_hours=d(50), effective=day("2026-01-01"), join="first")
    one = task(start=start, every=Interval(d(100)), counts_from="due", done=(done("2026-12-12", 970.0),))
    state = asked(one)
    assert state.due_at.hours == d(1070)
    assert any("Where it was due (hours)" in note for note in state.notes)


def test_a_counter_that_was_never_noted_is_not_asked_where_it_was_due() -> None:
    """The landings at which it was done are missing: unknown under first, and no note about where it was due."""
    both = task(every=Interval(d(100), landings=10), join="first", counts_from="due",
                done=(done("2026-12-12", 970.0, due_hours=960.0),))  # fmt: skip
    state = asked(both, plane(1000.0, 30))
    assert state.state == "unknown"
    assert not any("Where it was due" in note for note in state.notes)


def test_an_interval_without_a_calendar_has_no_next_date() -> None:
    """Hours alone lead to no day."""
    assert next_date(Day.of(ON), Interval(d(100)), None) is None


def test_months_and_days_beside_each_other_are_refused_in_a_tolerance() -> None:
    """One of the two, in the words of the file."""
    both = task(every=Interval(months=12), tolerance=Tolerance(months=1, days=1))
    assert refused(([plane()], [], [both], ON)) == ["task[0].tolerance.days"]


def test_a_word_that_no_start_has_is_refused() -> None:
    """Neither first nor later."""
    wrong = task(start=Start(total_hours=d(1), join="soon"))  # type: ignore[arg-type]
    assert refused(([plane()], [], [wrong], ON)) == ["task[0].start.join"]


def test_a_task_without_a_name_is_refused() -> None:
    """A blank is no name."""
    assert refused(([plane()], [], [replace(task(every=Interval(months=1)), name="  ")], ON)) == ["task[0].name"]


def test_a_tolerance_in_days_is_written_in_days() -> None:
    """As the data has it."""
    assert tolerance(Tolerance(days=10)) == "10 days"


def test_an_aircraft_or_a_part_without_a_name_is_refused() -> None:
    """A blank is no name here either."""
    assert refused(([replace(plane(), name=" ")], [Part("")], [], ON)) == ["aircraft[0].name", "part[0].name"]


def test_what_is_refused_names_both_ends() -> None:
    """An interval of no landings: from 1, not from 0."""
    with pytest.raises(InputRefused, match="landings from 1 to 1000000"):
        asked(task(every=Interval(landings=0)))


def test_totals_of_a_part_are_called_so() -> None:
    """At more hours than there are: of an aircraft the meter is named, of a part its own total."""
    one = task(aircraft="", part="arm", every=Interval(d(100)), counts_from="done", done=(done("2027-03-12", 20.0),))
    arm = Part("arm", d(0), fitted=(Fitting("T2-03", d(990)),))
    with pytest.raises(InputRefused, match="These are totals of the part"):
        asked(one, parts=(arm,))
    with pytest.raises(InputRefused, match="These are totals, not what the meter shows"):
        asked(task(every=Interval(d(100)), done=(done("2027-03-12", 1000.1),)))


def test_opened_again_done_and_then_an_event() -> None:
    """The event is what it is due for, not that it was opened again."""
    again = Ending(day("2026-01-01"), "new arm fitted", Happening(day("2026-02-01"), "old arm fitted"))
    one = task(before_next_flight=True, event=Happening(ON, "hard landing"), ends_with=again, every=Interval(d(100)),
               done=(done("2026-03-01", 900.0),))  # fmt: skip
    assert asked(one).because == "Due before the next flight: hard landing on 12 Mar 2027."


@pytest.mark.parametrize(("join", "state_is"), [("first", "unknown"), ("later", "coming")])
def test_a_total_is_told_beside_a_period_whose_start_nobody_knows(join: str, state_is: str) -> None:
    """What the aircraft had on the effective day is not known; before the total, the later of both is still to come."""
    start = Start(total_hours=d(1100), within_hours=d(50), effective=day("2026-01-01"), join=join)
    state = asked(task(start=start), plane(1000.0, counted_on=ON))
    assert (state.state, state.due_at.hours, state.remaining.hours) == (state_is, d(1100), d(100))
