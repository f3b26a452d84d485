"""Second inspection and release: by another person, item by item, under what was seen, with fresh proof."""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import date, timedelta
from pathlib import Path
from typing import Any
from uuid import uuid4

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions import signing
from hingeline_app.records.actions.accounts import add_account
from hingeline_app.records.actions.ballast import fit_ballast, propose_ballast
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.equipment import check_scale, renew_certificate
from hingeline_app.records.actions.inspecting import (
    WITNESS_WORKED,
    Disturbed,
    ask_for_inspection,
    look,
    sign_again,
    sign_as_second,
)
from hingeline_app.records.actions.jobs import choose_limits, set_detail
from hingeline_app.records.actions.limits import add_issue
from hingeline_app.records.actions.measuring import add_reading, open_measurement, record_result, withdraw_reading
from hingeline_app.records.actions.people import add_person, correct_person
from hingeline_app.records.actions.releasing import CLOSE_TOGETHER, ON_OWN_INSPECTION, release, withdraw_release
from hingeline_app.records.actions.rights import confirm_right, give_right
from hingeline_app.records.actions.signing import LICENCE_NUMBER
from hingeline_app.records.actions.tablets import enrol_tablet
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.actions.workshop import set_up_workshop
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.dates import now
from hingeline_app.records.looking import look as looking
from hingeline_app.records.looking import look_at_the_records
from hingeline_app.records.looking.signed_texts import faults_of, signature_findings
from hingeline_app.records.models import Entry, InspectionItem, Job, Signature
from hingeline_app.records.permission import Matter
from hingeline_app.records.queries.items import items_of
from hingeline_app.records.queries.job_record import printed_part
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.matter import AGAIN, RELEASE, SECOND, standing_signature
from hingeline_app.records.queries.open_points import open_points
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import ADMINISTRATOR, CERTIFYING, Act
from hingeline_app.records.ways_in import PASSKEY, PIN, STRONG
from hingeline_app.records.write_door import Actor, write_door
from tests.hingeline_app.records.merle import (
    CHECKED,
    INSIDE,
    PLAN,
    Merle,
    inspected,
    merle,
    proof,
    released,
    weighed,
)
from tests.hingeline_app.records.workshop import PASSWORD, Fenholt, no_bench, with_role


@pytest.fixture
def job(shop: Fenholt) -> Merle:
    return merle(shop)


def refused_release(job: Merle, words: str) -> None:
    with pytest.raises(NotAllowed, match=words):
        release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)
    assert job.now.state == "open"


def test_a_job_is_weighed_inspected_and_released(job: Merle) -> None:
    released(job)
    assert job.now.state == "released"
    signatures = Signature.objects.order_by("change")
    assert [each.purpose for each in signatures] == [SECOND, RELEASE]
    assert [faults_of(each) for each in signatures] == [[], []]
    # The inspection was one change before the release, which is none of its own.
    assert [standing_signature(job.now, purpose) for purpose in (SECOND, RELEASE)] == list(signatures)


def test_a_signature_says_where_the_ledger_stood(job: Merle) -> None:
    """Position and digest of the entry just before the one that it was made in."""
    released(job)
    entries = {each.position: each for each in Entry.objects.filter(workshop=job.shop.workshop, chain="records")}
    after = {each.purpose: json.loads(each.text)["after"] for each in Signature.objects.all()}
    made_in = {purpose: entries[at["position"] + 1].kind for purpose, at in after.items()}
    assert made_in == {SECOND: "second inspection signed", RELEASE: "released"}
    assert all(entries[at["position"]].digest == at["digest"] for at in after.values())


def test_a_signature_shows_name_and_licence_as_they_were_signed(job: Merle) -> None:
    """Renamed and with another licence since, the signer stands on page and paper as the signature's text says."""
    released(job)
    cy, reader = job.shop.cy.person, job.shop.anna.person
    details: dict[str, Any] = {"name": "Cy Vale-Berg", "initials": "CV", "licence_number": "DE.66.NEW"}
    correct_person(job.shop.fred, cy.pk, "married", licence_expires=None, **details)
    on_page = next(each for each in job_of(reader, job.job.number).signatures if each.purpose == RELEASE)
    on_paper = next(each for each in printed_part(reader, job.job.number).signatures if each.purpose == RELEASE)
    for each in (on_page, on_paper):
        assert (each.signer, each.licence_number) == (cy.name, cy.licence_number)


