"""Recordings are taken in, and what they were found to show is kept beside them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass, field
from datetime import date
from pathlib import Path
from typing import Any
from uuid import UUID

from django.conf import settings

import hingeline
from hingeline.errors import InputRefused
from hingeline_app.records.actions.attaching import RECORDING, keep_file
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.actions.hands import add_worker, hand_on
from hingeline_app.records.actions.measuring import spelled
from hingeline_app.records.actions.working import begun, refuse_closed
from hingeline_app.records.attachments import keep_attachment
from hingeline_app.records.canonical import canonical
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, remark
from hingeline_app.records.models import Aircraft, Attachment, Job, Person, ShakeFinding, ShakeRecording, Surface
from hingeline_app.records.numbering import next_number
from hingeline_app.records.plain_data import plain_data
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry

TRACKS = "tracks"


@dataclass(frozen=True)
class About:
    """What a recording is of: one of a job, a surface, an aircraft."""

    aircraft: UUID | None = None
    surface: UUID | None = None
    job: UUID | None = None


@dataclass(frozen=True)
class TakenIn:
    """A recording whose content was looked at, as it comes in pieces."""

    kind: str
    pieces: Iterable[bytes]
    size: int
    media_type: str
    name: str
    taken_on: date | None = None
    remark: str = ""
    # What the tablet worked out before it sent the file.
    expected_digest: str = ""
    preview: bytes = b""
    width: int | None = None
    height: int | None = None
    details: Mapping[str, Any] = field(default_factory=dict)


def take_recording_in(actor: Actor, about: About, taken: TakenIn, command: Command | None = None) -> ShakeRecording:
    """Keep a recording with its file; of a job, it is one more change of that job.

    Raises
    ------
    InputRefused
        The digest that the tablet worked out is another, or the day is ahead: nothing is kept.
    NotAllowed, Nowhere
        The table of roles has no yes; the job is closed; there is no such aircraft, surface or job.
    """
    if taken.taken_on is not None and taken.taken_on > today(actor.workshop):
        raise InputRefused.of("taken on", taken.taken_on, "a day that has come", "Look at the day again.")
    stored = _stored(taken)
    with _at(actor, about, "recording taken in", command) as (entry, person, aircraft, surface, job):
        stored.workshop, stored.aircraft, stored.job, stored.added_by = actor.workshop, aircraft, job, person
        keep_file(entry, stored)
        row = ShakeRecording(
            workshop=actor.workshop,
            number=next_number(ShakeRecording, workshop=actor.workshop),
            kind=taken.kind,
            attachment=stored,
            aircraft=aircraft,
            surface=surface,
            job=job,
            taken_on=taken.taken_on,
            added_by=person,
            added_on=today(actor.workshop),
            details=plain_data("details", dict(taken.details)),
        )
        entry.keep(row)
    return row


def keep_finding(
    actor: Actor,
    recording: UUID,
    document: Mapping[str, Any],
    asked: Mapping[str, Any],
    *,
    tracks: bytes = b"",
    command: Command | None = None,
) -> ShakeFinding:
    """Keep what a recording was found to show, with what was asked; an earlier finding stays as it was.

    Raises
    ------
    NotAllowed, Nowhere
        The table of roles has no yes; there is no such recording.
    """
    where = keep_attachment(Path(settings.DATA_FOLDER), [tracks]) if tracks else ""
    with acting(actor, Act.WORK, "recording judged", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, ShakeRecording, recording)
        entry.says |= {"recording": str(kept.pk), "number": kept.number}
        beside = _tracks_of(kept, person, where, len(tracks)) if tracks else None
        if beside is not None:
            keep_file(entry, beside)
        finding = ShakeFinding(
            recording=kept,
            number=next_number(ShakeFinding, recording=kept),
            document_format=str(document.get("format", "")),
            **spelled(document),
            asked=canonical(plain_data("asked", dict(asked))).decode(),
            tracks=beside,
            software=hingeline.__version__,
            made_by=person,
            made_on=today(actor.workshop),
        )
        entry.keep(finding)
        hand_on(entry, person, Job.objects.filter(recordings=kept))
    return finding


Place = tuple[OpenEntry, Person, Aircraft, Surface | None, Job | None]


@contextmanager
def _at(actor: Actor, about: About, kind: str, command: Command | None) -> Iterator[Place]:
    """Open the door for something about an aircraft, one of its surfaces, or an open job."""
    with acting(actor, Act.WORK, kind, command=command) as entry:
        person = signed_in(actor)
        if about.job is not None:
            job = found(person, Job, about.job)
            refuse_closed(job)
            begun(entry, job, person)
            add_worker(job, person)
            yield entry, person, job.surface.aircraft, job.surface, job
            entry.keep(job)
            return
        surface = found(person, Surface, about.surface) if about.surface else None
        aircraft = surface.aircraft if surface else found(person, Aircraft, about.aircraft or "")
        yield entry, person, aircraft, surface, None


def _stored(taken: TakenIn) -> Attachment:
    """Put the bytes on the disk before the door opens; without an entry that names them they are nothing."""
    data = Path(settings.DATA_FOLDER)
    digest = keep_attachment(data, taken.pieces)
    if taken.expected_digest and taken.expected_digest.lower() != digest:
        remedy = "The file was damaged on its way: send it again."
        raise InputRefused.of("file", taken.name or digest[:8], "the file as it left the tablet", remedy)
    return Attachment(
        kind=RECORDING,
        digest=digest,
        size=taken.size,
        media_type=legible("media type", taken.media_type, longest=60),
        name=legible("file name", taken.name, longest=200, needed=False),
        width=taken.width,
        height=taken.height,
        preview_digest=keep_attachment(data, [taken.preview]) if taken.preview else "",
        remark=remark("remark", taken.remark),
    )


def _tracks_of(recording: ShakeRecording, person: Person, digest: str, size: int) -> Attachment:
    return Attachment(
        workshop=recording.workshop,
        kind=TRACKS,
        digest=digest,
        size=size,
        media_type="application/json",
        name=f"recording-{recording.number}-tracks.json",
        aircraft=recording.aircraft,
        job=recording.job,
        added_by=person,
    )
