"""A work order: the jobs of one visit in the order they are best worked; one inspection, one release over all."""

from __future__ import annotations

from contextlib import suppress
from typing import Any

from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.safestring import mark_safe
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline_app.bench.arriving.order_of_work import advice, in_order_of_work
from hingeline_app.bench.arriving.plan_of import places_of
from hingeline_app.bench.bench_row import bench_row
from hingeline_app.bench.on_paper.incomplete_of import is_stated
from hingeline_app.bench.steps import DONE, NOT_NEEDED, OPEN_STEP, states_of
from hingeline_app.figures.hangar.aeroplane_plan import draw_aeroplane_plan
from hingeline_app.records.actions.closing_order import close_order
from hingeline_app.records.dates import today
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.matter import OPEN, VOIDED
from hingeline_app.records.queries.orders import OrderRecord, jobs_of_order, order_of
from hingeline_app.records.queries.standing import may
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import AlreadyDone, Command
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.pages.acts import one_press
from hingeline_app.web.pages.bench.bench import on_page
from hingeline_app.web.requests import visit_of
from hingeline_app.web.steps import BY_NAME


@open_to(Who.SIGNED_IN)
@require_safe
def order_page(request: HttpRequest, number: int) -> HttpResponse:
    """Show a work order."""
    viewer: Any = viewer_of(request)
    order = _the_order(viewer, number)
    jobs = in_order_of_work((job.surface_name, job) for job in jobs_of_order(viewer, order.identifier))
    counting = [job for job in jobs if job.state != VOIDED]
    now = today(viewer.workshop)
    context = {
        "here": "bench",
        "order": order,
        "number_text": f"{order.number:04d}",
        "rows": [
            {"on_page": on_page(bench_row(job, now)), "done": _done(job), "handed": job.details.get("hand_over")}
            for job in jobs
        ],
        "advice": [_advice(each) for each in advice([job.surface_name for job in counting])],
        "picture": _picture(counting),
        "signatures": [_signature(counting, number, *each) for each in _signatures()] if counting else [],
        "is_incomplete": any(is_stated(job) for job in jobs),
        "aircraft": counting[0].aircraft if counting else None,
        "may_work": may(viewer, Act.WORK).allowed and order.closed_on is None,
        "viewer_name": viewer.name,
        "still_open": [job for job in jobs if job.state == OPEN],
    }
    return render(request, "web/order.html", context)


@open_to(Who.SIGNED_IN)
@require_POST
def order_close(request: HttpRequest, number: int) -> HttpResponse:
    """Close a work order whose jobs are all released or voided."""
    actor = visit_of(request).actor
    order = _the_order(actor.person, number)
    key = request.POST.get("command_key", "")[:80]
    command = Command(key, {"order": number, "closed": True}) if key else None
    words = _("Work order %(number)04d is closed.") % {"number": number}
    with suppress(AlreadyDone):
        one_press(request, lambda: close_order(actor, order.identifier, command), words)
    return redirect("order", number)


def _the_order(viewer: Any, number: int) -> OrderRecord:
    with or_no_page():
        return order_of(viewer, number)


def _signatures() -> list[tuple[str, str, str]]:
    return [("second-inspection", _("Second inspection"), "order-second-inspection"),
            ("release", _("Release"), "order-release")]  # fmt: skip


def _signature(jobs: list[JobRecord], number: int, step: str, word: str, over_all: str) -> dict[str, Any]:
    """Say how many jobs of the order wait for a signature, and where it is given."""
    waiting = sum(job.state == OPEN and _is_open(job, step) for job in jobs)
    return {"word": word, "waiting": waiting, "address": reverse(over_all, args=[number])}


def _done(job: JobRecord) -> str:
    """Name the steps that are behind: what somebody who takes the order over finds. Nobody did what is not needed."""
    behind = [each for each in states_of(job) if each.state in (DONE, NOT_NEEDED)]
    return ", ".join(_behind(str(BY_NAME[each.name].word), each.state) for each in behind)


def _behind(word: str, state: str) -> str:
    return word if state == DONE else _("%(step)s (not needed)") % {"step": word}


def _is_open(job: JobRecord, step: str) -> bool:
    return any(each.name == step and each.state == OPEN_STEP for each in states_of(job))


def _picture(jobs: list[JobRecord]) -> str:
    names = [job.surface_name for job in jobs]
    places = places_of(names)
    words = _("The aircraft from above. In this order: %(names)s.") % {"names": "; ".join(names)}
    return mark_safe(draw_aeroplane_plan(places, words)) if places else ""


def _advice(name: str) -> str:
    if name == "tab first":
        return _("The tab before its surface: the surface is weighed with the tab as the document asks.")
    return _("Joined halves together: what is changed on one half changes what the other may have.")
