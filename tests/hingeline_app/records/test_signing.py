"""A signature: its person's, with fresh proof, under what was seen, and as it was signed ever after."""

from __future__ import annotations

import json
from dataclasses import replace
from datetime import date, timedelta
from typing import Any

import pytest

from hingeline_app.records.actions import signing
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import (
    ask_for_inspection,
    look,
    sign_as_second,
)
from hingeline_app.records.actions.measuring import add_reading, withdraw_reading
from hingeline_app.records.actions.people import correct_person
from hingeline_app.records.actions.releasing import CLOSE_TOGETHER, release
from hingeline_app.records.actions.signing import LICENCE_NUMBER
from hingeline_app.records.actions.tablets import enrol_tablet
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.dates import now
from hingeline_app.records.looking.signed_texts import faults_of
from hingeline_app.records.models import Entry, Signature
from hingeline_app.records.queries.job_record import printed_part
from hingeline_app.records.queries.jobs import job_of
from hingeline_app.records.queries.matter import RELEASE, SECOND, standing_signature
from hingeline_app.records.ways_in import PASSKEY, PIN, STRONG
from tests.hingeline_app.records.merle import (
    CHECKED,
    Merle,
    inspected,
    proof,
    released,
    weighed,
)
from tests.hingeline_app.records.workshop import no_bench


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


@pytest.mark.slow
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
