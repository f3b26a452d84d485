"""The line beside an entry of hours, and what a visit could take along."""

from __future__ import annotations

import math
from dataclasses import replace
from datetime import timedelta
from decimal import Decimal

import numpy as np
import pytest

from hingeline.due import Interval, MeterChange, Reading, falls_together, judge_entry
from hingeline.errors import InputRefused
from tests.hingeline.due.building import ON, d, day, done, plane, result_of, task

USED = plane(
    1000.0,
    counted_on=ON,
    readings=tuple(
        Reading(day(on), d(hours))
        for on, hours in (("2026-12-12", 969.0), ("2027-01-11", 981.0), ("2027-02-10", 990.0))
    ),
)  # fmt: skip


def entry(hours: float, days: int = 10) -> Reading:
    """An entry some days later."""
    return Reading(ON + timedelta(days), d(hours))


def test_usual_use_is_told_and_not_asked_about() -> None:
    """3.4 h in 10 days at 10 h a month: the line says how much, since when, and what is usual."""
    found = judge_entry(USED, entry(1003.4))
    assert (found.total, found.flown, found.days, found.asks) == (d(1003.4), d("3.4"), 10, False)
    assert found.line.startswith("3.4 h in 10 days, since 1000.0 h on 12 Mar 2027. Usual would be ")


@pytest.mark.parametrize(
    ("hours", "word"),
    [
        (999.9, "Was the meter changed?"),
        (100.3, "Was the meter changed?"),
        (1100.0, "Usual would be"),
        (1300.0, "more than 24 h a day"),
    ],
)
def test_what_is_not_usual_is_asked_about(hours: float, word: str) -> None:
    """Fewer hours than before, far more than usual, or more than the clock allows needs a second look."""
    found = judge_entry(USED, entry(hours))
    assert found.asks
    assert word in found.line


def test_an_entry_between_readings_must_fit_the_later_one() -> None:
    """An old reading entered late is held against the one after it."""
    found = judge_entry(USED, Reading(day("2027-01-20"), d(995.0)))
    assert found.asks
    assert "A later reading shows less: 990.0 h in all" in found.line


def test_a_changed_meter_is_counted_in() -> None:
    """After a change the entry is the new meter's, and the line speaks of totals."""
    changed = replace(
        USED,
        hours=d("0.0"),
        readings=(*USED.readings, Reading(ON, d("0.0"))),
        meter_changes=(MeterChange(ON, d(1000.0)),),
    )
    found = judge_entry(changed, entry(3.4))
    assert (found.total, found.flown, found.asks) == (d("1003.4"), d("3.4"), False)


def test_the_first_entry_has_nothing_beside_it() -> None:
    """Nothing known before: it says so, and asks nothing."""
    found = judge_entry(plane(None), Reading(ON, d(12.5)))
    assert (found.line, found.asks) == ("The first entry: 12.5 h in all.", False)


def test_an_entry_without_hours_is_refused() -> None:
    """There is nothing to judge."""
    with pytest.raises(InputRefused, match="Read it off"):
        judge_entry(USED, Reading(ON))


# -------------------------------------------------------------------- visits


def hourly(name: str, last: float) -> object:
    """A 100 h task done at these hours."""
    return replace(task(every=Interval(d(100)), counts_from="done", done=(done("2026-11-02", last),)), name=name)


def yearly(name: str, last: str) -> object:
    """A yearly task."""
    return replace(task(every=Interval(months=12), counts_from="done", done=(done(last),)), name=name)


def visits(*tasks: object, **given: object) -> list[tuple[str, ...]]:
    """The names in each visit."""
    return [visit.tasks for visit in falls_together(result_of(list(tasks)), **given)]  # type: ignore[arg-type]


def test_tasks_within_the_window_fall_together() -> None:
    """30 days from the first: a day more does not belong."""
    near, edge, far = yearly("a", "2026-04-01"), yearly("b", "2026-05-01"), yearly("c", "2026-05-02")
    assert visits(near, edge, far) == [("a", "b")]
    assert visits(near, edge, far, days=31) == [("a", "b", "c")]


def test_tasks_in_hours_fall_together_without_a_forecast() -> None:
    """10 h from the first: a tenth more does not belong."""
    assert visits(hourly("a", 905.0), hourly("b", 915.0), hourly("c", 915.1)) == [("a", "b")]
    assert visits(hourly("a", 905.0), hourly("c", 915.1), hours=Decimal("10.1")) == [("a", "c")]


def test_what_is_overdue_takes_along_what_comes_soon() -> None:
    """What is overdue is expected at once: what comes within 30 days falls together with it, the first named first."""
    assert visits(yearly("soon", "2026-04-01"), hourly("late", 899.0)) == [("late", "soon")]


def test_a_visit_is_counted_from_the_one_that_comes_first() -> None:
    """From 905 h it is 10 h to 915 h and 19.9 h to 924.9 h, in whatever order they are asked about."""
    for order in ((915.0, 924.9, 905.0), (905.0, 915.0, 924.9), (924.9, 905.0, 915.0)):
        assert [set(each) for each in visits(*(hourly(f"{last}", last) for last in order))] == [{"905.0", "915.0"}]


def test_a_day_and_hours_without_a_forecast_are_never_near() -> None:
    """One has a day and no hours, the other hours and no day: nothing says that they fall together."""
    assert visits(yearly("a", "2026-04-01"), hourly("b", 905.0)) == []


def test_a_task_alone_is_no_visit() -> None:
    """Nothing falls together with itself, and what is closed or not applicable with nothing."""
    assert visits(yearly("a", "2026-04-01"), replace(task(applies=False), name="b")) == []


def test_a_window_below_nothing_is_refused() -> None:
    """Days and hours apart are 0 or more."""
    with pytest.raises(InputRefused, match="how far apart"):
        falls_together(result_of([]), days=-1)


def test_what_is_usual_is_student_s_interval() -> None:
    """Of 99 in 100 periods like the past ones; the quantile is SciPy's, for one freedom less than there are periods."""
    from scipy.stats import t

    steps, spells = np.diff([969.0, 981.0, 990.0, 1000.0]), np.array([30.0, 30.0, 30.0])
    rate = steps.sum() / spells.sum()
    spread = math.sqrt(((steps - rate * spells) ** 2 / spells).sum() / 2)
    band = t.ppf(0.995, 2) * spread * math.sqrt(10.0 + 10.0**2 / 90.0)
    low, high = max(0.0, 10.0 * rate - band), 10.0 * rate + band
    assert judge_entry(USED, entry(1003.4)).line.endswith(f"Usual would be {low:.1f} to {high:.1f} h.")


def test_a_visit_on_one_day_names_the_day_once() -> None:
    """Both expected on the same day; and where nobody can say when, no day is named."""
    (one,) = falls_together(result_of([yearly("a", "2026-04-01"), yearly("b", "2026-04-01")]))  # type: ignore[list-item]
    assert one.line == "2 tasks fall together, expected on 1 Apr 2027: a, b."
    assert (one.from_date, one.to_date) == (day("2027-04-01"), day("2027-04-01"))
    (other,) = falls_together(result_of([hourly("a", 905.0), hourly("b", 915.0)]))  # type: ignore[list-item]
    assert other.line == "2 tasks fall together: a, b."
