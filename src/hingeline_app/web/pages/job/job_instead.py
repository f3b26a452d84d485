"""A job that cannot go on as it was opened: the wrong surface, another piece fitted, nothing to be done."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any
from uuid import UUID

from django.http import Http404, HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline_app.records.actions.jobs import void_job
from hingeline_app.records.actions.opening import go_on_elsewhere, swap_surface
from hingeline_app.records.queries.jobs import JobRecord
from hingeline_app.records.queries.surfaces import free_surfaces
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import viewer_of
from hingeline_app.web.forms.jobs import ElsewhereForm, SwapForm, VoidForm
from hingeline_app.web.forms.page_form import PageForm
from hingeline_app.web.pages.acts import command_of, done
from hingeline_app.web.pages.job.job import the_job
from hingeline_app.web.requests import visit_of

Act = Callable[[Any, JobRecord, PageForm], Any]


def _elsewhere(actor: Any, job: JobRecord, form: PageForm) -> Any:
    said = form.cleaned_data
    return go_on_elsewhere(actor, job.identifier, UUID(said["surface"]), said["reason"], command_of(form))


def _swap(actor: Any, job: JobRecord, form: PageForm) -> Any:
    said = form.cleaned_data
    return swap_surface(actor, job.identifier, said["serial_number"], said["reason"], command_of(form))


def _void(actor: Any, job: JobRecord, form: PageForm) -> Any:
    return void_job(actor, job.identifier, form.cleaned_data["reason"], command_of(form))


ACTS: dict[str, Act] = {"elsewhere": _elsewhere, "swap": _swap, "void": _void}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def job_instead(request: HttpRequest, number: int) -> HttpResponse:
    """Offer the three ways out, and take one."""
    job = the_job(request, number)
    which = request.POST.get("which", "")
    if request.method == "POST" and which not in ACTS:
        raise Http404
    forms = _forms(request, which)
    kept: list[Any] = []
    if which:
        actor, act, form = visit_of(request).actor, ACTS[which], forms[which]
        if done(request, form, lambda: kept.append(act(actor, job, form)), _("Job %(number)04d is voided; it stays "
                "readable.") % {"number": number}):  # fmt: skip
            return _on(kept)
    sent = forms.get(which)
    context = {"here": "bench", "job": job, "number_text": f"{number:04d}", "forms": forms, "form": sent}
    return render(request, "web/job_instead.html", context, status=422 if sent is not None and sent.errors else 200)


def _forms(request: HttpRequest, which: str) -> dict[str, PageForm]:
    viewer: Any = viewer_of(request)
    free = [(str(each), name) for each, name in free_surfaces(viewer)]

    def sent(name: str) -> Any:
        return request.POST if name == which else None

    return {
        "elsewhere": ElsewhereForm(sent("elsewhere"), surfaces=free, auto_id="elsewhere-%s"),
        "swap": SwapForm(sent("swap"), auto_id="swap-%s"),
        "void": VoidForm(sent("void"), auto_id="void-%s"),
    }


def _on(kept: list[Any]) -> HttpResponse:
    """Go on at the job that was opened instead; else to the bench."""
    opened = kept[0] if kept and kept[0].state == "open" else None
    return redirect("job-step", opened.number, "arrive") if opened else redirect("bench")