def test_the_workers_word_is_hidden_until_the_inspector_has_looked(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    assert items_of(job.shop.bo.person, job.job)[0].tick is None
    look(job.shop.bo, item.pk, "not looked at")
    assert items_of(job.shop.bo.person, job.job)[0].tick is None
    look(job.shop.bo, item.pk, "differs", "one screw is loose")
    assert items_of(job.shop.bo.person, job.job)[0].tick == "torqued and locked"


def test_an_item_has_a_name_of_two_hundred_characters_at_most(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [Disturbed("s" * 200, "locked")])
    assert len(item.name) == 200
    with pytest.raises(InputRefused, match="200"):
        ask_for_inspection(job.shop.anna, job.job.pk, [Disturbed("s" * 201, "locked")])


def test_who_may_not_inspect_does_not_look_either(job: Merle) -> None:
    """An engineer without part in the work and an administrator find nothing at an item; no look is kept."""
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    for actor in (with_role(job.shop, "Gus Ray", "GR", "engineer", "FH.66.77"), job.shop.ed):
        with pytest.raises(NotAllowed, match="None of your roles"):
            look(actor, item.pk, "agreed")
    assert not item.looks.exists()


@pytest.mark.parametrize("finding", [None, "differs", "not looked at"])
def test_an_open_item_is_not_signed(job: Merle, finding: str | None) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    if finding:
        look(job.shop.bo, item.pk, finding)
    with pytest.raises(NotAllowed, match="screws"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))


def test_the_last_look_counts(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "differs")
    look(job.shop.bo, item.pk, "agreed", "screw was replaced")
    assert sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))


def test_nothing_listed_is_nothing_inspected(job: Merle) -> None:
    with pytest.raises(NotAllowed, match="Nothing is listed"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    with pytest.raises(InputRefused):
        ask_for_inspection(job.shop.anna, job.job.pk, [])


@pytest.mark.fault("F36")
def test_who_worked_is_not_the_second_whichever_account(job: Merle) -> None:
    """Fault F36: two accounts of one person."""
    weighed(job, by=job.shop.cy)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    second = add_account(job.shop.fred, job.shop.cy.person.pk, "cy-second", PASSWORD)
    for actor in (job.shop.cy, Actor(job.shop.workshop, job.shop.cy.person, second)):
        look(actor, item.pk, "agreed")
        with pytest.raises(NotAllowed, match="whichever account"):
            sign_as_second(actor, job.as_seen, proof(actor))
    assert not Signature.objects.exists()


def test_even_one_reading_makes_a_worker(job: Merle) -> None:
    weighing = weighed(job)
    add_reading(job.shop.cy, weighing.pk, "840 g")
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.cy, job.as_seen, proof(job.shop.cy))


def _tick(job: Merle, actor: Actor) -> None:
    set_detail(actor, job.job.pk, "arrive.drains", None, "open")


def _choose(job: Merle, actor: Actor) -> None:
    choose_limits(actor, job.job.pk, job.row.pk, job.now.limit_row_id)


def _there_and_back(job: Merle, actor: Actor) -> None:
    _tick(job, actor)
    set_detail(actor, job.job.pk, "arrive.drains", "open", None)


@pytest.mark.parametrize("act", [_tick, _choose, _there_and_back])
def test_a_tick_or_a_choice_makes_a_worker_even_where_it_was_taken_back(
    job: Merle, act: Callable[[Merle, Actor], None]
) -> None:
    """What leaves no row of its own counts too: whoever answered for arrival or limits does not inspect them."""
    act(job, job.shop.cy)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.cy, job.as_seen, proof(job.shop.cy))


def test_to_look_and_to_sign_makes_no_worker(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "agreed")
    sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    assert str(job.shop.bo.person.pk) not in job.now.worked_on_by


