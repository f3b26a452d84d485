"""What the second person photographs at an item: it shows what was seen, and is no work on the job."""

from __future__ import annotations

from collections.abc import Sequence
from uuid import UUID

from hingeline_app.records.actions.attaching import Upload, keep_file, stored
from hingeline_app.records.actions.inspecting import item_of, looking_at
from hingeline_app.records.models import Attachment
from hingeline_app.records.queries.matter import INSPECTION
from hingeline_app.records.write_door import Actor, Command

__all__ = ["INSPECTION", "attach_to_item"]


def attach_to_item(
    actor: Actor, item: UUID, uploads: Sequence[Upload], command: Command | None = None
) -> list[Attachment]:
    """Add photographs to an item of the second inspection.

    Raises
    ------
    NotAllowed
        The actor worked on the job, whichever account is used.
    """
    rows = [stored(each) for each in uploads]
    about = item_of(actor, item)
    with looking_at(actor, about.job_id, "item photographed", command) as work:
        for row in rows:
            row.workshop, row.job, row.added_by = actor.workshop, work.job, work.person
            row.aircraft, row.remark = work.job.surface.aircraft, about.name
            keep_file(work.entry, row)
    return rows
