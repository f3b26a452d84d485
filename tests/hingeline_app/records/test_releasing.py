"""Release: by whom, and what stands in its way."""

from __future__ import annotations

from datetime import date, timedelta
from pathlib import Path
from typing import Any

import pytest

from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import check_scale, renew_certificate
from hingeline_app.records.actions.inspecting import (
    ask_for_inspection,
    look,
    sign_as_second,
)
from hingeline_app.records.actions.jobs import set_detail
from hingeline_app.records.actions.limits import add_issue
from hingeline_app.records.actions.measuring import open_measurement, record_result, withdraw_reading
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.releasing import release, withdraw_release
from hingeline_app.records.actions.rights import confirm_right, give_right
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.models import Job, Signature
from hingeline_app.records.permission import Matter
from hingeline_app.records.queries.matter import RELEASE
from hingeline_app.records.queries.open_points import open_points
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, Act
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import (
    CHECKED,
    INSIDE,
    PLAN,
    Merle,
    inspected,
    merle,
    proof,
    refused_release,
    released,
    weighed,
)
from tests.hingeline_app.records.workshop import PASSWORD, no_bench


def test_a_released_job_is_not_released_again(job: Merle) -> None:
    """The inspection still stands; only a withdrawal opens the job."""
    released(job)
    with pytest.raises(NotAllowed, match="withdraw"):
        release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)
    assert Signature.objects.filter(purpose=RELEASE).count() == 1


def test_the_second_inspector_does_not_release(job: Merle) -> None:
    """The two signatures under a job are by two persons."""
    weighed(job)
    inspected(job, by=job.shop.cy)
    refused_release(job, "another person")


def test_only_a_certifying_person_releases(job: Merle) -> None:
    weighed(job)
    inspected(job)
    for actor in (job.shop.anna, job.shop.bo, job.shop.ed, job.shop.dora):
        with pytest.raises(NotAllowed):
            release(actor, job.as_seen, proof(actor), judge=no_bench)


def test_without_a_weighing_nothing_is_released(job: Merle) -> None:
    inspected(job)
    refused_release(job, "no result")


@pytest.mark.parametrize("statement", ["outside", "too close to tell", None])
def test_what_is_not_shown_to_be_inside_is_not_released(job: Merle, statement: str | None) -> None:
    """Also where the rule that the approved data does not ask for says inside: the library's one statement counts."""
    weighed(job, result=INSIDE | {"statement": statement, "statement_simple": "inside"})
    inspected(job)
    refused_release(job, "too close to tell" if statement == "too close to tell" else "not shown to be inside")


def test_a_treatment_with_a_mass_asks_for_a_new_weighing(job: Merle) -> None:
    """Entered after weighing 1 was begun: weighing 1 is of another surface. Without a mass nothing is asked."""
    weighed(job)
    row = {"what": "primer", "mass": "", "after_weighing": 1}
    set_detail(job.shop.anna, job.job.pk, "arm.treatment", None, row)
    assert [str(each) for each in open_points(job.now)] == []
    set_detail(job.shop.anna, job.job.pk, "arm.treatment", row, row | {"mass": "12 g"})
    assert "weigh again" in str(open_points(job.now)[0])
    weighed(job)
    assert open_points(job.now) == []


def test_two_persons_are_enough_for_a_workshop_and_one_is_not(db: None, tmp_path: Path, settings: Any) -> None:
    """Both administer: one gives the certifying role, the other agrees to it; the giver alone never can."""
    settings.JOURNAL_FOLDER = tmp_path / "journal"
    founded = set_up_workshop("Two", person="Ada One", initials="AO", sign_in_name="ada", password=PASSWORD)
    ada = Actor(founded.workshop, founded.person, founded.account)
    person = add_person(ada, "Ben Two", "BT", licence_number="FH.66.9")
    ben = Actor(founded.workshop, person, add_account(ada, person.pk, "ben", PASSWORD))
    right = give_right(ada, person.pk, CERTIFYING)
    with pytest.raises(NotAllowed):
        confirm_right(ada, right.pk)
    with pytest.raises(NotAllowed):
        confirm_right(ben, right.pk)
    give_right(ada, person.pk, ADMINISTRATOR)
    confirm_right(ben, right.pk)
    assert may(person, Act.RELEASE, Matter(inspected_by=ada.person.pk, is_proved=True)).allowed  # type: ignore[union-attr]


