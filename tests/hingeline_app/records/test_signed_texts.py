"""The text of a signature: whose it is and of which job; one copied, forged or unreadable is told."""

from __future__ import annotations

import json
from uuid import uuid4

import pytest

from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.releasing import release
from hingeline_app.records.actions.working import Moved
from hingeline_app.records.canonical import canonical, digest_of
from hingeline_app.records.looking import look as looking
from hingeline_app.records.looking import look_at_the_records
from hingeline_app.records.looking.signed_texts import faults_of, signature_findings
from hingeline_app.records.models import Signature
from hingeline_app.records.queries.matter import RELEASE, SECOND
from hingeline_app.records.write_door import write_door
from tests.hingeline_app.records.merle import (
    Merle,
    merle,
    proof,
    released,
)
from tests.hingeline_app.records.workshop import no_bench


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
