"""Checks ahead in the records: what is entered is what the due room is asked; a sign-off resets it in the ledger."""

from __future__ import annotations

import contextlib
import random
from dataclasses import replace
from decimal import Decimal
from typing import Any

import pytest

from hingeline import due
from hingeline.errors import InputRefused
from hingeline_app.records.actions.calendar_feeds import end_feed, make_feed
from hingeline_app.records.actions.counters import change_meter, withdraw_counter_reading
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.parts import add_part, fit_part, remove_part
from hingeline_app.records.actions.releasing import withdraw_release
from hingeline_app.records.actions.signing_off import DoneAs, sign_off, withdraw_sign_off
from hingeline_app.records.actions.tasks import Line, add_tasks, correct_task, end_task, withdraw_task
from hingeline_app.records.dates import today
from hingeline_app.records.models import CounterReading, Entry, MeterChange, SignOff, Task
from hingeline_app.records.queries.calendar_feeds import person_of_feed
from hingeline_app.records.queries.checks_ahead import ChecksAhead, checks_ahead, of_workshop, worked_out
from hingeline_app.records.queries.due_question import asked_of
from hingeline_app.records.queries.task_history import entries_of_task, task_in_full
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.task_rules import rule_of
from hingeline_app.records.write_door import write_door
from tests.hingeline_app.records.checks_ahead_kept import HUNDRED, YEARLY, days_ago, flown, on_paper, state, task
from tests.hingeline_app.records.merle import Merle, merle, proof, released
from tests.hingeline_app.records.workshop import Fenholt


def kept_before(job: Merle, rule: due.Task) -> Any:
    """A task as an older version kept it: today nobody could type it."""
    made = task(job, replace(YEARLY, name=rule.name))
    Task.objects.filter(pk=made.pk).update(rule=rule_of(rule))
    return made


def test_a_doubtful_tolerance_of_before_stops_nobody_and_is_told(job: Merle) -> None:
    """Kept before it was refused: what is due comes out as then, the check is signed off; typed today it is refused."""
    loose = replace(HUNDRED, tolerance=due.Tolerance(days=5))
    with pytest.raises(InputRefused) as refused:
        task(job, loose)
    assert [each.field for each in refused.value.refusals] == ["tolerance.days"]
    made = kept_before(job, loose)
    monthly = kept_before(job, replace(YEARLY, every=due.Interval(months=1), tolerance=due.Tolerance(days=30)))
    flown(job, "612.0", 3)
    sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5"))
    sign_off(job.shop.anna, monthly.pk, on_paper(job, 2))
    found, other = state(job), state(job, "annual check")
    assert (found.state, found.due_at.hours) == ("coming", Decimal("712.5"))
    assert any("5 days counts for nothing" in note for note in found.notes)
    assert any("30 days is as long as its interval" in note for note in other.notes)
    assert checks_ahead(job.shop.anna.person).refused == ()


def test_checks_that_contradict_themselves_from_before_are_no_wall(job: Merle) -> None:
    """Two of an aircraft: a third is signed off and taken back, and each is mended by itself; both are told meanwhile.

    Each act had been refused because of the other one, and nothing on that aircraft could be entered any more.
    """
    yearly = task(job, YEARLY)
    too_long = replace(HUNDRED, tolerance=due.Tolerance(hours=Decimal(100)))
    bad = [kept_before(job, replace(too_long, name=name)) for name in ("crack check", "bolt check")]
    flown(job, "612.0", 3)
    signed = sign_off(job.shop.anna, yearly.pk, on_paper(job, 2))
    withdraw_sign_off(job.shop.anna, signed.pk, "another aircraft's paper")
    assert "less than the interval of 100" in state(job).because
    assert len(checks_ahead(job.shop.anna.person).refused) == 2
    for each in bad:
        with pytest.raises(InputRefused) as refused:
            correct_task(job.shop.anna, each.pk, Line(replace(too_long, name=each.name)), "looked at again")
        assert [one.field for one in refused.value.refusals] == ["tolerance.hours"]
        correct_task(job.shop.anna, each.pk, Line(replace(HUNDRED, name=each.name)), "the manual gives none")
    assert checks_ahead(job.shop.anna.person).refused == ()