def test_fitted_ballast_asks_for_another_weighing(job: Merle) -> None:
    """Table 3, line 30."""
    weighed(job)
    proposal = propose_ballast(job.shop.anna, job.job.pk, PLAN)
    fit_ballast(job.shop.anna, proposal.pk)
    inspected(job)
    refused_release(job, "weigh again")
    weighed(job)
    inspected(job)
    assert release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)


def test_a_result_of_the_weighing_before_does_not_count_for_the_fitted_surface(job: Merle) -> None:
    first = weighed(job)
    fit_ballast(job.shop.anna, propose_ballast(job.shop.anna, job.job.pk, PLAN).pk)
    record_result(job.shop.anna, job.job.pk, INSIDE, measurement=first.pk)
    inspected(job)
    refused_release(job, "weigh again")


def test_a_result_older_than_a_reading_does_not_count(job: Merle) -> None:
    weighing = weighed(job)
    withdraw_reading(job.shop.anna, weighing.readings.first().pk, "slipped")
    inspected(job)
    refused_release(job, "work it out again")


def test_a_begun_weighing_without_a_result_is_in_the_way(job: Merle) -> None:
    weighed(job)
    open_measurement(job.shop.anna, job.job.pk, "weighing")
    inspected(job)
    refused_release(job, "no result")


def test_superseded_limits_are_in_the_way(job: Merle) -> None:
    weighed(job)
    inspected(job)
    add_issue(job.shop.anna, job.row.issue.document_id, "5", date(2025, 1, 1))
    refused_release(job, "superseded")


def test_a_scale_whose_certificate_expired_is_in_the_way(job: Merle) -> None:
    """Table 3, line 22: the weighing is kept."""
    yesterday = date.today() - timedelta(days=1)
    renew_certificate(job.shop.anna, job.scale.pk, "C 16", yesterday - timedelta(days=365), yesterday, {})
    weighed(job)
    inspected(job)
    refused_release(job, "certificate")


def test_a_scale_that_missed_its_check_weight_is_in_the_way(job: Merle) -> None:
    assert check_scale(job.shop.anna, job.scale.pk, "1.005 kg").is_within
    assert not check_scale(job.shop.anna, job.scale.pk, "1.010 kg").is_within
    weighed(job)
    inspected(job)
    refused_release(job, "check weight")


def test_a_release_is_withdrawn_by_a_new_entry_and_needs_all_anew(job: Merle) -> None:
    released(job)
    with pytest.raises(NotAllowed):
        withdraw_release(job.shop.anna, job.job.pk, "wrong surface", proof(job.shop.anna))
    withdraw_release(job.shop.cy, job.job.pk, "wrong surface", proof(job.shop.cy))
    assert job.now.state == "open"
    assert Signature.objects.get(purpose=RELEASE).withdrawn_because == "wrong surface"
    refused_release(job, "no second inspection")
    with pytest.raises(NotAllowed, match="not released"):
        withdraw_release(job.shop.cy, job.job.pk, "again", proof(job.shop.cy))


def test_the_jobs_of_an_order_are_released_together_or_not_at_all(job: Merle) -> None:
    other = merle(job.shop, serial="T2-04")
    for each in (job, other):
        weighed(each)
        for item in ask_for_inspection(job.shop.anna, each.job.pk, [CHECKED]):
            look(job.shop.bo, item.pk, "agreed")
    sign_as_second(job.shop.bo, job.as_seen | other.as_seen, proof(job.shop.bo))
    with pytest.raises(Moved):
        release(job.shop.cy, job.as_seen | {other.job.pk: "0" * 64}, proof(job.shop.cy), judge=no_bench)
    assert {each.state for each in Job.objects.all()} == {"open"}
    assert len(release(job.shop.cy, job.as_seen | other.as_seen, proof(job.shop.cy), judge=no_bench)) == 2
