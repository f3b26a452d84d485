"""Marks are placed on the first picture of a video; sent, they are followed."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from django.conf import settings
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.utils.translation import gettext as _
from django.views.decorators.http import require_http_methods

from hingeline_app.evidence import runs
from hingeline_app.evidence.asked import Asked, asked_of
from hingeline_app.files.marks_file import read_marks
from hingeline_app.records.queries.recordings import RecordingRecord
from hingeline_app.records.roles import Act
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.for_the_viewer import refuse_who_may_not
from hingeline_app.web.forms.page_form import begun
from hingeline_app.web.forms.recordings import MOST_PLACED, MarksForm
from hingeline_app.web.long_work import our_way
from hingeline_app.web.pages.acts import done
from hingeline_app.web.pages.recordings.recording_following import run_of
from hingeline_app.web.pages.recordings.recordings import recording_of

HERE = {"here": "recordings"}


@open_to(Who.SIGNED_IN)
@require_http_methods(["GET", "HEAD", "POST"])
def recording_marks(request: HttpRequest, number: int) -> HttpResponse:
    """Place marks, and have them followed."""
    kept = recording_of(request, number)
    refuse_who_may_not(request, Act.WORK)
    if kept.kind != "video":
        return redirect("recording", number)
    if request.method == "POST":
        form = MarksForm(request.POST, request.FILES)
        data = Path(settings.DATA_FOLDER)
        started = done(
            request, form,
            lambda: runs.start(data, str(kept.identifier), kept.file, kept.name, form.asked, our_way()),
            _("The marks are being followed."),
        )  # fmt: skip
        if started:
            return redirect("recording", number)
    else:
        form = begun(request, MarksForm, _placed_before(kept))
    context = {**HERE, "recording": kept, "form": form, "size": kept.details.get("size", [0, 0])}
    return render(request, "web/recording_marks.html", context, status=422 if form.errors else 200)


def _placed_before(kept: RecordingRecord) -> dict[str, Any]:
    """Start from the marks of the last time; without one, from the printed markers that were found."""
    run = run_of(kept)
    asked = run.asked if run else asked_of(kept.findings[0].asked) if kept.findings else None
    if asked and asked.marks:
        return _as_fields(asked)
    markers = kept.details.get("markers", [])[:MOST_PLACED]
    found: dict[str, Any] = {}
    for at, (number, x, y) in enumerate(markers, 1):
        found |= {f"kind_{at}": "marker", f"number_{at}": number, f"name_{at}": f"marker {number}"}
        found |= {f"x_{at}": round(x, 1), f"y_{at}": round(y, 1)}
    return found


def _as_fields(asked: Asked) -> dict[str, Any]:
    marks = read_marks(asked.marks.encode())
    fields: dict[str, Any] = {"nose": marks.nose, "camera": marks.camera, "captured_at": asked.captured_at or ""}
    fields["time"] = "unknown" if asked.time_unknown else "given" if asked.captured_at else "file"
    if marks.scale is not None:
        fields["length"] = getattr(marks.scale.length, "text", f"{marks.scale.length} m")
    if marks.reference is not None:
        fields["reference"] = f"{marks.reference[0]:.2f} {marks.reference[1]:.2f}"
    if marks.readout is not None:
        fields["readout"] = getattr(marks.readout, "text", f"{marks.readout} s")
    for at, mark in enumerate(marks.marks[:MOST_PLACED], 1):
        fields |= {f"name_{at}": mark.name, f"kind_{at}": mark.kind, f"on_{at}": mark.on, f"number_{at}": mark.number}
        if mark.at is not None:
            fields |= {f"x_{at}": mark.at[0], f"y_{at}": mark.at[1]}
    return fields