def test_a_contradiction_that_an_act_makes_is_refused_by_the_name_of_its_check(job: Merle) -> None:
    """Hours of a sign-off that make another check's history run ahead: refused, and that check is named."""
    made, yearly = task(job), task(job, YEARLY)
    flown(job, "612.0", 9)
    sign_off(job.shop.anna, made.pk, on_paper(job, 5, "612.5"))
    withdraw_counter_reading(job.shop.anna, CounterReading.objects.get(shown=Decimal("612.5")).pk, "a wrong digit")
    with pytest.raises(InputRefused) as refused:
        sign_off(job.shop.anna, yearly.pk, on_paper(job, 3, "612.2"))
    (one,) = refused.value.refusals
    assert (one.field, one.value) == ("crack check", "612.5")
    assert not CounterReading.objects.filter(shown=Decimal("612.2")).exists()


def test_a_task_without_history_is_unknown_and_a_sign_off_makes_it_coming(job: Merle) -> None:
    made = task(job)
    flown(job, "612.0", 3)
    assert state(job).state == "unknown"
    sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5"))
    found = state(job)
    assert (found.state, found.due_at.hours, found.remaining.hours) == ("coming", Decimal("712.5"), Decimal("100.0"))


def test_hours_that_nobody_read_are_unknown_never_coming(job: Merle) -> None:
    """No reading at all: unknown. The reading of the sign-off withdrawn again: unknown again."""
    made = task(job)
    signed = sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5"))
    assert state(job).state == "coming"
    withdraw_counter_reading(job.shop.anna, CounterReading.objects.get().pk, "misread")
    assert signed.hours == Decimal("612.5")
    assert state(job).state == "unknown"


def test_landings_older_than_the_hours_are_unknown(job: Merle) -> None:
    rule = replace(HUNDRED, name="hinge pins", every=due.Interval(landings=500))
    flown(job, "612.0", 5)
    flown(job, "900", 5, "landings")
    sign_off(job.shop.anna, task(job, rule).pk, replace(on_paper(job, 5), landings=Decimal(900)))
    assert state(job, "hinge pins").state == "coming"
    flown(job, "620.0", 1)
    assert state(job, "hinge pins").state == "unknown"
    flown(job, "910", 1, "landings")
    assert state(job, "hinge pins").remaining.landings == 490


def test_a_changed_meter_goes_on_in_totals(job: Merle) -> None:
    """Also with a reading of the old meter on the very day of the change."""
    flown(job, "801.5", 10)
    sign_off(job.shop.anna, task(job).pk, on_paper(job, 10, "801.5"))
    change_meter(
        job.shop.anna,
        job.aircraft.pk,
        "hours",
        old_shown=Decimal("801.5"),
        new_shown=Decimal(0),
        on=days_ago(job.shop, 10),
    )
    assert state(job).remaining.hours == Decimal("100.0")
    flown(job, "40.5", 1)
    found = state(job)
    assert (found.remaining.hours, found.due_at.hours, found.due_at.hours_on_meter) == (
        Decimal("59.5"),
        Decimal("901.5"),
        Decimal("100.0"),
    )


def test_a_part_takes_its_hours_along(shop: Fenholt, job: Merle) -> None:
    """122.4 h when new, 50 h on the first aircraft, moved: its task counts the part's own hours."""
    other = merle(shop, serial="T2-01")
    flown(other, "3000.0", 40)
    part = add_part(shop.anna, "arm", "0071", hours_when_new_fitted=Decimal("122.4"))
    fit_part(shop.anna, part.pk, other.aircraft.pk, days_ago(shop, 40))
    flown(other, "3050.0", 20)
    remove_part(shop.anna, part.pk, days_ago(shop, 20), "moved")
    flown(job, "600.0", 20)
    fit_part(shop.anna, part.pk, job.aircraft.pk, days_ago(shop, 20))
    (made,) = add_tasks(shop.anna, [part.pk], Line(HUNDRED))
    row = sign_off(shop.anna, made.pk, on_paper(job, 10, "610.0"))
    assert row.hours == Decimal("182.4")
    flown(job, "630.0", 1)
    found = state(job)
    assert (found.part, found.aircraft, found.due_at.hours, found.remaining.hours) == (
        "arm 0071",
        job.aircraft.registration,
        Decimal("282.4"),
        Decimal("80.0"),
    )
    earlier = sign_off(shop.anna, made.pk, on_paper(job, 30, "3020.0"))
    assert earlier.hours == Decimal("142.4")


