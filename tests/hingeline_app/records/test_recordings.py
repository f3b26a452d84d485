"""Recordings in the records: who may, of what, and that a finding is never written over."""

from __future__ import annotations

from datetime import timedelta
from uuid import uuid4

import pytest
from django.conf import settings

from hingeline.errors import InputRefused
from hingeline_app.records.actions.entrance import NotAllowed
from hingeline_app.records.actions.recordings import About, TakenIn, keep_finding, take_recording_in
from hingeline_app.records.attachments import attachment_holds
from hingeline_app.records.dates import today
from hingeline_app.records.models import Entry, Job, ShakeFinding, ShakeRecording
from hingeline_app.records.queries.recordings import recording, recordings
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.write_door import AlreadyDone, Command
from tests.hingeline_app.records.merle import merle, released
from tests.hingeline_app.records.workshop import Fenholt

RESULT = {"format": "hingeline/motion-result/1", "statement": "dying out"}


def table(**more: object) -> TakenIn:
    return TakenIn("table", [b"time_s,", b"pitch_deg"], 16, "text/csv", "a.csv", **more)  # type: ignore[arg-type]


def test_file_preview_and_tracks_lie_under_their_digests_and_stand_in_the_ledger(shop: Fenholt) -> None:
    job = merle(shop)
    kept = take_recording_in(shop.anna, About(surface=job.job.surface_id), table(preview=b"first picture"))
    finding = keep_finding(shop.anna, kept.pk, RESULT, {"marks": ""}, tracks=b"places")
    assert finding.tracks is not None
    digests = {kept.attachment.digest, kept.attachment.preview_digest, finding.tracks.digest}
    bodies = "".join(Entry.objects.values_list("body", flat=True))
    for digest in digests:
        assert attachment_holds(settings.DATA_FOLDER, digest)
        assert digest in bodies


def test_only_who_works_takes_recordings_in_and_judges_them(shop: Fenholt) -> None:
    """The inspector, the owner and the administrator may not; an owner sees those of own aircraft alone."""
    job = merle(shop, owner=shop.dora)
    about = About(aircraft=job.aircraft.pk)
    for actor in (shop.bo, shop.dora, shop.ed):
        with pytest.raises(NotAllowed):
            take_recording_in(actor, about, table())
    kept = take_recording_in(shop.anna, about, table())
    with pytest.raises(NotAllowed):
        keep_finding(shop.bo, kept.pk, RESULT, {})
    other = merle(shop, owner=shop.bo, serial="T2-04")
    take_recording_in(shop.anna, About(aircraft=other.aircraft.pk), table())
    assert [each.number for each in recordings(shop.dora.person)] == [1]  # type: ignore[arg-type]
    with pytest.raises(Nowhere):
        recording(shop.dora.person, 2)  # type: ignore[arg-type]


def test_of_a_released_job_and_of_nothing_it_is_refused_and_nothing_is_kept(shop: Fenholt) -> None:
    job = merle(shop)
    released(job)
    with pytest.raises(NotAllowed):
        take_recording_in(shop.anna, About(job=job.job.pk), table())
    for about in (About(), About(aircraft=uuid4()), About(surface=uuid4()), About(job=uuid4())):
        with pytest.raises(Nowhere):
            take_recording_in(shop.anna, about, table())
    with pytest.raises(InputRefused, match="a day that has come"):
        take_recording_in(
            shop.anna, About(aircraft=job.aircraft.pk), table(taken_on=today(shop.workshop) + timedelta(1))
        )
    assert not ShakeRecording.objects.exists()


def test_a_second_finding_is_a_row_of_its_own_and_one_command_is_one_finding(shop: Fenholt) -> None:
    job = merle(shop)
    changes = Job.objects.get(pk=job.job.pk).changes
    kept = take_recording_in(shop.anna, About(aircraft=job.aircraft.pk), table())
    first = keep_finding(shop.anna, kept.pk, RESULT, {"columns": {}}, command=Command("one", {}))
    keep_finding(shop.anna, kept.pk, {**RESULT, "statement": "cannot tell"}, {"columns": {}})
    with pytest.raises(AlreadyDone):
        keep_finding(shop.anna, kept.pk, RESULT, {"columns": {}}, command=Command("one", {}))
    found = recording(shop.anna.person, 1).findings  # type: ignore[arg-type]
    assert [(each.number, each.document["statement"]) for each in found] == [(2, "cannot tell"), (1, "dying out")]
    assert ShakeFinding.objects.get(pk=first.pk).digest == first.digest
    # Of no job, it changes none.
    assert Job.objects.get(pk=job.job.pk).changes == changes
