"""What the step Release shows: what is open, each with the step that mends it; the statement; who may sign."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any, NamedTuple

from django.http import HttpRequest
from django.utils.translation import gettext as _
from django.utils.translation import gettext_lazy

from hingeline_app.bench.releasing.in_the_way import (
    FOUND,
    NO_INSPECTION,
    OTHER_LIMITS,
    QUERY_OPEN,
    STEP_HELD,
    STEP_OPEN,
    InTheWay,
    in_the_way,
)
from hingeline_app.bench.steps import statement_of
from hingeline_app.bench.weighing.scale_against import is_not_used
from hingeline_app.bench.who_has_it import who_has_it
from hingeline_app.figures.wording import format_measured
from hingeline_app.records.queries.inspection import Releasing, releasing_of
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.matter import AGAIN, OPEN, RELEASE
from hingeline_app.records.queries.people import who_may_take_over
from hingeline_app.records.queries.photographs import PAGE
from hingeline_app.report.owner_words import LANGUAGES
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.found_at_start import HELD, signing_is_held
from hingeline_app.web.marked_photographs import marked_photographs
from hingeline_app.web.steps.arrive import is_vibration
from hingeline_app.web.steps.closing import closing

WORDS = {
    "arrive": gettext_lazy("Arrive"),
    "arm": gettext_lazy("Weight arm"),
    "refit": gettext_lazy("Refit"),
    "weigh": gettext_lazy("Weigh"),
    "limits": gettext_lazy("Limits"),
    "second-inspection": gettext_lazy("Second inspection"),
    "release": gettext_lazy("Release"),
}


class Open(NamedTuple):
    """One thing in the way, with the step that mends it."""

    step: str
    words: str


def shown(request: HttpRequest, job: JobRecord) -> Mapping[str, Any]:
    """Gather what the sheet needs beside the job itself."""
    viewer: Any = viewer_of(request)
    found = releasing_of(viewer, job.number)
    open_now = open_of(job, found)
    hand_over, query, incomplete = (job.details.get(name) for name in ("hand_over", "query", "incomplete"))
    return {
        "releasing": found,
        "open_now": open_now,
        "waits": waits_for(found, open_now),
        "statement": statement_of(job),
        "not_used": is_not_used(job.weighing),
        "moment": moment_of(job),
        "released": job.standing(RELEASE),
        "again": job.standing(AGAIN),
        "may_sign": job.state == OPEN and not open_now and found.may_release.allowed and not signing_is_held(),
        "hand_over": hand_over,
        "hand_over_was": json.dumps(hand_over),
        "query": query,
        "answers": marked_photographs(request, job, PAGE),
        "query_was": json.dumps(query),
        "incomplete": incomplete,
        "incomplete_was": json.dumps(incomplete),
        "others": who_may_take_over(viewer),
        "me": viewer.pk,
        "has_it": who_has_it(job) == viewer.name,
        "owner_languages": LANGUAGES.items(),
        "shaken": is_vibration(job),
        **closing(request, job, "arrive"),
    }


def open_of(job: JobRecord, found: Releasing) -> list[Open]:
    """List what is in the way of a release, the records' own refusals and those of the bench; empty when none is."""
    if job.state != OPEN:
        return []
    own = [Open(each.step, str(each.words)) for each in found.points]
    return [*own, *(Open(each.step, _said(each)) for each in in_the_way(job))]


def judged(viewer: Any, number: int) -> list[str]:
    """Name in sentences what the bench finds in the way of a release, as the job stands in this very transaction."""
    return [_said(each) for each in in_the_way(job_of(viewer, number))]


def found_by_the_bench(job: JobRecord) -> tuple[str, ...]:
    """Name for a print what the bench finds in the way; that an inspection is missing the records say themselves."""
    found = in_the_way(job) if job.state == OPEN else []
    return tuple(_said(each) for each in found if each.name != NO_INSPECTION)


def moment_of(job: JobRecord) -> str:
    """Say the moment of the last weighing with its ± and its sense; empty without one."""
    last = job.weighing
    moment = last.result.document.get("static_moment") if last and last.result else None
    if not isinstance(moment, Mapping) or moment.get("value") is None:
        return ""
    return format_measured(moment["value"], moment.get("expanded_uncertainty"), "N m", sense=True)


def waits_for(found: Releasing, open_now: list[Open]) -> str:
    """Say what the signature waits for."""
    if signing_is_held():
        return str(HELD)
    if open_now:
        return _("To release: settle what is open.")
    return "" if found.may_release.allowed else str(found.may_release.reason)


def _said(each: InTheWay) -> str:
    step = str(WORDS.get(each.step, each.step))
    words = {
        OTHER_LIMITS: _(
            "The last result was worked out from other limits than the chosen row has now: work it out again."
        ),
        STEP_OPEN: _("%(step)s is open."),
        STEP_HELD: _("%(step)s is held: %(said)s"),
        FOUND: _("%(step)s: %(said)s."),
        QUERY_OPEN: _("The query to the design holder has no answer: %(said)s"),
        NO_INSPECTION: _("There is no second inspection that holds."),
    }
    return words[each.name] % {"step": step, "said": each.said or _("no reason given")}
