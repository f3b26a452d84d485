"""What is to be inspected, for the one who looks: the worker's word is hidden until that person has looked."""

from __future__ import annotations

from dataclasses import dataclass
from uuid import UUID

from hingeline_app.records.models import InspectionItem, Job, Look, Person

AGREED, DIFFERS, NOT_LOOKED_AT = "agreed", "differs", "not looked at"
FINDINGS = (AGREED, DIFFERS, NOT_LOOKED_AT)


@dataclass(frozen=True)
class ItemRecord:
    """An item as one person may see it."""

    identifier: UUID
    name: str
    finding: str
    note: str
    # None: hidden until this person has looked.
    tick: str | None


def items_of(viewer: Person, job: Job) -> list[ItemRecord]:
    """Give the items of a job with what this viewer found, in the order they were listed; two queries."""
    looks = {look.item_id: look for look in Look.objects.filter(job=job, made_by=viewer).order_by("change", "pk")}
    items = InspectionItem.objects.filter(job=job).order_by("change", "name", "pk")
    return [_record(item, looks.get(item.pk), viewer) for item in items]


def _record(item: InspectionItem, look: Look | None, viewer: Person) -> ItemRecord:
    finding = look.finding if look else NOT_LOOKED_AT
    may_see = item.made_by_id == viewer.pk or finding != NOT_LOOKED_AT
    return ItemRecord(item.pk, item.name, finding, look.note if look else "", item.tick if may_see else None)