def test_a_part_takes_its_landings_along(shop: Fenholt, job: Merle) -> None:
    """40 when new, 60 on the first aircraft, then 25 on the second: of 300, 285 are left after the check at 110."""
    rule = due.Task("crack check", source="directive", every=due.Interval(landings=300), counts_from="done")
    other = merle(shop, serial="T2-01")
    for shown, days in (("900", 40), ("960", 20)):
        flown(other, str(int(shown) // 2), days)
        flown(other, shown, days, "landings")
    part = add_part(shop.anna, "arm", "0071", hours_when_new_fitted=Decimal(0), landings_when_new_fitted=40)
    fit_part(shop.anna, part.pk, other.aircraft.pk, days_ago(shop, 40))
    remove_part(shop.anna, part.pk, days_ago(shop, 20), "moved")
    flown(job, "600.0", 20)
    fit_part(shop.anna, part.pk, job.aircraft.pk, days_ago(shop, 20), at_landings=2000)
    (made,) = add_tasks(shop.anna, [part.pk], Line(rule))
    first = sign_off(shop.anna, made.pk, replace(on_paper(job, 40, "450.0"), landings=Decimal(900)))
    assert first.landings == 40
    flown(job, "630.0", 1)
    flown(job, "2025", 1, "landings")
    assert (state(job).due_at.landings, state(job).remaining.landings) == (340, 215)
    again = sign_off(shop.anna, made.pk, replace(on_paper(job, 10, "610.0"), landings=Decimal(2010)))
    assert again.landings == 110
    found = state(job)
    assert (found.due_at.landings, found.due_at.aircraft_landings, found.remaining.landings) == (410, 2310, 285)


def test_landings_of_a_part_that_were_not_read_on_the_day_are_unknown(job: Merle) -> None:
    """A reading of another day would give the part landings it never made."""
    rule = due.Task("crack check", source="directive", every=due.Interval(landings=300), counts_from="done")
    flown(job, "600.0", 30)
    flown(job, "1900", 30, "landings")
    part = add_part(job.shop.anna, "arm", "0073", hours_when_new_fitted=Decimal(0), landings_when_new_fitted=0)
    assert fit_part(job.shop.anna, part.pk, job.aircraft.pk, days_ago(job.shop, 10)).fitted_at_landings is None
    (made,) = add_tasks(job.shop.anna, [part.pk], Line(rule))
    row = sign_off(job.shop.anna, made.pk, replace(on_paper(job, 5, "610.0"), landings=Decimal(1950)))
    assert row.landings is None
    assert state(job).state == "unknown"


def test_a_part_fitted_at_hours_that_nobody_wrote_is_unknown(job: Merle) -> None:
    part = add_part(job.shop.anna, "arm", "0072", hours_when_new_fitted=Decimal(0))
    fit_part(job.shop.anna, part.pk, job.aircraft.pk, days_ago(job.shop, 30))
    flown(job, "600.0", 1)
    (made,) = add_tasks(job.shop.anna, [part.pk], Line(HUNDRED))
    assert made.part == part
    assert state(job).state == "unknown"


def test_a_corrected_rule_holds_and_the_ledger_keeps_both(job: Merle) -> None:
    made = task(job)
    sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5"))
    line = Line(replace(HUNDRED, every=due.Interval(hours=Decimal(50))), job.row.issue_id, ("weld", "lock"))
    correct_task(job.shop.anna, made.pk, line, "issue 3")
    assert state(job).due_at.hours == Decimal("662.5")
    corrected, signed, added = entries_of_task(job.shop.anna.person, made.pk)
    assert corrected.changed == (
        ("check points", "", "weld; lock"),
        ("issue", "", "MM-T2-03, 4"),
        ("rule every hours", "100.0 h", "50.0 h"),
    )
    assert (corrected.says, signed.kind, added.by) == ({"reason": "issue 3"}, "check signed off", "Anna Berg")
    assert ("hours", "612.5 h") in signed.held, "as it was entered: the column keeps four decimals"


def test_a_task_that_ended_is_closed_and_one_taken_out_is_gone(job: Merle) -> None:
    made, second = task(job), task(job, YEARLY)
    end_task(job.shop.anna, made.pk, days_ago(job.shop, 1), "new arm fitted")
    assert state(job).state == "closed"
    withdraw_task(job.shop.anna, second.pk, "not in the programme")
    assert [each.task.name for each in checks_ahead(job.shop.anna.person).checks] == ["crack check"]


def test_a_name_stands_once_for_an_aircraft(job: Merle) -> None:
    task(job)
    with pytest.raises(InputRefused, match="crack check"):
        task(job)


def test_an_owner_sees_own_aircraft_with_the_parts_on_them(shop: Fenholt, job: Merle) -> None:
    """Of another's aircraft nothing: no task, no name, no total."""
    other = merle(shop, owner=shop.fred, serial="T2-01")
    part = add_part(shop.anna, "arm", "0071", hours_when_new_fitted=Decimal(0))
    fit_part(shop.anna, part.pk, job.aircraft.pk, days_ago(shop, 3), at_hours=Decimal(5))
    add_tasks(shop.anna, [job.aircraft.pk, other.aircraft.pk], Line(YEARLY))
    (hidden,) = add_tasks(shop.anna, [other.aircraft.pk], Line(HUNDRED))
    add_tasks(shop.anna, [part.pk], Line(replace(HUNDRED, name="arm check")))
    seen = checks_ahead(shop.dora.person)
    assert {(each.state.aircraft, each.task.name) for each in seen.checks} == {
        (job.aircraft.registration, "annual check"),
        (job.aircraft.registration, "arm check"),
    }
    assert other.aircraft.registration not in repr(seen)
    with pytest.raises(Nowhere):
        task_in_full(shop.dora.person, hidden.pk)
    assert len(checks_ahead(shop.bo.person).checks) == 4


def test_a_contradiction_in_old_rows_makes_its_own_tasks_unknown_and_no_others(shop: Fenholt, job: Merle) -> None:
    """A row that no act would write: the hangar opens all the same, and says what contradicts itself."""
    other = merle(shop, serial="T2-01")
    add_tasks(shop.anna, [job.aircraft.pk, other.aircraft.pk], Line(YEARLY))
    day = days_ago(shop, 5)
    with write_door(shop.anna, "meter changed") as entry:
        for shown in ("50.0", "10.0"):
            entry.keep(
                MeterChange(
                    aircraft=job.aircraft, counter="hours", changed_on=day, old_shown=Decimal(shown),
                    new_shown=Decimal("90.0"),
                )
            )  # fmt: skip
    found = checks_ahead(shop.anna.person)
    assert [each.state.state for each in found.checks] == ["unknown", "unknown"]
    told = {each.state.aircraft: each.state.because for each in found.checks}
    assert "contradicts itself" in told[job.aircraft.registration]
    assert "contradicts itself" not in told[other.aircraft.registration]
    assert found.refused


@pytest.mark.slow
def test_the_queries_do_not_grow_with_the_fleet(shop: Fenholt, job: Merle, django_assert_max_num_queries: Any) -> None:
    """One aircraft or four, and once again from what was kept."""
    planes = [job, *(merle(shop, serial=f"T2-0{number}") for number in (4, 5, 6))]
    for plane in planes:
        add_tasks(shop.anna, [plane.aircraft.pk], Line(YEARLY))
    with django_assert_max_num_queries(16):
        first = checks_ahead(shop.anna.person)
    with django_assert_max_num_queries(6):
        again = checks_ahead(shop.anna.person)
    assert first is again
    assert len(first.checks) == 4


def test_every_entry_makes_the_state_anew(job: Merle) -> None:
    made = task(job)
    kept: list[ChecksAhead] = [checks_ahead(job.shop.anna.person)]
    for act in (
        lambda: flown(job, "612.0", 3),
        lambda: sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5")),
        lambda: flown(job, "700.0", 1),
    ):
        act()
        kept.append(checks_ahead(job.shop.anna.person))
    assert [each.checks[0].state.state for each in kept] == ["unknown", "unknown", "coming", "coming"]
    assert kept[-1].checks[0].used == pytest.approx(0.875)


def test_a_calendar_address_is_ones_own_and_ends(shop: Fenholt) -> None:
    first = make_feed(shop.dora)
    assert person_of_feed(first) == shop.dora.person
    second = make_feed(shop.dora)
    assert person_of_feed(first) is None
    assert first not in "".join(Entry.objects.values_list("body", flat=True))
    end_feed(shop.dora)
    assert person_of_feed(second) is None
    assert person_of_feed("") is None


def test_the_most_urgent_comes_first(job: Merle) -> None:
    """Overdue, due, unknown, coming with the nearest first, then not applicable and closed."""
    day = days_ago(job.shop, 30)
    rules = {
        "closed": replace(YEARLY, every=None, start=due.Start(not_later_than=day)),
        "not applicable": replace(YEARLY, applies=False),
        "far": replace(YEARLY, every=due.Interval(days=90)),
        "near": replace(YEARLY, every=due.Interval(days=40)),
        "unknown": HUNDRED,
        "due": replace(YEARLY, before_next_flight=True, every=None, counts_from=None, months_are=None),
        "overdue": replace(YEARLY, every=due.Interval(days=29)),
    }
    for name, rule in rules.items():
        made = task(job, replace(rule, name=name))
        if name in ("closed", "far", "near", "overdue"):
            sign_off(job.shop.anna, made.pk, on_paper(job, 30))
    listed = [each.task.name for each in checks_ahead(job.shop.anna.person).checks]
    assert listed == ["overdue", "due", "unknown", "near", "far", "not applicable", "closed"]


@pytest.mark.slow
@pytest.mark.parametrize("seed", range(6))
def test_what_is_brought_up_to_date_is_what_is_worked_out_anew(shop: Fenholt, job: Merle, seed: int) -> None:
    """After every act of a random story: the same checks, totals and question, in the same order."""
    choose, other = random.Random(seed), merle(shop, serial="T2-01")
    part = add_part(shop.anna, "arm", "0071", hours_when_new_fitted=Decimal(0))
    fit_part(shop.anna, part.pk, job.aircraft.pk, days_ago(shop, 90), at_hours=Decimal(0))
    owners = [job.aircraft.pk, other.aircraft.pk, part.pk]
    released(job)
    for number in range(24):
        with contextlib.suppress(InputRefused, NotAllowed, Nowhere, IndexError):
            choose.choice(acts_of_the_hangar(shop, job, other, part, owners, choose, number))()
        kept, anew = of_workshop(shop.workshop, today(shop.workshop)), asked_of(shop.workshop, today(shop.workshop))
        assert kept.question == anew.question, number
        assert kept == worked_out(anew), number


def acts_of_the_hangar(
    shop: Fenholt, job: Merle, other: Merle, part: Any, owners: list[Any], choose: random.Random, number: int
) -> list[Any]:
    """Everything that moves a due point, and something that does not."""
    anna, tasks = shop.anna, list(Task.objects.filter(withdrawn_because="").order_by("pk"))
    day, plane = choose.randrange(0, 60), choose.choice([job, other])
    hours = str(1000 - 5 * day + number / 10)
    some = choose.choice(tasks).pk if tasks else job.aircraft.pk
    return [
        lambda: add_tasks(anna, [choose.choice(owners)], Line(replace(HUNDRED, name=f"check {number}"))),
        lambda: add_tasks(anna, owners, Line(replace(YEARLY, name=f"yearly {number}"))),
        lambda: flown(plane, hours, day),
        lambda: sign_off(anna, some, on_paper(job, day, hours)),
        lambda: sign_off(anna, some, DoneAs(job=job.job.pk, hours=Decimal("990.0"))),
        lambda: withdraw_sign_off(anna, choose.choice(list(SignOff.objects.order_by("pk"))).pk, "slipped"),
        lambda: correct_task(anna, some, Line(replace(YEARLY, name=f"renamed {number}")), "new issue"),
        lambda: withdraw_task(anna, some, "not ours"),
        lambda: withdraw_release(shop.cy, job.job.pk, "wrong", proof(shop.cy)),
        lambda: remove_part(anna, part.pk, days_ago(shop, 0), "off"),
        lambda: fit_part(anna, part.pk, other.aircraft.pk, days_ago(shop, 0), at_hours=Decimal(990)),
        lambda: make_feed(shop.dora),
    ]
