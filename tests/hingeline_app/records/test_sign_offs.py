"""A check that was done, or put off: on what it rests, who may say so, and what it moves."""

from __future__ import annotations

from decimal import Decimal

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.releasing import withdraw_release
from hingeline_app.records.actions.signing_off import DoneAs, put_off, sign_off, withdraw_sign_off
from hingeline_app.records.dates import today
from hingeline_app.records.models import CounterReading, Entry, SignOff
from hingeline_app.records.queries.job_history import history_of_job
from tests.hingeline_app.records.checks_ahead_kept import YEARLY, days_ago, flown, on_paper, state, task
from tests.hingeline_app.records.merle import Merle, proof, released


def test_a_sign_off_on_a_job_stands_while_its_release_stands(job: Merle) -> None:
    made = task(job)
    flown(job, "612.0", 1)
    with pytest.raises(NotAllowed):
        sign_off(job.shop.anna, made.pk, DoneAs(job=job.job.pk, hours=Decimal("612.0")))
    released(job)
    row = sign_off(job.shop.anna, made.pk, DoneAs(job=job.job.pk, hours=Decimal("612.0")))
    assert row.done_on == today(job.shop.workshop)
    assert state(job).state == "coming"
    told = history_of_job(job.shop.anna.person, job.job.pk)
    assert told[-1].kind == "check signed off", "the job's history tells what rests on it"
    assert ("task", made.name) in [(each.field, each.now) for each in told[-1].changes]
    withdraw_release(job.shop.cy, job.job.pk, "wrong surface", proof(job.shop.cy))
    assert state(job).state == "unknown"


def test_a_sign_off_rests_on_a_job_or_a_paper_with_its_signer(job: Merle) -> None:
    made = task(job, YEARLY)
    for bare in (DoneAs(days_ago(job.shop, 1)), DoneAs(days_ago(job.shop, 1), paper="CRS 17")):
        with pytest.raises(InputRefused):
            sign_off(job.shop.anna, made.pk, bare)
    with pytest.raises(InputRefused):
        sign_off(job.shop.anna, made.pk, on_paper(job, -1))
    assert not SignOff.objects.exists()


@pytest.mark.parametrize("who", ["bo", "dora", "ed"])
def test_who_neither_works_nor_certifies_signs_nothing_off(job: Merle, who: str) -> None:
    made = task(job)
    with pytest.raises(NotAllowed):
        sign_off(getattr(job.shop, who), made.pk, on_paper(job, 1, "612.0"))


def test_a_sign_off_that_contradicts_the_counters_is_refused_whole(job: Merle) -> None:
    """More hours than a later reading: neither the sign-off nor a reading of it is kept."""
    made = task(job)
    flown(job, "612.0", 1)
    with pytest.raises(InputRefused):
        sign_off(job.shop.anna, made.pk, on_paper(job, 5, "700.0"))
    assert CounterReading.objects.count() == 1
    assert not SignOff.objects.exists()


def test_hours_are_asked_for_where_the_next_one_counts_from_them(job: Merle) -> None:
    with pytest.raises(InputRefused, match="hours"):
        sign_off(job.shop.anna, task(job).pk, on_paper(job, 1))


def test_a_withdrawn_sign_off_counts_no_more_and_stays(job: Merle) -> None:
    made = task(job)
    row = sign_off(job.shop.anna, made.pk, on_paper(job, 2, "612.5"))
    withdraw_sign_off(job.shop.anna, row.pk, "another aircraft's")
    assert state(job).state == "unknown"
    assert SignOff.objects.get().withdrawn_because == "another aircraft's"
    kinds = list(Entry.objects.order_by("position").filter(chain="records").values_list("kind", flat=True))
    assert kinds[-2:] == ["check signed off", "sign-off withdrawn"]


def test_what_was_put_off_is_kept_and_moves_no_due_point(job: Merle) -> None:
    made = task(job, YEARLY)
    sign_off(job.shop.anna, made.pk, on_paper(job, 400))
    before = state(job, "annual check")
    assert before.state == "overdue"
    put_off(job.shop.anna, made.pk, approval="VAR 3", reason="hangar is full", until_date=today(job.shop.workshop))
    assert state(job, "annual check") == before


def test_a_directive_is_not_put_off(job: Merle) -> None:
    with pytest.raises(InputRefused, match="directive"):
        put_off(job.shop.anna, task(job).pk, approval="VAR 3", reason="full", until_hours=Decimal(1))
