"""Inspected again by the same person, or by a guest: told apart from a second inspection, and witnessed."""

from __future__ import annotations

import json

import pytest

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.inspecting import (
    WITNESS_WORKED,
    ask_for_inspection,
    look,
    sign_again,
    sign_as_second,
)
from hingeline_app.records.actions.people import add_person
from hingeline_app.records.actions.releasing import ON_OWN_INSPECTION, release
from hingeline_app.records.actions.signing import LICENCE_NUMBER
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.models import Entry, Signature
from hingeline_app.records.queries.matter import AGAIN, SECOND, standing_signature
from hingeline_app.records.ways_in import PIN
from hingeline_app.records.write_door import Actor
from tests.hingeline_app.records.merle import (
    CHECKED,
    Merle,
    proof,
    refused_release,
    weighed,
)
from tests.hingeline_app.records.workshop import no_bench


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
