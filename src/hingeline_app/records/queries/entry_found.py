"""One entry of the ledger by its number: when it was made, by whom, and the records that it tells of."""

from __future__ import annotations

import json
from dataclasses import dataclass

from hingeline_app.records.entries_of_jobs import read_on
from hingeline_app.records.models import Entry, Job, JobEntry, Person
from hingeline_app.records.queries.visible import visible_to
from hingeline_app.records.write_door import RECORDS


@dataclass(frozen=True)
class EntryFound:
    """An entry, by the receipt that was shown when it was made; ``jobs`` are numbers of records a person may open."""

    receipt: str
    digest: str
    kind: str
    by: str
    at: str
    jobs: tuple[int, ...]


def entry_found(viewer: Person, position: int) -> EntryFound | None:
    """Give the entry of this number in the viewer's workshop; none where the records have no such number."""
    entry = Entry.objects.filter(workshop=viewer.workshop_id, chain=RECORDS, position=position).first()
    if entry is None:
        return None
    read_on(viewer.workshop_id)
    told = JobEntry.objects.filter(workshop=viewer.workshop_id, position=position, job__isnull=False).values("job")
    jobs = visible_to(viewer, Job).filter(pk__in=told).order_by("number").values_list("number", flat=True)
    body = json.loads(entry.body)
    return EntryFound(
        digest=entry.digest,
        receipt=f"{entry.position}-{entry.digest[:8]}",
        kind=entry.kind,
        by=(body["by"] or {}).get("name", ""),
        at=body["at"],
        jobs=tuple(jobs),
    )
