"""The job: its eight steps, each with an address of its own, and the one address where entries come in."""

from __future__ import annotations

from typing import Any
from urllib.parse import urlencode
from uuid import UUID

from django.contrib import messages
from django.http import Http404, HttpRequest, HttpResponse, JsonResponse
from django.shortcuts import redirect, render
from django.urls import reverse
from django.utils.translation import gettext as _
from django.views.decorators.http import require_POST, require_safe

from hingeline_app.bench.steps import next_step, states_of
from hingeline_app.records.queries.jobs import JobRecord, job_of
from hingeline_app.records.queries.matter import INSPECTION
from hingeline_app.records.queries.photographs import PAGE
from hingeline_app.records.queries.undo import last_undoable
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.entries import KEPT, REFUSED, Outcome, carry_out
from hingeline_app.web.for_the_viewer import or_no_page, viewer_of
from hingeline_app.web.steps import BY_NAME, STEPS

HERE = {"here": "bench"}
TYPED_TO_BEGIN = frozenset({
    "way", "scale", "stand", "support.0.arm", "support.0.side", "support.0.tare", "surface.mass",
    "surface.vertical_offset",
})  # fmt: skip


# The step on which an entry stands that leads on to another one.
LEADS_ON_FROM = {"statement": "weigh", "fitted": "correct"}


@open_to(Who.SIGNED_IN)
@require_safe
def job_page(request: HttpRequest, number: int) -> HttpResponse:
    """Send to the step where the next thing is to be done."""
    return redirect("job-step", number, next_step(the_job(request, number)))


@open_to(Who.SIGNED_IN)
@require_safe
def job_step(request: HttpRequest, number: int, step: str) -> HttpResponse:
    """Show one step."""
    if step not in BY_NAME:
        raise Http404
    job = the_job(request, number)
    return render(request, BY_NAME[step].template, step_context(request, job, step))


@open_to(Who.SIGNED_IN)
@require_POST
def job_entry(request: HttpRequest, number: int) -> HttpResponse:
    """Take one entry: answered as data where the tablet's queue sent it, with the page again where a form did."""
    with or_no_page():
        outcome = carry_out(request, number)
    if request.headers.get("X-Entry"):
        return JsonResponse(outcome.as_data(), status=outcome.status)
    return _page_again(request, number, outcome)


def the_job(request: HttpRequest, number: int) -> JobRecord:
    """Find the job for who asks.

    Raises
    ------
    Http404
        There is none for this person.
    """
    with or_no_page():
        return job_of(viewer_of(request), number)


def step_context(request: HttpRequest, job: JobRecord, name: str) -> dict[str, Any]:
    """Gather what the frame of a step and its sheet show."""
    place = [step.name for step in STEPS].index(name)
    states = states_of(job)
    words = {"open": _("open"), "done": _("done"), "held": _("held"), "not needed": _("not needed")}
    return {
        **HERE,
        "job": job,
        "number_text": f"{job.number:04d}",
        "step": STEPS[place],
        "place": place + 1,
        "step_before": STEPS[place - 1] if place else None,
        "step_after": STEPS[place + 1] if place + 1 < len(STEPS) else None,
        "steps": [
            {"step": step, "state": state.state, "state_word": words[state.state]}
            for step, state in zip(STEPS, states, strict=True)
        ],
        "undo": last_undoable(viewer_of(request), job),
        **STEPS[place].shown(request, job),
    }


def step_of_photographs(kind: str, remark: str) -> Any:
    """Give the step where a photograph belongs: by its kind, or the word that its remark begins with."""
    own = {INSPECTION: "second-inspection", PAGE: "release"}.get(kind)
    word = remark.partition(",")[0]
    return BY_NAME[own or (word if word in ("arm", "refit") else "arrive")]


def _page_again(request: HttpRequest, number: int, outcome: Outcome) -> HttpResponse:
    kind, step = request.POST.get("kind", ""), request.POST.get("step", "")
    if outcome.state != KEPT:
        # What was refused is told where it can be mended, not on the step that it would have led to.
        step = LEADS_ON_FROM.get(kind, step)
    for sentence in outcome.sentences:
        messages.error(request, sentence)
    photograph = _photograph(request.POST.get("photograph", ""))
    if photograph is not None:
        return redirect("job-photograph", number, photograph)
    if outcome.state == REFUSED and kind == "begin-weighing":
        return redirect(f"{reverse('job-step', args=[number, 'weigh'])}?{_typed_to_begin(request)}")
    return redirect("job-step", number, step) if step in BY_NAME else redirect("job", number)


def _typed_to_begin(request: HttpRequest) -> str:
    """Give what a weighing was to begin with as the form's own address: what was typed is never cleared."""
    typed = {name: value for name, value in request.POST.items() if name in TYPED_TO_BEGIN}
    return urlencode({"new": "1", **typed})


def _photograph(text: str) -> UUID | None:
    """Name the photograph that an entry was about; None where it was about none."""
    try:
        return UUID(text)
    except ValueError:
        return None
