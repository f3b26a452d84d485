"""What the step Second inspection shows: the items as this person may see them, and what the signature waits for."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils.translation import gettext as _

from hingeline_app.bench.releasing.disturbed import proposed
from hingeline_app.records.queries.at_the_door import guest_by_licence
from hingeline_app.records.queries.inspection import Inspection, inspection_of
from hingeline_app.records.queries.items import AGREED, DIFFERS, NOT_LOOKED_AT
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import AGAIN, INSPECTION, OPEN
from hingeline_app.web.found_at_start import HELD, signing_is_held
from hingeline_app.web.marked_photographs import marked_photographs
from hingeline_app.web.requests import visit_of
from hingeline_app.web.steps.closing import closing


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    visit = visit_of(request)
    licence = request.GET.get("guest", "").strip()[:60]
    guest = guest_by_licence(visit.actor.workshop, licence) if licence else None
    viewer: Any = visit.actor.person
    found = inspection_of(viewer, job.number, guest)
    by = {name: [each for each in found.items if each.finding == name] for name in (AGREED, DIFFERS, NOT_LOOKED_AT)}
    photographs = marked_photographs(request, job, INSPECTION)
    looks = found.may_inspect.allowed or found.may_again.allowed
    return {
        "inspection": found,
        "listed": [(each, [one for one in photographs if one.photograph.remark == each.name]) for each in found.items],
        "guest": guest,
        "guest_unknown": bool(licence) and guest is None,
        "guest_licence": licence,
        "differing": by[DIFFERS],
        "unseen": by[NOT_LOOKED_AT],
        "head": _head(len(found.items), len(by[DIFFERS]), len(by[NOT_LOOKED_AT]), looks),
        "may_look": looks and job.state == OPEN,
        "again": job.standing(AGAIN),
        "waits": waits_for(job, found),
        "proposal": "\n".join(f"{each.name} | {each.tick}" for each in proposed(job)),
        **closing(request, job, "arrive"),
    }


def waits_for(job: JobRecord, found: Inspection) -> str:
    """Say what the signature waits for; empty where it waits for nothing."""
    if job.state != OPEN:
        return _("This job is closed.")
    if signing_is_held():
        return str(HELD)
    if not found.items:
        return _("To ask: list what was disturbed.")
    if not found.may_inspect.allowed and not found.may_again.allowed:
        return str(found.may_inspect.reason)
    numbers = [(at, each.finding) for at, each in enumerate(found.items, 1)]
    unseen = ", ".join(str(at) for at, finding in numbers if finding == NOT_LOOKED_AT)
    differs = ", ".join(str(at) for at, finding in numbers if finding == DIFFERS)
    if unseen and differs:
        return _("To sign: look at %(unseen)s, settle %(differs)s.") % {"unseen": unseen, "differs": differs}
    if unseen:
        return _("To sign: look at %(unseen)s.") % {"unseen": unseen}
    return _("To sign: settle %(differs)s.") % {"differs": differs} if differs else ""


def _head(items: int, differing: int, unseen: int, looks: bool) -> str:
    if not items:
        return _("Nothing is listed yet")
    if not looks:
        return _("%(count)d listed, another person looks") % {"count": items}
    if not differing and not unseen:
        return _("All %(count)d agreed, not signed") % {"count": items}
    said = ([_("%(count)d differ") % {"count": differing}] if differing > 1 else []) + (
        [_("One differs")] if differing == 1 else []
    )
    said += [_("%(count)d not looked at") % {"count": unseen}] if unseen else []
    return ", ".join(said)
