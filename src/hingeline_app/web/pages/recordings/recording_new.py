"""A recording comes in: a file of any kind, or what the sensors of the device in hand measured."""

from __future__ import annotations

from contextlib import nullcontext
from functools import partial
from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline_app.evidence import arriving
from hingeline_app.records.actions.recordings import take_recording_in
from hingeline_app.records.queries.recordings import subjects
from hingeline_app.records.roles import Act
from hingeline_app.records.write_door import Command
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not, viewer_of
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.recordings import NewRecordingForm
from hingeline_app.web.pages.acts import done
from hingeline_app.web.requests import visit_of
from hingeline_app.web.uploads import LookedAt, looked_at, on_disk, taken_in

HERE = {"here": "recordings"}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def recording_new(request: HttpRequest) -> HttpResponse:
    """Take a file in."""
    return _page(request, "web/recording_new.html", "")


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def recording_sensors(request: HttpRequest) -> HttpResponse:
    """Take in what the sensors of this device measured, as a table."""
    return _page(request, "web/recording_sensors.html", "sensor")


def _page(request: HttpRequest, template: str, kind: str) -> HttpResponse:
    refuse_who_may_not(request, Act.WORK)
    offered = subjects(viewer_of(request))
    if request.method == "POST":
        part_of = partial(arriving.arrived, Path(settings.DATA_FOLDER), sender_of(request))
        form = NewRecordingForm(request.POST, request.FILES, subjects=offered, part_of=part_of)
        kept: list[Any] = []
        if done(request, form, lambda: kept.append(_take(request, form, kind)), _("The recording was kept.")):
            return redirect("recording", kept[0].number) if kept else redirect("recordings")
    else:
        wanted = {"of": request.GET.get("of", "")}
        form = begun(request, NewRecordingForm, wanted, subjects=offered)
    here_in_part = arriving.begun(Path(settings.DATA_FOLDER), sender_of(request))
    by_pin = request.tablet and visit_of(request).actor.account.pin  # type: ignore[attr-defined, union-attr]
    context = {**HERE, "form": form, "subjects": offered, "begun": here_in_part, "by_pin": by_pin}
    return render(request, template, context, status=422 if form.errors else 200)


def _take(request: HttpRequest, form: NewRecordingForm, kind: str) -> Any:
    said = form.cleaned_data
    part = said["part"]
    name = part.name if part else Path(str(said["file"].name)).name
    with on_disk(said["file"]) if part is None else nullcontext(part.path) as path:
        looked = looked_at(path, name)
        if kind == "sensor" and looked.kind == "table":
            looked = LookedAt(kind, {})
        about = {"taken_on": said["taken_on"], "remark": said["remark"], "expected_digest": said["digest"]}
        taken = taken_in(path, name, looked, **about)
        body = {"of": said["of"], "name": name, "size": taken.size, "remark": said["remark"]}
        command = Command(str(said["command_key"]), body) if said["command_key"] else None
        kept = take_recording_in(visit_of(request).actor, form.about, taken, command=command)
    arriving.forget(Path(settings.DATA_FOLDER), sender_of(request), said["arrived"])
    return kept


def sender_of(request: HttpRequest) -> str:
    """Give whose files on their way these are: nobody reaches those of another person."""
    return str(viewer_of(request).pk.hex)
