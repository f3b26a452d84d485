"""What of a job stands only on its printed sheet: whose workshop, what is in the way, who looked, who signed."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from uuid import UUID

from django.utils.translation import gettext as _

from hingeline_app.records.models import InspectionItem, Job, Look, Person, Reading, Signature
from hingeline_app.records.queries.items import NOT_LOOKED_AT
from hingeline_app.records.queries.matter import AGAIN, OPEN, RELEASE, SECOND, signer_of, standing_signature
from hingeline_app.records.queries.open_points import open_points
from hingeline_app.records.queries.visible import Nowhere, visible_to


@dataclass(frozen=True)
class SignedRecord:
    """A signature as it is printed; ``holds`` tells whether it still counts for the job as it is now."""

    purpose: str
    signer: str
    licence_number: str
    signed_at: datetime
    proved_by: str
    reason: str
    notes: tuple[str, ...]
    holds: bool
    withdrawn_because: str


@dataclass(frozen=True)
class ItemSeen:
    """An item of the second inspection, with what the one who signed found."""

    name: str
    finding: str
    note: str
    by: str
    # What the worker said of it; empty until it was looked at and signed.
    first: str = ""


@dataclass(frozen=True)
class PrintedPart:
    """What a printed sheet needs of a job beside its record."""

    workshop: str
    approval_number: str
    authority: str
    zone: str
    # In which the owner reads; where nobody said, that of the workshop.
    owner_language: str
    in_the_way: tuple[str, ...]
    items: tuple[ItemSeen, ...]
    signatures: tuple[SignedRecord, ...]
    # By reading: who withdrew it.
    withdrawn_by: Mapping[UUID, str]
    # By measurement: who read, with the number of the licence.
    weighed_by: Mapping[UUID, tuple[str, ...]]


def printed_part(viewer: Person, number: int) -> PrintedPart:
    """Give what is printed of a job beside its record.

    Raises
    ------
    Nowhere
        There is none for this person.
    """
    job = (
        visible_to(viewer, Job)
        .filter(number=number)
        .select_related("workshop", "limit_row", "surface__aircraft")
        .first()
    )
    if job is None:
        raise Nowhere("there is no such job")
    standing = {purpose: standing_signature(job, purpose) for purpose in (SECOND, AGAIN, RELEASE)}
    withdrawn = Reading.objects.filter(job=job, withdrawn_at_change__isnull=False).select_related("withdrawn_by")
    return PrintedPart(
        workshop=job.workshop.name,
        approval_number=job.workshop.approval_number,
        authority=job.workshop.authority,
        zone=job.workshop.zone,
        owner_language=job.surface.aircraft.owner_language or job.workshop.language,
        in_the_way=_in_the_way(job, standing),
        items=_items(job, standing[SECOND] or standing[AGAIN]),
        signatures=_signatures(job, standing),
        withdrawn_by={row.pk: row.withdrawn_by.initials for row in withdrawn if row.withdrawn_by},
        weighed_by=_readers(job),
    )


def _readers(job: Job) -> Mapping[UUID, tuple[str, ...]]:
    rows = Reading.objects.filter(job=job).order_by("change").select_related("made_by")
    found: dict[UUID, dict[str, None]] = {}
    for row in rows:
        words = ", ".join(text for text in (row.made_by.name, row.made_by.licence_number) if text)
        found.setdefault(row.measurement_id, {})[words] = None
    return {measurement: tuple(names) for measurement, names in found.items()}


def _in_the_way(job: Job, standing: Mapping[str, Signature | None]) -> tuple[str, ...]:
    """Name what keeps an open job from its release."""
    if job.state != OPEN:
        return ()
    unsigned = [] if standing[SECOND] else [_("No second inspection by a different person is signed.")]
    return (*(str(point) for point in open_points(job)), *unsigned)


def _items(job: Job, signature: Signature | None) -> tuple[ItemSeen, ...]:
    """Give the items; what was found only once it is signed, so that no print tells the next one who looks."""
    rows = InspectionItem.objects.filter(job=job).order_by("change", "name", "pk")
    looks: dict[UUID, Look] = {}
    if signature is not None:
        by_signer = Look.objects.filter(job=job, made_by=signature.made_by_id).select_related("made_by")
        looks = {look.item_id: look for look in by_signer.order_by("change", "pk")}
    return tuple(_item(row, looks.get(row.pk)) for row in rows)


def _item(row: InspectionItem, look: Look | None) -> ItemSeen:
    if look is None:
        return ItemSeen(row.name, NOT_LOOKED_AT, "", "")
    return ItemSeen(row.name, look.finding, look.note, look.made_by.initials, row.tick)


def _signatures(job: Job, standing: Mapping[str, Signature | None]) -> tuple[SignedRecord, ...]:
    held = {each.pk for each in standing.values() if each is not None}
    rows = Signature.objects.filter(job=job).select_related("made_by").order_by("change", "pk")
    return tuple(_signature(row, row.pk in held) for row in rows)


def _signature(row: Signature, holds: bool) -> SignedRecord:
    return SignedRecord(
        row.purpose,
        *signer_of(row),
        row.signed_at,
        row.proved_by,
        row.reason,
        tuple(str(note) for note in row.notes),
        holds,
        row.withdrawn_because,
    )
