"""For which job a sum of the workshop is asked, what it begins with, and where its numbers are handed over to."""

from __future__ import annotations

import json
from collections.abc import Mapping
from typing import Any

from django.http import HttpRequest
from django.urls import reverse
from django.utils.http import urlencode

from hingeline.errors import InputRefused
from hingeline_app.bench.weighing.weighing_of import weighed, weighing_text
from hingeline_app.records.plain_places import value_at
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.matter import OPEN
from hingeline_app.records.queries.standing import may
from hingeline_app.records.queries.visible import Nowhere
from hingeline_app.records.roles import Act
from hingeline_app.report.quantities import value_of
from hingeline_app.web.for_the_viewer import viewer_of


def for_a_job(request: HttpRequest, place: str) -> dict[str, Any]:
    """Give the job that the address names, and whether its numbers may be handed over; nothing without one."""
    number = request.GET.get("job", "")
    if not (number.isascii() and number.isdecimal() and len(number) < 9):
        return {}
    viewer: Any = viewer_of(request)
    try:
        job = job_of(viewer, int(number))
    except Nowhere:
        return {}
    was = value_at(job.details, place)
    may_hand_over = job.state == OPEN and may(viewer, Act.WORK).allowed
    return {"job": job, "handed_was": json.dumps(was, sort_keys=True), "may_hand_over": may_hand_over}


def coating_address(job: JobRecord) -> str:
    """Give the address of the coating plan with what the job's last weighing says."""
    asked = {"job": str(job.number), "begin": "1", "name": job.surface_name}
    return f"{reverse('coating')}?{urlencode(asked | _as_weighed(job))}"


def swing_address(job: JobRecord) -> str:
    """Give the address of the swing for the job's surface."""
    return f"{reverse('swing')}?{urlencode({'job': str(job.number), 'begin': '1', 'name': job.surface_name})}"


def _as_weighed(job: JobRecord) -> dict[str, str]:
    if job.weighing is None or job.weigh_again:
        return {}
    try:
        found = weighed(weighing_text(job, job.weighing))
    except InputRefused:
        return {}
    return as_weighed(found)


def as_weighed(found: Mapping[str, Any]) -> dict[str, str]:
    """Give what a coating plan begins with from a weighing's result: moment and its ±, limits, rule, source."""
    moment, limits = found["static_moment"], found.get("limits") or {}
    ends = {name: value_of(limits.get(name)) for name in ("lower", "upper")}
    return {
        "moment": _newton_metres(moment["value"]),
        **_as_expanded(moment["standard_uncertainty"]),
        **{name: _newton_metres(end) for name, end in ends.items() if end is not None},
        "rule": str(found.get("rule") or "simple"),
        "source": str(found.get("limits_source") or ""),
    }


def _as_expanded(standard: float | None) -> dict[str, str]:
    """Give the same standard uncertainty as the form asks for it: twice that, with k = 2."""
    return {} if standard is None else {"moment_within": _newton_metres(2.0 * standard), "moment_k": "2"}


def _newton_metres(value: float) -> str:
    """Write a moment as a page may be told it: nine digits behind the decimal mark are the most that it reads."""
    return f"{value:.9f}".rstrip("0").rstrip(".") + " N m"
