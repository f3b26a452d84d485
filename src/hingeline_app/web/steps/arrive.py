"""What the step Arrive shows."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _

from hingeline_app.bench.arriving.as_fitted import ITEMS, STATES
from hingeline_app.bench.arriving.plan_of import places_of
from hingeline_app.figures.hangar.aeroplane_plan import draw_aeroplane_plan
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.photographs import PHOTOGRAPH
from hingeline_app.records.queries.pieces import is_numbered_elsewhere
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.marked_photographs import marked_photographs

TICKS = ("drains", "dry", "no_loose_matter")


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    viewer: Any = viewer_of(request)
    ticks = [_tick(job, name, words) for name, words in zip(TICKS, tick_words(), strict=True)]
    return {
        "ticks": ticks,
        "unticked": [each["words"] for each in ticks if not each["is_set"]],
        "items": [_item(job, name) for name in ITEMS],
        "remarks": value_at(job.details, "arrive.remarks") or "",
        "arrive_state": value_at(job.details, "arrive.state") or "",
        "photographs": marked_photographs(request, job, PHOTOGRAPH),
        "instead_of": job.details.get("instead_of"),
        "instead_elsewhere": job.details.get("instead_elsewhere"),
        "instead_of_there": bool(job.details.get("instead_of")) and is_numbered_elsewhere(job.identifier),
        "from_above": _picture(job),
        "is_vibration": is_vibration(job),
        "is_open": may_enter(viewer, job),
    }


def tick_words() -> tuple[str, str, str]:
    """Give the words of the three ticks."""
    return _("Drains open"), _("Dry inside"), _("No loose matter")


def item_words() -> dict[str, str]:
    """Give the words of what can be fitted or off."""
    words = (_("Tab"), _("Pushrod"), _("Static wicks"), _("Seals"), _("Bolts"))
    return dict(zip(ITEMS, words, strict=True))


def state_words() -> dict[str, str]:
    """Give the words of how an item was found."""
    return dict(zip(STATES, (_("fitted"), _("off"), _("has none")), strict=True))


def may_enter(viewer: Any, job: JobRecord) -> bool:
    """Whether this person may enter something: the job is open, and the person works on jobs."""
    return job.state == OPEN and may(viewer, Act.WORK).allowed


def is_vibration(job: JobRecord) -> bool:
    """Whether vibration or flutter was reported."""
    words = job.why_here.lower()
    return job.details.get("why") == "vibration" or "vibration" in words or "flutter" in words


def _tick(job: JobRecord, name: str, words: str) -> dict[str, Any]:
    return {"place": f"arrive.{name}", "words": words, "is_set": value_at(job.details, f"arrive.{name}") is True}


def _item(job: JobRecord, name: str) -> dict[str, Any]:
    place = f"arrive.fitted.{name}"
    found = value_at(job.details, place) or ""
    states = [{"value": value, "words": words} for value, words in state_words().items()]
    return {"name": name, "place": place, "words": item_words()[name], "found": found, "states": states}


def _picture(job: JobRecord) -> str:
    places = places_of([job.surface_name], frozenset({job.surface_name}))
    words = _("The aircraft from above; marked: %(name)s.") % {"name": job.surface_name}
    return mark_safe(draw_aeroplane_plan(places, words)) if places else ""
