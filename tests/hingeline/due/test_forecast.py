"""When a limit is reached: the band against simulation, against its equation, and against other closed forms."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from decimal import Decimal

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy import stats

from hingeline.due import Aircraft, Done, Forecast, Interval, Reading, TaskState
from hingeline.due.forecast import NoRate, Rate, as_forecast, days_until, rate_of, reached_between
from tests.hingeline.due.building import ON, asked, d, day, done, plane, task

FloatArray = NDArray[np.float64]
HOURLY = task(every=Interval(d(100)), counts_from="done", done=(done("2026-11-02", 950.0),))
QUARTERLY = ("2026-12-12", "2027-01-11", "2027-02-10")


def flown(*hours: float, days: tuple[str, ...] = QUARTERLY) -> tuple[Reading, ...]:
    """Readings on these days."""
    return tuple(Reading(day(on), d(each)) for on, each in zip(days, hours, strict=True))


def forecast_of(state: TaskState) -> Forecast:
    """The forecast that must be there."""
    assert state.forecast is not None
    return state.forecast


# -------------------------------------------------------------------- the band


@pytest.mark.parametrize("observed", [180.0, 60.0, math.inf])
@pytest.mark.parametrize("left", [5.0, 43.0, 400.0])
def test_the_ends_of_the_band_satisfy_their_equation(left: float, observed: float) -> None:
    """Put back, each end gives r t ± b √(t + t²/T) = H."""
    early, late = reached_between(left, 0.5, 0.8, observed)
    for time, sign in ((early, 1.0), (late, -1.0)):
        band = 0.8 * math.sqrt(time + time * time / observed)
        assert 0.5 * time + sign * band == pytest.approx(left, rel=1e-12)
    assert early < left / 0.5 < late


def test_a_rate_too_uncertain_has_no_late_end() -> None:
    """Where the lower end of the rate is 0 or less, nobody can say by when: the late end is infinite, and null."""
    early, late = reached_between(50.0, 0.5, 5.0, 100.0)
    assert late == math.inf
    assert 0.0 < early < 100.0
    span = days_until(50.0, Rate(0.5, 2.0, 60.0, 2))
    found = as_forecast(span, ON)
    assert found is not None
    assert found.high is None


def test_near_the_first_passage_of_a_steady_walk() -> None:
    """With the rate known and steady use, the band is near the inverse Gaussian's quantiles of first passage."""
    left, rate, spread = 43.0, 10.0, 4.0
    mean, shape = left / rate, left**2 / spread**2
    passage = stats.invgauss(mean / shape, scale=shape)
    early, late = reached_between(left, rate, stats.norm.ppf(0.975) * spread)
    assert passage.ppf(0.025) == pytest.approx(2.905163, abs=1e-5)
    assert early == pytest.approx(passage.ppf(0.025), rel=0.03)
    assert late == pytest.approx(passage.ppf(0.975), rel=0.03)


def held(draw: Callable[[float, int], FloatArray], months: int, left: float) -> float:
    """How often the limit is reached inside the band, in 4000 simulated aircraft; ``draw`` gives use in n spells."""
    trials, inside = 4000, 0
    for _ in range(trials):
        past = draw(1.0, months)
        spread = float(past.std(ddof=1)) / math.sqrt(30.0)
        span = days_until(left, Rate(float(past.mean()) / 30.0, spread, 30.0 * months, months))
        future = draw(0.05, 1500).cumsum()
        inside += span.low <= 1.5 * (float(np.argmax(future >= left)) + 0.5) <= span.high
    return inside / trials


# 10 h a month with a spread of 4 h in a month; four standard errors of 4000 trials are 1.4 of 100.
@pytest.mark.parametrize(("months", "left"), [(3, 43.0), (6, 43.0), (12, 43.0), (6, 15.0), (24, 100.0)])
def test_the_band_holds_as_often_as_it_says(months: int, left: float) -> None:
    """By the walk that it assumes the band holds what comes 95 times of 100, with three months of readings too."""
    random = np.random.default_rng(months)
    share = held(lambda spell, n: random.normal(10.0 * spell, 4.0 * math.sqrt(spell), n), months, left)
    assert share == pytest.approx(0.95, abs=0.014)


@pytest.mark.parametrize(("months", "left"), [(6, 43.0), (12, 43.0), (24, 100.0)])
def test_the_band_holds_nearly_as_often_where_use_is_lopsided(months: int, left: float) -> None:
    """Use that never runs backwards, with spells of much flying, is held 94 times of 100, not 95: it is said so."""
    random = np.random.default_rng(months)
    shape, scale = (10.0 / 4.0) ** 2, 4.0**2 / 10.0
    share = held(lambda spell, n: random.gamma(shape * spell, scale, n), months, left)
    assert share == pytest.approx(0.942, abs=0.015)


# -------------------------------------------------------------------- the rate


def test_uneven_intervals_weigh_by_their_length() -> None:
    """The mean is last less first over the time; the spread is that of the greatest likelihood, made unbiased."""
    days = [date(2027, 1, 1) + timedelta(each) for each in (0, 10, 40, 90)]
    totals = [Decimal(each) for each in ("0.0", "6.0", "12.0", "45.0")]
    rate = rate_of(days, totals, days[-1])
    assert isinstance(rate, Rate)
    assert rate.per_day == pytest.approx(0.5)
    squares = (6.0 - 5.0) ** 2 / 10 + (6.0 - 15.0) ** 2 / 30 + (33.0 - 25.0) ** 2 / 50
    assert rate.spread == pytest.approx(math.sqrt(squares / 2))


