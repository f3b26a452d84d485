"""A work order is closed by a person, once each of its jobs is released or voided; it is not opened again."""

from __future__ import annotations

from uuid import UUID

from django.utils.translation import gettext_lazy as _

from hingeline_app.records.actions.entrance import NotAllowed, acting, signed_in
from hingeline_app.records.dates import today
from hingeline_app.records.models import Job, WorkOrder
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.visible import found
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Actor, Command

CLOSED_BEFORE = _(
    "This work order was closed before. A closed one is not opened again: open a new one for what is new."
)
STILL_OPEN = _("Still open: job %(numbers)s. Release each, or void it with the reason; then close the order.")


def close_order(actor: Actor, order: UUID, command: Command | None = None) -> WorkOrder:
    """Close a work order; a job of it whose release is withdrawn later is open again in a closed order, and says so.

    Raises
    ------
    NotAllowed, Nowhere
        The table of roles has no yes; a job is open; it was closed before; there is none for this person.
    """
    with acting(actor, Act.WORK, "work order closed", command=command) as entry:
        kept = found(signed_in(actor), WorkOrder, order)
        if kept.closed_on is not None:
            raise NotAllowed(CLOSED_BEFORE)
        numbers = Job.objects.filter(work_order=kept, state=OPEN).order_by("number").values_list("number", flat=True)
        if numbers:
            raise NotAllowed(STILL_OPEN % {"numbers": ", ".join(f"{each:04d}" for each in numbers)})
        kept.closed_on = today(actor.workshop)
        entry.says |= {"order": kept.number}
        entry.keep(kept)
    return kept
