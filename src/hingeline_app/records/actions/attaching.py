"""Photographs, recordings and pages are added; what was signed on paper is transcribed."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from uuid import UUID

from django.conf import settings

from hingeline.errors import InputRefused
from hingeline.units import read
from hingeline_app.records.actions.entrance import acting, signed_in
from hingeline_app.records.actions.working import working
from hingeline_app.records.attachments import keep_attachment
from hingeline_app.records.canonical import digest_of
from hingeline_app.records.dates import today
from hingeline_app.records.legible import legible, mark, remark
from hingeline_app.records.models import Aircraft, Attachment, LimitRow, PaperRecord, Person, Surface
from hingeline_app.records.queries.flutter_models import MODEL
from hingeline_app.records.queries.matter import INSPECTION
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command, OpenEntry

PHOTOGRAPH, RECORDING, PAGE = "photograph", "recording", "page"


@dataclass(frozen=True)
class Upload:
    """A file whose content was looked at: what it is, how large, and a copy drawn anew that may be shown."""

    kind: str
    data: bytes
    media_type: str
    name: str = ""
    width: int | None = None
    height: int | None = None
    preview: bytes = b""
    # What the tablet worked out before it sent the file.
    expected_digest: str = ""
    remark: str = ""


def attach_to_job(actor: Actor, job: UUID, upload: Upload, command: Command | None = None) -> Attachment:
    """Add a photograph or a recording to a job.

    Raises
    ------
    InputRefused
        The digest that the tablet worked out is another: the file was damaged on its way. Nothing is kept.
    """
    return attach_all_to_job(actor, job, [upload], command)[0]


def attach_all_to_job(
    actor: Actor, job: UUID, uploads: Sequence[Upload], command: Command | None = None
) -> list[Attachment]:
    """Add several files to a job by one entry: all of them or none."""
    rows = [stored(each) for each in uploads]
    with working(actor, Act.WORK, f"{rows[0].kind} added", job, command=command) as work:
        for row in rows:
            row.workshop, row.job, row.added_by = actor.workshop, work.job, work.person
            row.aircraft = work.job.surface.aircraft
            keep_file(work.entry, row)
    return rows


def attach_to_row(actor: Actor, row: UUID, upload: Upload, command: Command | None = None) -> Attachment:
    """Add a photograph of the printed page to a row of limits."""
    kept = stored(upload)
    with acting(actor, Act.ENTER_LIMITS, "page added", command=command) as entry:
        kept.workshop, kept.added_by = actor.workshop, signed_in(actor)
        kept.limit_row = found(signed_in(actor), LimitRow, row)
        keep_file(entry, kept)
    return kept


def attach_model(actor: Actor, aircraft: UUID, upload: Upload, command: Command | None = None) -> Attachment:
    """Keep a flutter model of an aircraft, as its file came."""
    kept = stored(upload)
    with acting(actor, Act.WORK, "model added", command=command) as entry:
        kept.workshop, kept.added_by = actor.workshop, signed_in(actor)
        kept.aircraft = found(signed_in(actor), Aircraft, aircraft)
        keep_file(entry, kept)
    return kept


def transcribe(
    actor: Actor,
    aircraft: UUID,
    *,
    original_date: date,
    original_signer: str,
    says: str,
    original_licence: str = "",
    moment: str = "",
    surface: UUID | None = None,
    photograph: Upload | None = None,
    command: Command | None = None,
) -> PaperRecord:
    """Enter what was signed on paper, with the original's date and signer, and a photograph of it where there is one.

    It is headed "transcribed from paper" and carries no signature of ours.

    Raises
    ------
    InputRefused
        The date is ahead or before the aircraft was built; the moment cannot be read.
    """
    page = stored(photograph) if photograph else None
    with acting(actor, Act.TRANSCRIBE, "transcribed from paper", command=command) as entry:
        person = signed_in(actor)
        kept = found(person, Aircraft, aircraft)
        if page is not None:
            page.workshop, page.aircraft, page.added_by = actor.workshop, kept, person
            keep_file(entry, page)
        place = found(person, Surface, surface) if surface else None
        record = described_paper(kept, place, original_date, original_signer, original_licence, says, moment, person)
        record.photograph = page
        entry.keep(record)
    return record


def described_paper(
    aircraft: Aircraft,
    surface: Surface | None,
    original_date: date,
    signer: str,
    licence: str,
    says: str,
    moment: str,
    by: Person,
) -> PaperRecord:
    """Make a record of what stands on paper; not kept yet."""
    if original_date > today(aircraft.workshop) or (
        aircraft.built_on is not None and original_date < aircraft.built_on
    ):
        remedy = "Read the date on the paper again."
        raise InputRefused.of("original date", original_date, "a day between its building and today", remedy)
    if surface is not None and surface.aircraft_id != aircraft.pk:
        raise InputRefused.of("surface", surface.name, f"a surface of {aircraft}", "Choose one of this aircraft's.")
    if moment:
        read(moment, "moment", field="moment", page=True)
    return PaperRecord(
        aircraft=aircraft,
        surface=surface,
        original_date=original_date,
        original_signer=legible("original signer", signer),
        original_licence=mark("original licence", licence, needed=False),
        says=remark("says", says, needed=True),
        moment=legible("moment", moment, longest=60, needed=False),
        transcribed_by=by,
    )


def stored(upload: Upload) -> Attachment:
    """Put the bytes on the disk before the door opens; without an entry that names them they are nothing."""
    if upload.kind not in (PHOTOGRAPH, INSPECTION, RECORDING, PAGE, MODEL):
        raise InputRefused.of("kind", upload.kind, f"{PHOTOGRAPH}, {RECORDING} or {PAGE}", "Choose one of them.")
    digest = digest_of(upload.data)
    if upload.expected_digest and upload.expected_digest.lower() != digest:
        remedy = "The file was damaged on its way: send it again."
        raise InputRefused.of("file", upload.name or digest[:8], "the file as it left the tablet", remedy)
    return Attachment(
        kind=upload.kind,
        digest=_put(upload.data),
        size=len(upload.data),
        media_type=legible("media type", upload.media_type, longest=60),
        name=legible("file name", upload.name, longest=200, needed=False),
        width=upload.width,
        height=upload.height,
        preview_digest=_put(upload.preview) if upload.preview else "",
        remark=remark("remark", upload.remark),
    )


def _put(data: bytes) -> str:
    return keep_attachment(Path(settings.DATA_FOLDER), [data])


def keep_file(entry: OpenEntry, attachment: Attachment) -> None:
    """Write the row of a file through the door, and let the entry name its bytes."""
    entry.attachments += [attachment.digest] + [attachment.preview_digest] * bool(attachment.preview_digest)
    entry.keep(attachment)