def test_a_licence_that_expires_today_does_not_sign(job: Merle) -> None:
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "agreed")
    details = {"name": "Bo Lind", "initials": "BL", "licence_number": "FH.66.3"}
    correct_person(job.shop.fred, job.shop.bo.person.pk, "checked", licence_expires=date.today(), **details)
    with pytest.raises(NotAllowed, match="expired"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))


def test_a_signature_needs_fresh_proof_of_its_own_person(job: Merle) -> None:
    weighed(job)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "agreed")
    bo = job.shop.bo
    for bad in (proof(bo, age=121), proof(bo, age=-5), proof(job.shop.cy), proof(bo, PIN), proof(bo, LICENCE_NUMBER)):
        with pytest.raises(NotAllowed, match="Prove again"):
            sign_as_second(bo, job.as_seen, bad)
    assert sign_as_second(bo, job.as_seen, proof(bo, PASSKEY, over=job.seen))


def test_a_pin_releases_nothing(job: Merle) -> None:
    weighed(job)
    inspected(job)
    tablet = enrol_tablet(job.shop.fred, "Bench 1").tablet
    cy = replace(job.shop.cy, tablet=tablet)
    other = "0" * 64
    for bad in (proof(cy, PIN), proof(cy, age=300), proof(job.shop.bo), proof(cy, PASSKEY), proof(cy, over=other)):
        with pytest.raises(NotAllowed, match="Prove again"):
            release(cy, job.as_seen, bad, judge=no_bench)
    assert release(cy, job.as_seen, proof(cy, PASSKEY, over=job.seen), judge=no_bench)


@pytest.mark.fault("F38")
def test_what_changed_between_view_and_signature_is_not_signed(job: Merle) -> None:
    """Fault F38."""
    weighing = weighed(job)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.bo, item.pk, "agreed")
    seen = job.as_seen
    add_reading(job.shop.anna, weighing.pk, "840 g")
    with pytest.raises(Moved):
        sign_as_second(job.shop.bo, seen, proof(job.shop.bo))
    weighed(job)
    inspected(job)
    seen = job.as_seen
    withdraw_reading(job.shop.anna, weighing.readings.first().pk, "slipped")
    with pytest.raises((Moved, NotAllowed)):
        release(job.shop.cy, seen, proof(job.shop.cy), judge=no_bench)


@pytest.mark.fault("F37")
def test_a_signature_holds_for_its_own_job_only(job: Merle) -> None:
    """Fault F37: the text of one job's signature under another job, and for another purpose."""
    released(job)
    other = merle(job.shop, serial="T2-04")
    copied = Signature.objects.get(purpose=RELEASE)
    copied.job = other.job
    assert faults_of(copied) == ["job"]
    copied.job, copied.purpose = job.job, SECOND
    assert "purpose" in faults_of(copied)
    with pytest.raises((Moved, NotAllowed)):
        release(job.shop.cy, {other.job.pk: copied.seen}, proof(job.shop.cy), judge=no_bench)


