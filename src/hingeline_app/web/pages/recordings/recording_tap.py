"""A tap on the ground: the modes of its free decay, and their lines for a flutter file; the sheet of printed marks."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from django.contrib import messages
from django.http import HttpRequest, HttpResponse
from django.shortcuts import redirect, render
from django.views.decorators.http import require_safe

import hingeline
from hingeline.document import to_document
from hingeline.errors import InputRefused, MissingExtra
from hingeline.motion import modes_by_tap
from hingeline.units import read
from hingeline_app.evidence.answer import recording_of_kept
from hingeline_app.evidence.asked import Asked, asked_of
from hingeline_app.evidence.flutter_lines import flutter_lines
from hingeline_app.evidence.words import interval_text
from hingeline_app.records.queries.recordings import RecordingRecord
from hingeline_app.web.access import Who, open_to
from hingeline_app.web.forms.refusals import sentence
from hingeline_app.web.pages.job.prints import in_its_language, paper_of
from hingeline_app.web.pages.recordings.recordings import finding_of, recording_of

HERE = {"here": "recordings"}
INTO = "into"
MARKERS = 8


@open_to(Who.SIGNED_IN)
@require_safe
def recording_tap(request: HttpRequest, number: int) -> HttpResponse:
    """Show the modes of a tap, and the lines for the fields that the address names."""
    kept = recording_of(request, number)
    fields = [each.strip() for each in request.GET.getlist(INTO) if each.strip()]
    context: dict[str, Any] = {**HERE, "recording": kept, "fields": fields}
    try:
        context |= _modes(request, kept, fields)
    except (InputRefused, MissingExtra, OSError) as refused:
        context["fault"] = _words(refused)
    return render(request, "web/recording_tap.html", context, status=422 if context.get("fault") else 200)


@open_to(Who.SIGNED_IN)
@require_safe
def recording_tap_lines(request: HttpRequest, number: int) -> HttpResponse:
    """Give the lines as a file; what cannot be written is told on the page."""
    page = recording_tap(request, number)
    kept = recording_of(request, number)
    fields = [each.strip() for each in request.GET.getlist(INTO) if each.strip()]
    if page.status_code != 200 or not fields:
        return page
    lines = flutter_lines(_document(request, kept), fields, kept.digest)
    response = HttpResponse(lines, content_type="application/toml; charset=utf-8")
    response["Content-Disposition"] = f'attachment; filename="recording-{number}-modes.toml"'
    return response


@open_to(Who.SIGNED_IN)
@require_safe
def marks_sheet(request: HttpRequest) -> HttpResponse:
    """Give the sheet of marks to print and cut out."""
    from hingeline_app.recordings.markers import pattern
    from hingeline_app.report.marker_sheet import make_marker_sheet

    try:
        side, dot = (
            1000.0 * float(read(request.GET.get(name, usual), "length", field=name))
            for name, usual in (("side", "30 mm"), ("dot", "10 mm"))
        )
        now = datetime.now(UTC).replace(microsecond=0)
        patterns = {number: pattern(number) for number in range(MARKERS)}
        with in_its_language(request):
            pdf = make_marker_sheet(patterns, side, dot, now, hingeline.__version__, paper_of(request))
    except InputRefused as refused:
        messages.error(request, _words(refused))
        return redirect("recording-new")
    response = HttpResponse(pdf, content_type="application/pdf")
    response["Content-Disposition"] = 'attachment; filename="marks.pdf"'
    return response


def _document(request: HttpRequest, kept: RecordingRecord) -> dict[str, Any]:
    """Read the modes as the recording was read when it was judged, or as its header says."""
    finding = finding_of(request, kept)
    asked, tracks = (Asked(), None) if finding is None else (asked_of(finding.asked), finding.tracks)
    return to_document(modes_by_tap(recording_of_kept(kept.file, tracks, asked, kept.name)))


def _modes(request: HttpRequest, kept: RecordingRecord, fields: list[str]) -> dict[str, Any]:
    document = _document(request, kept)
    rows = [
        (index, interval_text(each["frequency"]), interval_text(each["damping_ratio"]))
        for index, each in enumerate(document["modes"], 1)
    ]
    shown: dict[str, Any] = {"tap": document, "modes": rows, "explained": 100.0 * document["explained"]}
    if fields:
        shown["lines"] = flutter_lines(document, fields, kept.digest)
    return shown


def _words(refused: Exception) -> str:
    if isinstance(refused, InputRefused):
        return " ".join(f"{each.field}: {sentence(each)}" for each in refused.refusals)[:500]
    return str(refused)[:500]