def test_two_readings_are_too_few() -> None:
    """With now there are two: nothing is forecast, and the note says how many are needed."""
    state = asked(HOURLY, plane(1000.0, readings=flown(990.0, days=QUARTERLY[-1:])))
    assert state.forecast is None
    assert "No forecast: a rate of use needs 3 readings, and there are 2." in state.notes


def test_a_gap_of_61_days_ends_what_is_known() -> None:
    """Readings before a gap of more than 60 days do not count, and the note says so; 60 days are not too long."""
    for gap, missing in ((61, True), (60, False)):
        last = (ON - timedelta(gap)).isoformat()
        days = ((ON - timedelta(gap + 60)).isoformat(), (ON - timedelta(gap + 30)).isoformat(), last)
        state = asked(HOURLY, plane(1000.0, readings=flown(970.0, 980.0, 990.0, days=days)))
        assert (state.forecast is None) == missing
        assert missing == any("there was no reading for 61 days up to 2027-03-12" in note for note in state.notes)


def test_an_aircraft_that_stands_is_not_forecast() -> None:
    """Without use there is no date, and the note says since when."""
    state = asked(HOURLY, plane(1000.0, readings=flown(1000.0, 1000.0, 1000.0)))
    assert state.forecast is None
    assert any("nothing was flown since 2026-12-12" in note for note in state.notes)
    assert isinstance(rate_of([], [], ON), NoRate)


# -------------------------------------------------------------------- in a state


def test_a_forecast_is_no_due_point() -> None:
    """With or without readings state, due point and what is left are the same."""
    readings = flown(970.0, 980.5, 989.5)
    one, other = asked(HOURLY, plane(1000.0, readings=readings)), asked(HOURLY, plane(1000.0))
    assert (one.state, one.due_at, one.remaining, one.due_date) == (
        other.state, other.due_at, other.remaining, None
    )  # fmt: skip
    found = forecast_of(one)
    assert found.low < found.mid
    assert found.high is not None
    assert found.mid < found.high
    assert found.coverage == 0.95


def test_even_use_is_forecast_to_the_day() -> None:
    """10 h in every 30 days, 50 h left: 150 days on, with no spread the band is that day."""
    found = forecast_of(asked(HOURLY, plane(1000.0, readings=flown(970.0, 980.0, 990.0))))
    assert found.low == found.mid == found.high == ON + timedelta(150)


def test_a_date_cuts_the_band() -> None:
    """Under "first" no end of the band lies after the date; under "later" none before it."""
    readings = flown(960.0, 985.0, 990.0)
    for join in ("first", "later"):
        both = replace(HOURLY, every=Interval(d(100), months=8), months_are="anniversary", join=join)  # type: ignore[arg-type]
        found = forecast_of(asked(both, plane(1000.0, readings=readings)))
        cut = date(2027, 7, 2)
        ends = [found.low, found.mid] + ([found.high] if found.high else [])
        assert all(end <= cut if join == "first" else end >= cut for end in ends)


def test_what_comes_first_is_found_by_use_not_by_the_calendar() -> None:
    """At 0.33 h a day 50 h come before 235 days, at 0.1 h a day after: the one or the other binds."""
    both = replace(HOURLY, every=Interval(d(100), months=12), months_are="anniversary", join="first")
    fast, slow = (
        asked(both, plane(1000.0, readings=flown(*hours))) for hours in ((970.0, 980.0, 990.0), (991.0, 994.0, 997.0))
    )
    assert (fast.binding, slow.binding) == ("hours", "date")


def test_old_counters_say_so() -> None:
    """Asked about a later day, the counters' day is named, and that the limit may have been reached since."""
    aircraft = Aircraft("T2-03", d(1049.5), counted_on=ON, readings=flown(970.0, 990.0, 1020.0))
    state = asked(HOURLY, aircraft, on=ON + timedelta(20))
    assert state.state == "coming"
    assert "The counters are those of 12 Mar 2027, 20 days before: read them again." in state.notes
    assert "By the past rate of use it may have been reached since." in state.notes


def test_a_forecast_goes_by_a_part_s_aircraft_and_not_on_the_shelf() -> None:
    """A part is used as its aircraft is; on the shelf nothing is forecast."""
    from hingeline.due import Fitting, Part

    one = task(aircraft="", part="arm", every=Interval(d(100)), counts_from="done", done=(done("2027-01-11", 50.0),))
    readings = flown(970.0, 980.0, 990.0)
    on_it = Part("arm", d(0), fitted=(Fitting("T2-03", d(920.0)),))
    shelf = Part("arm", d(0), fitted=(Fitting("T2-03", d(920.0), d(1000.0)),))
    assert forecast_of(asked(one, plane(1000.0, readings=readings), parts=(on_it,))).mid == ON + timedelta(210)
    assert asked(one, plane(1000.0, readings=readings), parts=(shelf,)).forecast is None


def test_a_task_in_dates_alone_needs_no_forecast() -> None:
    """A date is a date: there is no band, and no note that one is missing."""
    state = asked(task(every=Interval(months=12), months_are="anniversary", counts_from="done", done=(Done(ON),)))
    assert state.forecast is None
    assert state.notes == ()