@pytest.mark.fault("F37")
def test_a_signature_copied_by_an_entry_of_its_own_is_told_at_the_next_look(
    job: Merle, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Chain and rows agree, since it came through the door: only its text says that it stands under another job."""
    monkeypatch.setattr(looking, "schema_findings", lambda _connection: [])
    released(job)
    other = merle(job.shop, serial="T2-04").job
    assert [each for each in look_at_the_records().findings if each.what == "signature"] == []
    kept = Signature.objects.get(purpose=RELEASE)
    fields = ("purpose", "seen", "text", "digest", "proved_by", "signed_at", "change", "made_by")
    with write_door(job.shop.cy, "released") as entry:
        entry.keep(Signature(job=other, **{name: getattr(kept, name) for name in fields}))
    findings = look_at_the_records()
    assert [(each.what, each.where, each.says) for each in findings.findings] == [
        ("signature", f"job {other.number:04d}, release", "its text names another job")
    ]
    assert not findings.may_sign


@pytest.mark.parametrize("text", ["no text", "[]", "{}", '{"signer": 1}'])
def test_a_signature_that_cannot_be_read_is_told_as_one(job: Merle, text: str) -> None:
    released(job)
    Signature.objects.filter(purpose=RELEASE).update(text=text)
    assert {each.says for each in signature_findings("default")} == {"its text cannot be read"}


def test_a_licence_number_alone_makes_nobody_the_signer_of_an_own_aircraft(job: Merle) -> None:
    """Only of an aircraft that came from another workshop does the number stand for the person."""
    released(job)
    copied = Signature.objects.get(purpose=RELEASE)
    text = json.loads(copied.text)
    text["signer"]["person"] = str(job.shop.bo.person.pk)
    copied.text = json.dumps(text)
    assert faults_of(copied) == ["signer", "digest"]
    text["signer"] |= {"person": str(copied.made_by_id), "licence": "another"}
    copied.text = json.dumps(text)
    assert faults_of(copied) == ["digest"]


def signed_at(kept: Signature, workshop: str, **signer: str) -> list[str]:
    """Give the faults of a signature whose text names another workshop, and a signer as that one knew the person."""
    text = json.loads(kept.text) | {"workshop": workshop}
    text["signer"] |= signer
    data = canonical(text)
    kept.text, kept.digest = data.decode(), digest_of(data)
    return faults_of(kept)


def test_a_signature_of_an_aircraft_that_went_through_two_workshops_holds_in_the_third(job: Merle) -> None:
    """The aircraft names the last one only; a finding there stopped every signature and every backup of the third."""
    released(job)
    kept = Signature.objects.select_related("job__surface__aircraft").get(purpose=RELEASE)
    first, second = uuid4(), uuid4()
    assert signed_at(kept, str(first)) == ["workshop"]
    kept.job.surface.aircraft.came_from = f"{second} Elsewhere"
    assert signed_at(kept, str(first)) == []
    assert signed_at(kept, "") == ["workshop"]


def test_who_signed_elsewhere_stays_the_signer_when_the_licence_number_is_renewed(job: Merle) -> None:
    """Known here under another identifier; one who is here under that identifier is somebody else."""
    released(job)
    kept = Signature.objects.select_related("job__surface__aircraft").get(purpose=RELEASE)
    kept.job.surface.aircraft.came_from = "elsewhere"
    there = str(uuid4())
    assert signed_at(kept, there, person=str(uuid4()), licence="FH.66.OLD") == []
    assert signed_at(kept, there, person=str(job.shop.bo.person.pk), licence="FH.66.OLD") == ["signer"]
    assert signed_at(kept, there, person="nobody", licence="") == ["signer"]
    assert signed_at(kept, str(kept.job.workshop_id), person=str(uuid4())) == ["signer"]


def test_a_change_after_the_second_inspection_ends_it(job: Merle) -> None:
    weighing = weighed(job)
    inspected(job)
    add_reading(job.shop.anna, weighing.pk, "840 g")
    record_result(job.shop.anna, job.job.pk, INSIDE, measurement=weighing.pk)
    assert standing_signature(job.now, SECOND) is None
    refused_release(job, "no second inspection")


def test_a_released_job_is_not_inspected_anew(job: Merle) -> None:
    """Neither looked at nor signed, by whom nothing else forbids it, until the release is withdrawn."""
    released(job)
    count = Signature.objects.count()
    with pytest.raises(NotAllowed, match="withdraw"):
        sign_as_second(job.shop.bo, job.as_seen, proof(job.shop.bo))
    with pytest.raises(NotAllowed, match="withdraw"):
        look(job.shop.bo, InspectionItem.objects.get().pk, "differs")
    assert Signature.objects.count() == count


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


def alone(job: Merle) -> None:
    """The certifying person works alone and inspects again."""
    weighed(job, by=job.shop.cy)
    for item in ask_for_inspection(job.shop.cy, job.job.pk, [CHECKED]):
        look(job.shop.cy, item.pk, "agreed")
    sign_again(job.shop.cy, job.job.pk, job.seen, "the inspector fell ill today", proof(job.shop.cy))


def test_inspected_again_by_the_same_person_is_never_a_second_inspection(job: Merle) -> None:
    alone(job)
    assert standing_signature(job.now, SECOND) is None
    assert standing_signature(job.now, AGAIN).reason == "the inspector fell ill today"
    refused_release(job, "no second inspection")


def test_a_release_on_own_inspection_says_so(job: Merle) -> None:
    alone(job)
    (signature,) = release(job.shop.cy, job.as_seen, proof(job.shop.cy), on_own_inspection=True, judge=no_bench)
    assert ON_OWN_INSPECTION in signature.notes
    assert ON_OWN_INSPECTION in signature.text


def test_inspecting_again_needs_a_reason_and_own_work(job: Merle) -> None:
    weighed(job)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.cy, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="make it a second inspection"):
        sign_again(job.shop.cy, job.job.pk, job.seen, "alone", proof(job.shop.cy))
    with pytest.raises(InputRefused, match="reason"):
        sign_again(job.shop.cy, job.job.pk, job.seen, " ", proof(job.shop.cy))


def test_inspecting_again_asks_what_every_signature_asks(job: Merle) -> None:
    """Fresh proof, what was seen as it is now, and no item left open."""
    weighed(job, by=job.shop.cy)
    cy, fresh = job.shop.cy, proof(job.shop.cy)
    (item,) = ask_for_inspection(cy, job.job.pk, [CHECKED])
    with pytest.raises(NotAllowed, match="Still open"):
        sign_again(cy, job.job.pk, job.seen, "alone today", fresh)
    stale = job.seen
    look(cy, item.pk, "agreed")
    with pytest.raises(Moved):
        sign_again(cy, job.job.pk, stale, "alone today", fresh)
    for bad in (proof(cy, age=121), proof(cy, PIN), proof(job.shop.bo)):
        with pytest.raises(NotAllowed, match="Prove again"):
            sign_again(cy, job.job.pk, job.seen, "alone today", bad)
    assert not Signature.objects.exists()
    assert sign_again(cy, job.job.pk, job.seen, "alone today", fresh).purpose == AGAIN


def test_a_guest_signs_by_licence_number_with_a_witness(job: Merle) -> None:
    weighed(job)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    person = add_person(job.shop.fred, "Gus Ray", "GR", licence_number="XX.66.1", is_guest=True)
    guest = Actor(job.shop.workshop, person, witness=job.shop.bo.person)
    look(guest, item.pk, "agreed", "all safe wired")
    for nobody in (None, person, job.shop.dora.person, job.shop.fred.person):
        with pytest.raises(NotAllowed, match="witness"):
            sign_as_second(guest, job.as_seen, proof(guest, LICENCE_NUMBER), witness=nobody)
    with pytest.raises(NotAllowed):
        sign_as_second(guest, job.as_seen, proof(guest), witness=job.shop.bo.person)
    sign_as_second(guest, job.as_seen, proof(guest, LICENCE_NUMBER), witness=job.shop.bo.person)
    signature = Signature.objects.get()
    assert (signature.made_by, signature.notes) == (person, [])
    assert [(each["name"], each["finding"], each["note"]) for each in json.loads(signature.text)["found"]] == [
        (CHECKED.name, "agreed", "all safe wired")
    ]
    assert release(job.shop.cy, job.as_seen, proof(job.shop.cy), judge=no_bench)


def test_what_a_guest_found_is_entered_with_a_witness_whom_the_entry_names(job: Merle) -> None:
    """A guest has no account: without somebody who works or inspects here, anybody could say that a guest agreed."""
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    person = add_person(job.shop.fred, "Gus Ray", "GR", licence_number="XX.66.1", is_guest=True)
    for nobody in (None, person, job.shop.dora.person, job.shop.fred.person):
        with pytest.raises(NotAllowed, match="witness"):
            look(Actor(job.shop.workshop, person, witness=nobody), item.pk, "agreed")
    look(Actor(job.shop.workshop, person, witness=job.shop.bo.person), item.pk, "agreed")
    body = json.loads(Entry.objects.filter(kind="item looked at").get().body)
    assert (body["by"]["name"], body["says"]["witness"]["name"]) == ("Gus Ray", job.shop.bo.person.name)


def test_a_witness_who_worked_on_the_job_is_noted_under_the_signature(job: Merle) -> None:
    weighed(job)
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    person = add_person(job.shop.fred, "Gus Ray", "GR", licence_number="XX.66.1", is_guest=True)
    guest = Actor(job.shop.workshop, person, witness=job.shop.anna.person)
    look(guest, item.pk, "agreed")
    (signature,) = sign_as_second(guest, job.as_seen, proof(guest, LICENCE_NUMBER), witness=job.shop.anna.person)
    assert signature.notes == [WITNESS_WORKED]


@pytest.mark.fault("F36")
def test_a_guest_who_also_worked_here_is_the_same_person(job: Merle) -> None:
    """A licence number belongs to one person, so that the worker cannot come in as a guest."""
    with pytest.raises(InputRefused, match="Anna Berg has it"):
        add_person(job.shop.fred, "A. Berg", "AB", licence_number="FH.66.4", is_guest=True, although_alike=True)


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


def test_two_signatures_from_one_device_within_two_minutes_are_noted(job: Merle) -> None:
    released(job)
    assert CLOSE_TOGETHER in Signature.objects.get(purpose=RELEASE).notes


@pytest.mark.parametrize(("later", "noted"), [(119.999, True), (120.0, False)])
def test_two_minutes_later_it_is_no_longer_noted(
    job: Merle, monkeypatch: pytest.MonkeyPatch, later: float, noted: bool
) -> None:
    """The same device: until two minutes are over it is noted, and from then on not. A proof of that moment does."""
    weighed(job)
    inspected(job)
    then = Signature.objects.get().signed_at + timedelta(seconds=later)
    monkeypatch.setattr(signing, "now", lambda: then)
    (signature,) = release(job.shop.cy, job.as_seen, replace(proof(job.shop.cy), at=then), judge=no_bench)
    assert (CLOSE_TOGETHER in signature.notes) is noted


@pytest.mark.parametrize(("age", "enough"), [(-0.001, False), (0.0, True), (120.0, True), (120.001, False)])
def test_a_proof_is_fresh_from_its_moment_until_two_minutes_after(
    job: Merle, monkeypatch: pytest.MonkeyPatch, age: float, enough: bool
) -> None:
    then = now()
    monkeypatch.setattr(signing, "now", lambda: then)
    given = replace(proof(job.shop.cy), at=then - timedelta(seconds=age))
    assert signing.holds(given, job.shop.cy, STRONG, job.seen) is enough


def test_two_signatures_from_two_devices_are_not_noted(job: Merle) -> None:
    weighed(job)
    inspected(job)
    cy = replace(job.shop.cy, tablet=enrol_tablet(job.shop.fred, "Bench 1").tablet)
    (signature,) = release(cy, job.as_seen, proof(cy), judge=no_bench)
    assert CLOSE_TOGETHER not in signature.notes


@pytest.mark.fault("F36")
def test_roles_given_later_do_not_make_the_worker_another_person(job: Merle) -> None:
    weighed(job)
    details = {"name": "Anna Berg", "initials": "AB", "licence_number": "FH.66.4", "licence_expires": None}
    correct_person(job.shop.fred, job.shop.anna.person.pk, "checked", **details)
    give_right(job.shop.fred, job.shop.anna.person.pk, "second inspector")
    (item,) = ask_for_inspection(job.shop.anna, job.job.pk, [CHECKED])
    look(job.shop.anna, item.pk, "agreed")
    with pytest.raises(NotAllowed, match="yourself"):
        sign_as_second(job.shop.anna, job.as_seen, proof(job.shop.anna))


def test_a_stranger_finds_no_job_to_sign(job: Merle) -> None:
    with pytest.raises(Nowhere):
        sign_as_second(job.shop.bo, {job.shop.workshop.pk: "0" * 64}, proof(job.shop.bo))
